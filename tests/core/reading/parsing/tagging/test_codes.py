"""Codes of a text, and numbers that a scanner damaged."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.reading.parsing.tagging.codes import DIGIT_CODE, LETTER_CODE, SIGN_CODE, mended, reason_of
from darby.reading.parsing.tagging.tag import Tag
from reads import language


def tags(text: str) -> list[Tag]:
    return language().lexicon.tags(text)


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
    ("text", "number"),
    [("l/2 in.", Fraction(1, 2)), ("25O sq ft", Fraction(250)), ("5I8 in.", Fraction(5, 8)), ("I6 in.", Fraction(16))],
)
def test_a_scanned_number_with_one_reading_is_read(text: str, number: Fraction) -> None:
    assert (tags(text)[0].name, tags(text)[0].number) == ("NUMBER", number)


@pytest.mark.parametrize("text", ["3S0 sq ft", "1I2 in.", "1 Y4 in."])
def test_a_scanned_number_with_two_readings_is_damaged(text: str) -> None:
    assert tags(text)[0].name == "DAMAGED"


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("ASTM C1396/C1396M", "a standard"), ("AS/NZS 2588", "a standard"), ("JIS A 6901", "a standard"), ("IS:2095", "a standard"),
        ("IS 2095 (Part 1)", "a standard"), ("No. 6 x 32", "a gauge"), ("L/360", "a deflection limit"), ("PT-1", "a mark"),
        ("09 29 00", "a section number"), ("2024-03-04", "a date"), ("3.2.1", "a paragraph number"), ("1:3", "a ratio"),
        ("#6 x 1-1/4", "a gauge"), ("#4402", "the number of a product or note"),
    ],
)  # fmt: skip
def test_a_code_says_why_it_is_no_quantity(text: str, why: str) -> None:
    pattern = LETTER_CODE if text[0].isalpha() else DIGIT_CODE if text[0].isdigit() else SIGN_CODE
    code = pattern.match(text)
    assert code is not None
    assert reason_of(code) == why


@pytest.mark.parametrize("text", ["IS 12 INCHES", "IS 600 MM", "No. 6"])
def test_what_only_begins_like_a_code_is_none(text: str) -> None:
    assert LETTER_CODE.match(text) is None


@pytest.mark.parametrize(
    ("said", "meant"),
    [("5I8", "5/8"), ("1-3I8", "1-3/8"), ("l/2", "1/2"), ("25O", "250"), ("7/B", "7/8"), ("1I2", "1I2")],
)
def test_a_scanned_number_is_mended_where_one_reading_is_left(said: str, meant: str) -> None:
    assert mended(said) == meant
