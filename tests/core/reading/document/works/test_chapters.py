"""A chapter whose items open with a surface is named after a place, though no list knows the word."""

from __future__ import annotations

import pytest

from reads import read_text

ITEM = "{0}  {1}\n{0}1  {2}\n\n"


def rooms(heading: str, item: str) -> set[str]:
    """The rooms of the rules of a chapter."""
    text = ITEM.format("A", heading, item) + ITEM.format("B", "LARDER", "Walls: two coats gloss.")
    return {rule.scope.get("room", "") for rule in read_text(text).rules if rule.span.line == 2}


@pytest.mark.parametrize(
    ("heading", "places"),
    [
        ("BELFRY", {"belfry"}),
        ("BELFRY AND CRYPT", {"belfry", "crypt"}),
        ("KITCHEN, BELFRY & CRYPT", {"kitchen", "belfry", "crypt"}),
        ("GENERALLY", {""}),
    ],
)
def test_the_words_of_a_chapter_are_places(heading: str, places: set[str]) -> None:
    assert rooms(heading, "Walls: two coats satin.") == places


def test_a_chapter_whose_items_open_with_goods_is_no_place() -> None:
    assert rooms("MATERIALS", "Primer: 10 m2 per litre.") == {""}
