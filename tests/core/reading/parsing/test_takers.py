"""Nouns that no list knows and that take a number away."""

from __future__ import annotations

import pytest

from darby.reading.parsing.takers import with_takers
from reads import language


def taker(text: str) -> str:
    """The noun that takes the first fact of a text."""
    words = language().lexicon
    (reader,) = (one for one in language().readers if one.name == "facts")
    tags = words.tags(text)
    return with_takers(list(reader.facts(tags, text)), tags, text, words.knows)[0].taker


@pytest.mark.parametrize(
    ("text", "noun"),
    [
        ("24 x 36 in. placards", "placards"),
        ("Pinboard 4 ft x 8 ft", "Pinboard"),
        ("the pegboard 3/4 in. thick", "pegboard"),
        ("two coats of beeswax", "beeswax"),
        ("a locker: 12 in. wide gizmos", "gizmos"),
    ],
)
def test_a_noun_that_nobody_knows_takes_the_number(text: str, noun: str) -> None:
    assert taker(text) == noun


@pytest.mark.parametrize(
    "text",
    [
        "two coats of Kelder matt emulsion",  # a known noun is the head of the words before it
        "Brush two coats",  # a word that opens a sentence may be a verb
        "5/8 in. thick, screwed",
        "two coats freshly stirred",
        "1/2 in. gypsum board",
        "350 sq ft per gal of beeswax",  # a rate says of what it is by itself
        "two coats on walls",
    ],
)
def test_a_number_that_no_such_noun_stands_beside_is_left_alone(text: str) -> None:
    assert taker(text) == ""


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("the glossing compound", "ASIDE"),
        ("QUILT BOARD", "ASIDE"),
        ("Sealer-hardener", "ASIDE"),
        ("the taping compound", "subject"),
        ("Feather compound wide", "subject"),  # a verb
        ("under Gyproom board", "subject"),  # a maker's name
        ("gyp- sum board", "subject"),  # a word cut in two
    ],
)
def test_a_word_that_nobody_knows_before_a_general_noun_makes_other_goods(text: str, name: str) -> None:
    assert name in [t.name for t in language().lexicon.tags(text)]
    assert ("ASIDE" in [t.name for t in language().lexicon.tags(text)]) is (name == "ASIDE")
