"""One content in many sentences: however it is put, the same walls have the same coats, and what is left out is left out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

import pytest

from darby.rules.cascade import RuleBook
from reads import read_text

GOODS = "finish paint"
ROOMS = ("foyer", "attic", "vestry", "nave")
Walls = Mapping[str, int | None]
SAME: Walls = {"foyer": 2, "attic": 2, "vestry": 2, "nave": 2}

CONTENTS: dict[str, tuple[Walls, Sequence[str]]] = {
    "left out": (
        {**SAME, "attic": None},
        (
            "Two coats of eggshell on walls. No paint in the attic.",
            "Two coats of eggshell on walls. Attic not painted.",
            "Two coats of eggshell on walls, nothing in the attic.",
            "Two coats of eggshell on walls; none in the attic.",
            "Two coats of eggshell on walls, not the attic.",
            "All walls receive two coats of eggshell, the attic walls none.",
            "All walls receive two coats of eggshell. Omit the attic.",
            "Paint walls two coats eggshell. Leave attic walls bare.",
            "Paint walls two coats eggshell, attic walls by others.",
            "Paint walls two coats eggshell. Attic walls are prefinished.",
            "Paint walls two coats eggshell. Attic walls: existing to remain.",
            "Walls: 2 cts eggshell\nAttic: none",
            "Attic walls unpainted, all other walls two coats eggshell.",
            "Walls two coats of eggshell. This does not apply to the attic.",
        ),
    ),
    "another count": (
        {**SAME, "attic": 3},
        (
            "Walls: two coats eggshell, three in the attic.",
            "Walls two coats eggshell; attic three coats.",
            "Walls two coats eggshell, but three in the attic.",
            "Two coats eggshell on walls but three in the attic.",
            "Two coats of eggshell for all walls with three in the attic.",
            "Attic walls three coats eggshell, elsewhere two.",
            "Attic walls three coats eggshell, the rest two.",
            "Attic walls three coats eggshell, remaining walls two.",
            "Attic walls three coats eggshell; two coats everywhere else.",
            "Attic walls: three coats eggshell. All other walls: two coats eggshell.",
            "Attic walls: three coats eggshell. Rest: two coats.",
            "Three coats of eggshell on the attic walls and two on the rest.",
            "Give the attic walls three coats of eggshell and all other walls two.",
            "Walls receive two coats of eggshell. Those in the attic receive three.",
            "Walls receive two coats of eggshell. In the attic they receive three.",
            "Walls (except attic): two coats eggshell. Attic walls: three coats eggshell.",
        ),
    ),
    "two rooms": (
        {"foyer": 2, "attic": 3, "vestry": None, "nave": None},
        (
            "Two coats eggshell on foyer walls, three on attic walls.",
            "Walls in the foyer and attic: two and three coats eggshell respectively.",
            "Foyer: two coats eggshell on walls. Attic: three.",
            "In the foyer walls get two coats of eggshell. In the attic they get three.",
            "Two coats of eggshell to foyer walls while attic walls get three.",
            "Paint the foyer walls with two coats of eggshell and the attic walls with three.",
            "Two coats of eggshell: foyer walls. Three coats: attic walls.",
            "Foyer walls: 2 cts eggshell\nAttic walls: 3 cts eggshell",
            "Foyer (two coats eggshell on walls), attic (three coats eggshell on walls).",
        ),
    ),
    "only there": (
        {"foyer": 2, "attic": 2, "vestry": None, "nave": None},
        (
            "Two coats eggshell on walls in the foyer and attic, not the nave.",
            "Foyer and attic walls: two coats eggshell. Nave: none.",
            "Walls: two coats eggshell, foyer and attic only.",
            "Only the foyer and the attic get two coats of eggshell on walls.",
            "Paint walls two coats eggshell in the following rooms: foyer and attic.",
            "Apply two coats of eggshell. Location: foyer and attic walls.",
            "Foyer and attic walls two coats eggshell. Everything else is prefinished.",
        ),
    ),
}  # fmt: skip


@pytest.mark.parametrize(("content", "text"), [(c, t) for c, (_, texts) in CONTENTS.items() for t in texts])
def test_a_content_is_read_alike_however_it_is_put(content: str, text: str) -> None:
    book = RuleBook(read_text(text).rules, rooms=ROOMS)
    assert {room: _coats(book, room, "wall") for room in ROOMS} == CONTENTS[content][0]
    assert not any(_coats(book, room, "ceiling") for room in ROOMS)


def _coats(book: RuleBook, room: str, surface: str) -> int | None:
    """How many coats a surface of a room gets; none where they are left out, or nothing is said."""
    about = {"room": room, "surface": surface}
    answer, left = (book.ask(kind, GOODS, about, take=("sheen",)) for kind in ("coats", "replaced"))
    if answer is None or (left is not None and not book.outranks(answer.rule, left.rule, about)):
        return None
    assert answer.rule.amount.value == Fraction(int(answer.rule.amount.value))
    return int(answer.rule.amount.value)
