"""Codes of a text, and numbers that a scanner damaged."""

from __future__ import annotations

from fractions import Fraction

import pytest

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
