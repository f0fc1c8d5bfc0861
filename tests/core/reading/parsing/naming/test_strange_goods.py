"""Goods of others: a general noun with a word that no list knows before it, or joined to it."""

from __future__ import annotations

import pytest

from darby.reading.parsing.naming.strange_goods import with_strange_goods
from darby.reading.parsing.tagging.tag import Tag

KNOWN = {"two", "acrylic", "apply", "wall"}


def told(text: str) -> list[tuple[str, str]]:
    """The tag that `wax` becomes in a text, and the letters under it."""
    at = text.lower().index("wax")
    tags = with_strange_goods([Tag(at, at + 3, "subject", "wax")], text, {"wax"}, {"floor"}, KNOWN.__contains__)
    return [(t.name, text[t.start : t.end]) for t in tags]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("two coats of wax", ("subject", "wax")),
        ("acrylic wax", ("subject", "wax")),
        ("grobbling wax", ("ASIDE", "grobbling wax")),
        ("grobble wax", ("ASIDE", "grobble wax")),
        ("floor wax", ("ASIDE", "floor wax")),
        ("Grobble wax", ("subject", "wax")),
        ("Grobble Wax", ("ASIDE", "Grobble Wax")),
        ("Grobbling wax", ("ASIDE", "Grobbling wax")),
        ("wax-hardener", ("ASIDE", "wax-hardener")),
        ("wax-wall", ("subject", "wax")),
        ("wax-coated", ("subject", "wax")),
        ("grobble, wax", ("subject", "wax")),
    ],
)
def test_a_word_that_nobody_knows_makes_it_the_name_of_something_else(text: str, found: tuple[str, str]) -> None:
    assert told(text) == [found]


def test_a_word_that_is_tagged_already_is_known() -> None:
    tags = [Tag(0, 7, "sheen", "grobble"), Tag(8, 11, "subject", "wax")]
    assert with_strange_goods(list(tags), "grobble wax", {"wax"}, set(), KNOWN.__contains__) == tags


def test_a_noun_that_is_not_general_stays_what_it_is() -> None:
    tags = [Tag(8, 11, "subject", "wax")]
    assert with_strange_goods(list(tags), "grobble wax", set(), set(), KNOWN.__contains__) == tags
