"""Bare numbers and percentages: coats, shares, and numbers that have the unit of another."""

from __future__ import annotations

import pytest

from reads import left, said

READ = {
    "Waste: board 10 %, primer 5 %.":
        ["waste of gypsum board: 10 %", "waste of primer: 5 %"],
    "Solids by volume of primer: 40 %.":
        ["solids of primer: 40 %"],
    "One primer, two satin on walls.":
        ["coats of primer (surface wall): 1", "coats of finish paint (sheen satin, surface wall): 2"],
    "Room | Coats | Sheen\nHall | 2 | satin\nBath | 3 | gloss":
        ["coats of finish paint (room hall, sheen satin): 2", "coats of finish paint (room bath, sheen gloss): 3"],
}  # fmt: skip


@pytest.mark.parametrize("text", READ)
def test_it_is_what_its_size_and_the_words_around_it_say(text: str) -> None:
    assert said(text) == READ[text]


LEFT = {
    "Walls: 5 %.": {"5": "a percentage, and nothing says of what"},
    "Walls: 7.": {"7": "a number without a unit"},
}  # fmt: skip


@pytest.mark.parametrize("text", LEFT)
def test_what_nothing_settles_is_left_with_the_reason(text: str) -> None:
    assert left(text) == LEFT[text]
