"""Known words, numbers and signs of a text, in order, each with its place."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from darby.reading.parsing.tagging.lexer import Tagger
from darby.reading.parsing.tagging.phrase_index import PhraseIndex
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.tagging.units_behind import UnitsBehind
from reads import language


def tags(text: str) -> list[Tag]:
    return language().lexicon.tags(text)


def test_letters_that_grow_in_lower_case_move_nothing() -> None:
    text = "İİİ walls"
    [tag] = tags(text)
    assert text[tag.start : tag.end] == "walls"


def test_tags_stand_in_order_and_never_overlap() -> None:
    text = 'SHAFT WALLS: (2) LAYERS 5/8" TYPE X GYP. BD., 8\'-0" high, ASTM C840; 12m2/L @ 24" O.C.'
    found = tags(text)
    assert all(a.end <= b.start for a, b in pairwise(found))
    assert all(t.start < t.end for t in found)


def test_a_tagger_of_no_words_still_finds_numbers() -> None:
    none = PhraseIndex({})
    tagger = Tagger(none, UnitsBehind(none, {}, none, none))
    assert [(t.name, t.number) for t in tagger.tags("2 1/2 and ½")] == [
        ("NUMBER", Fraction(5, 2)),
        ("NUMBER", Fraction(1, 2)),
    ]
