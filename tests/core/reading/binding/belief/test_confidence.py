"""What waits to be confirmed: out of the ordinary, far from what it is said of, or among words that nobody knows."""

from __future__ import annotations

import pytest

from reads import read_text


def confirm(text: str) -> list[str]:
    return [rule.confirm for rule in read_text(text).rules]


WAITS = {
    "Walls: 0 coats of finish paint.": "out of the ordinary: usual is 1 to 4",
    "Joint compound: 9000 lb per 100 sq ft.": "out of the ordinary: usual is 3 lb per 100 sq ft to 20 lb per 100 sq ft",
    "Quorble the frobnic quux with grimbly sheenery: two coats finish paint upon walls.":
        "much of its sentence is not understood (Quorble, frobnic, quux, grimbly ...)",
}  # fmt: skip


@pytest.mark.parametrize("text", WAITS)
def test_a_reading_on_weak_evidence_waits_with_its_reason(text: str) -> None:
    assert [why.startswith(WAITS[text]) for why in confirm(text)] == [True]


def test_four_strange_words_are_many_and_three_are_not() -> None:
    four = "Walls: two coats finish paint, quorble frobnic grimbly sheenery."
    assert confirm(four) == ["much of its sentence is not understood (quorble, frobnic, grimbly, sheenery)"]
    assert confirm(four.replace(" sheenery", "")) == [""]


def test_strange_words_of_another_sentence_count_for_nothing() -> None:
    assert confirm("Quorble the frobnic grimbly sheenery. Walls: two coats finish paint.") == [""]


def test_what_is_plain_waits_for_nobody() -> None:
    assert confirm("Walls: two coats finish paint. Primer: 300 sq ft per gallon.") == ["", ""]


def test_a_level_on_a_line_of_its_own_may_be_a_storey() -> None:
    assert confirm("Level 2\nWalls: two coats finish paint.") == ["a level on a line of its own may be a storey", ""]
    assert confirm("Finish: Level 4.\nLevel 5 at lobby walls.") == ["", ""]
