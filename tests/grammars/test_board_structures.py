"""One content of board in many structures: however rooms are headed and lines are put, the same places have the same board."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest

from reads import read_text

Board = tuple[int, str, str]
"""How many layers, how thick in inches, of which type."""
SAYS: Sequence[tuple[str, Board, Board]] = (
    ("Foyer", (2, "5/8", "type X"), (1, "1/2", "regular")),
    ("Archive", (1, "5/8", "moisture-resistant"), (2, "5/8", "type X")),
    ("Boiler Room", (3, "1/2", "type X"), (1, "5/8", "abuse-resistant")),
)
COUNTED = {1: "one layer", 2: "two layers", 3: "three layers"}
Said = set[tuple[str, str, int, str, str]]
"""Room, surface, layers, thickness, type."""


def wanted() -> Said:
    return {
        (room.lower(), surface, count, thick, kind.replace("-", " "))
        for room, *both in SAYS
        for surface, (count, thick, kind) in zip(("wall", "ceiling"), both, strict=True)
    }


def read(text: str) -> Said:
    """What a text says of board in each place: layers with the thickness and the type of the same place."""
    rules = [r for r in read_text(text).rules if r.subject == "gypsum board"]
    place = [(r, (r.scope.get("room", ""), r.scope.get("surface", ""), r.scope.get("type", ""))) for r in rules]
    return {
        (*at[:2], int(one.amount.value), str(two.amount.value), at[2])
        for one, at in place
        for two, other in place
        if one.amount is not None and two.amount is not None
        if at == other and one.kind.name == "layers" and two.kind.name == "thickness"
    }


def label(on: str, count: int, thick: str, kind: str) -> str:
    return f"{on.capitalize()}: {COUNTED[count]} of {thick} in. {kind} gypsum board"


def to(on: str, count: int, thick: str, kind: str) -> str:
    return f"{COUNTED[count].capitalize()} of {thick} in. {kind} gypsum board to {on}"


def short(on: str, count: int, thick: str, kind: str) -> str:
    return f'{count} {"layer" if count == 1 else "layers"} {thick}" {kind} GWB on {on}'


LINES: Sequence[Callable[[str, int, str, str], str]] = (label, to, short)
HEADS: dict[str, tuple[Callable[[str], str], str, str]] = {
    "capitals": (str.upper, "", "\n"),
    "capitals with nothing between": (str.upper, "", ""),
    "a name with nothing between": (str, "", ""),
    "a name with a colon": (lambda room: f"{room}:", "", "\n"),
    "a name with a colon and nothing between": (lambda room: f"{room}:", "", ""),
    "a name with a colon over lines set in": (lambda room: f"{room}:", "   ", ""),
    "bullets": (lambda room: f"- {room}", "  - ", ""),
}


@pytest.mark.parametrize("title", ["", "Linings at Tarn Bank\n\n"])
@pytest.mark.parametrize("line", LINES)
@pytest.mark.parametrize("head", HEADS)
def test_a_room_heads_the_board_that_is_said_below_it(
    head: str, line: Callable[[str, int, str, str], str], title: str
) -> None:
    named, before, behind = HEADS[head]
    lines = [
        "\n".join((named(room), before + line("walls", *walls), before + line("ceiling", *ceiling))) + behind
        for room, walls, ceiling in SAYS
    ]
    assert read(title + "\n".join(lines)) == wanted()
