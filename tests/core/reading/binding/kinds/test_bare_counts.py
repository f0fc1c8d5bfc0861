"""Numbers without a unit that count coats."""

from __future__ import annotations

import pytest

from reads import left, said


@pytest.mark.parametrize(
    ("text", "rules"),
    [
        ("Walls: 2 x acrylic.", ["coats of finish paint (class acrylic, surface wall): 2"]),
        ("Ceilings: 2 x flat", ["coats of finish paint (sheen flat, surface ceiling): 2"]),
        ("Walls: 1 x primer, 2 x eggshell", ["coats of primer (surface wall): 1", "coats of finish paint (sheen eggshell, surface wall): 2"]),
        ("Trim: two of gloss, one of undercoat.", ["coats of finish paint (sheen gloss, surface trim): 2", "coats of primer (coat undercoat, surface trim): 1"]),
        ("Walls: primer plus two.", ["coats of finish paint (surface wall): 2"]),
        ("Walls: sealer + 2", ["coats of finish paint (surface wall): 2"]),
    ],
)  # fmt: skip
def test_a_number_before_goods_or_added_to_some_counts_coats(text: str, rules: list[str]) -> None:
    assert said(text) == rules


def test_a_number_of_what_has_no_coats_counts_none() -> None:
    assert said("Walls: 2 x board.") == []
    assert left("Walls: 1 + 2.") == {"1": "a number without a unit", "2": "a number without a unit"}
