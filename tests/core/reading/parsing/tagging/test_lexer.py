"""Known words, numbers, signs and codes of a text, each with its place."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from darby.reading.parsing.tagging.lexer import Tagger
from darby.reading.parsing.tagging.tag import Tag
from reads import language


def tags(text: str) -> list[Tag]:
    return language().lexicon.tags(text)


def names(text: str) -> list[str]:
    return [t.name for t in tags(text)]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("ASTM C840", "a standard"), ("GA-216", "a standard"), ("BS EN 520", "a standard"), ("09 29 00", "a section number"),
        ("3/4/2024", "a date"), ("2024-03-04", "a date"), ("March 3, 2024", "a date"), ("10:30 a.m.", "a time of day"), ("1:3", "a ratio"),
        ("555-0142", "a telephone number"), ("L/240", "a deflection limit"), ("4/A-501", "a detail or sheet mark"),
        ("3.2.1", "a paragraph number"), ("PT-1", "a mark"),
    ],
)  # fmt: skip
def test_a_code_is_one_tag_that_says_what_it_is(text: str, why: str) -> None:
    [tag] = tags(text)[:1]
    assert (tag.name, tag.value) == ("CODE", why)
    assert text.startswith(text[tag.start : tag.end])


@pytest.mark.parametrize(
    ("text", "feet"),
    [
        ("8'-0 1/2\"", Fraction(193, 24)),
        ("12 ft 6 in.", Fraction(25, 2)),
        ("8'-0\"", Fraction(8)),
        ("9' 3\"", Fraction(37, 4)),
    ],
)
def test_feet_and_their_inches_are_one_length(text: str, feet: Fraction) -> None:
    [tag] = tags(text)
    assert (tag.name, tag.number, tag.end) == ("FEET_INCHES", feet, len(text))


def test_in_is_an_inch_behind_a_number_and_else_a_preposition() -> None:
    assert "LENGTH_UNIT" not in names("in the wall")
    assert names("12 in wide") == ["NUMBER", "LENGTH_UNIT", "WIDE"]
    assert "LENGTH_UNIT" not in names("2 in each room")


def test_a_unit_glued_to_its_number_is_found() -> None:
    assert names("12m2/L") == ["NUMBER", "AREA_UNIT", "PER", "VOLUME_UNIT"]
    assert names("450mm") == ["NUMBER", "LENGTH_UNIT"]


@pytest.mark.parametrize(
    ("text", "number"),
    [("l/2 in.", Fraction(1, 2)), ("25O sq ft", Fraction(250)), ("5I8 in.", Fraction(5, 8)), ("I6 in.", Fraction(16))],
)
def test_a_scanned_number_with_one_reading_is_read(text: str, number: Fraction) -> None:
    assert (tags(text)[0].name, tags(text)[0].number) == ("NUMBER", number)


@pytest.mark.parametrize("text", ["3S0 sq ft", "1I2 in.", "1 Y4 in."])
def test_a_scanned_number_with_two_readings_is_damaged(text: str) -> None:
    assert tags(text)[0].name == "DAMAGED"


def test_the_longest_phrase_wins() -> None:
    [tag] = tags("joint compound")
    assert (tag.value, tag.start, tag.end) == ("joint compound", 0, 14)


def test_a_word_inside_a_word_is_none() -> None:
    assert tags("boardroomy") == []
    assert tags("m2x") == []


def test_case_and_wide_blanks_do_not_matter() -> None:
    assert [t.value for t in tags("JOINT   COMPOUND")] == ["joint compound"]


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
    assert [(t.name, t.number) for t in Tagger({}, {}).tags("2 1/2 and ½")] == [
        ("NUMBER", Fraction(5, 2)),
        ("NUMBER", Fraction(1, 2)),
    ]
