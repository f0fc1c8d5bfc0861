"""Codes by their pattern, and why each is no quantity."""

from __future__ import annotations

import pytest

from darby.reading.parsing.codes import DIGIT_CODE, LETTER_CODE, SIGN_CODE, mended, reason_of


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
