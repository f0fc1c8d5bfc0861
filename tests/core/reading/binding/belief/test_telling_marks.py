"""A mark behind a surface may only tell which surfaces are meant, and one before a colon only labels what is said of it."""

from __future__ import annotations

import pytest

from reads import said

LEGEND = "PT-1: two coats eggshell, color Linen.\nPT-2: two coats satin, color Sage.\n"


@pytest.mark.parametrize(
    ("text", "gives"),
    [
        ("Walls with PT-1: three coats.", False),
        ("Walls with PT-1 get three coats.", False),
        ("Walls with PT-1 take one coat more, three coats in all.", False),
        ("Walls of hall with PT-1.", True),
        ("Hall walls: PT-1.", True),
        ("Screws on ceilings: 8 in. o.c. PT-1: color Oat.", False),
        ("Screws on ceilings: 8 in. o.c. PT-1: hall walls.", True),
    ],
)
def test_a_mark_that_only_tells_which_is_meant_is_given_to_no_place(text: str, gives: bool) -> None:
    given = [rule for rule in said(LEGEND + text) if rule.startswith("system of finish paint")]
    assert any("PT-1" in rule for rule in given) is gives
