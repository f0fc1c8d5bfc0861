"""Coats that name nothing, beside a count of what they go over or are added to."""

from __future__ import annotations

import pytest

from reads import said

FINISH, PRIMER = "coats of finish paint (surface wall): 2", "coats of primer (surface wall): 1"


@pytest.mark.parametrize(
    "text",
    [
        "2 coats on 1 primer on walls.",
        "Walls: 2 coats on 1 coat primer.",
        "Two coats on one coat of sealer to all walls.",
        "2 coats over 1 coat primer to walls.",
    ],
)
def test_coats_over_a_count_of_something_else_are_of_the_finish(text: str) -> None:
    assert sorted(said(text)) == sorted((FINISH, PRIMER))


def test_coats_on_what_takes_none_are_of_nobody() -> None:
    assert said("Walls: 3 coats on 2 layers of board.") == ["layers of gypsum board (surface wall): 2"]
