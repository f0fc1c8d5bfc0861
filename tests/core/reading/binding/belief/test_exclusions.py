"""Numbers that are no quantity of ours: references, prices, old values, exceptions, what is forbidden or conditional."""

from __future__ import annotations

import pytest

from reads import left, said

NOT_OURS = {
    "Paint-stripper: two coats.": {"two": "goods that no list knows: whether they are ours is not said"},
    "Do not apply two coats of finish paint to walls.": {"two": "forbidden: what is not to be used"},
    "Two coats of finish paint on walls are not permitted.": {"Two": "forbidden: what is not to be used"},
    "Primer: $ 40 per gallon.": {"40": "a price"},
    "Walls: [2] [3] coats of finish paint.":
        dict.fromkeys("23", "a choice in brackets that nobody has made"),
    "Screws: within 3/8 in. of edges.": {"3/8": "a tolerance, or a distance from something"},
    "Leave 1/4 in. between board and floor.": {"1/4": "a gap or a clearance"},
    "Screws 5/8 in. into studs.": {"5/8": "a depth in the support"},
}  # fmt: skip


@pytest.mark.parametrize("text", NOT_OURS)
def test_what_is_no_quantity_of_ours_makes_no_rule_and_says_why(text: str) -> None:
    assert said(text) == []
    assert left(text) == NOT_OURS[text]


def test_of_an_order_to_change_a_number_the_new_one_is_read() -> None:
    text = 'Delete "1/2 inch" board for ceilings; insert "5/8 inch" board.'
    assert said(text) == ["thickness of gypsum board (surface ceiling): 5/8 in"]
    assert left(text) == {"1/2": "the old value, which another takes the place of"}


def test_instead_of_is_the_old_value() -> None:
    text = "Gypsum board on walls: 5/8 in. thick instead of 1/2 in."
    assert said(text) == ["thickness of gypsum board (surface wall): 5/8 in"]
    assert left(text) == {"1/2": "the old value, which another takes the place of"}


def test_a_bare_number_behind_a_word_of_references_is_a_name() -> None:
    text = "Two coats of finish paint on walls: see Pages 3 and 4."
    assert said(text) == ["coats of finish paint (surface wall): 2"]
    assert left(text) == dict.fromkeys("34", "a page number")


def test_a_level_behind_over_says_where_something_else_holds() -> None:
    assert left("Two coats over Level 4 on walls.")["4"] == "says where something else holds"
