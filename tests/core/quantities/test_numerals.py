"""Numbers as people write them."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from darby.quantities.numerals import NUMBER, ORDINALS, SPELLED, VULGAR, WORDS, exact, rounded, spelled, value_of

_fractions = st.fractions(min_value=-(10**12), max_value=10**12, max_denominator=10**12)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("250", "250"), ("0.45", "9/20"), (".5", "1/2"), ("1,200", "1200"), ("1,234,567.25", "4938269/4"),
        ("1\u00a0200", "1200"), ("1\u202f200", "1200"), ("5/8", "5/8"), ("5⁄8", "5/8"), ("1-1/8", "9/8"), ("1 1/8", "9/8"),
        ("1 1⁄8", "9/8"), ("1‑1/8", "9/8"), ("1- 1/8", "9/8"), ("½", "1/2"), ("2½", "5/2"), ("2 ½", "5/2"), ("2-½", "5/2"),
        ("twelve", "12"), ("Two", "2"), ("twenty-five", "25"), ("twenty five", "25"), ("ninety-nine", "99"),
        ("one half", "1/2"), ("three-quarters", "3/4"), ("three eighths", "3/8"), ("one hundred", "100"), ("zero", "0"),
        ("-3", "-3"), ("−3", "-3"), ("-8 1/3", "-25/3"), ("-1/3", "-1/3"), ("-½", "-1/2"), ("-0.25", "-1/4"),
    ],
)  # fmt: skip
def test_numbers_read_to_their_exact_value(text: str, value: str) -> None:
    assert value_of(text) == Fraction(value)


@pytest.mark.parametrize(
    "text",
    ["", " ", "-", "--1", "1/0", "5 1/0", "0/0", "abc", "1e5", "1_000", "nan", "inf", "1/2/3", "3/4 1/2", "٣", "²", "1.", "1.2.3",
     "9" * 5000, "9" * 5000 + "/2", "1/" + "9" * 5000],
)  # fmt: skip
def test_what_is_no_number_reads_as_none(text: str) -> None:
    assert value_of(text) is None


@pytest.mark.parametrize(
    "text", ["5/8", "1-1/8", "1 1/8", "1 1⁄8", "½", "2½", "2 ½", "1,200", "12.5", ".5", "250", "1,234,567"]
)
def test_the_pattern_takes_a_number_whole(text: str) -> None:
    found = re.match(NUMBER, text + " x")
    assert found is not None
    assert found[0] == text


@pytest.mark.parametrize("text", ["1" * 16, "1" * 100_000, "٣", "1/12345"])
def test_the_pattern_takes_no_part_of_what_is_no_quantity(text: str) -> None:
    found = re.match(NUMBER, text)
    assert found is None or found[0] == "1"  # of 1/12345, a whole 1 and a stray slash


@given(_fractions)
@example(Fraction(-25, 3))
@example(Fraction(-1, 3))
@example(Fraction(1, 10**7))
@example(Fraction(1, 10**8))
@example(Fraction(-5, 2))
def test_the_exact_spelling_reads_back_to_the_same_value(value: Fraction) -> None:
    assert value_of(exact(value)) == value


@given(
    st.integers(0, 9999), st.integers(1, 9999), st.integers(1, 9999), st.sampled_from([" ", "-"]), st.sampled_from("/⁄")
)
def test_mixed_numbers_read_as_the_sum_of_their_parts(whole: int, top: int, below: int, joint: str, slash: str) -> None:
    text = f"{whole}{joint}{top}{slash}{below}"
    assert value_of(text) == whole + Fraction(top, below)
    found = re.match(NUMBER, text)
    assert found is not None
    assert found[0] == text


@given(st.integers(0, 10**12), st.integers(0, 999_999))
def test_thousands_commas_change_nothing(whole: int, part: int) -> None:
    assert value_of(f"{whole:,}.{part:06d}") == Fraction(f"{whole}.{part:06d}")


@given(st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=10**6))
def test_what_is_not_whole_is_not_shown_as_whole(value: Fraction) -> None:
    shown = rounded(value)
    assert ("." in shown) is (value.denominator != 1)
    assert Fraction(shown.replace(",", "")) != round(value) or value.denominator == 1


def test_a_count_just_over_a_whole_one_shows_why_it_is_rounded_up() -> None:
    assert rounded(Fraction(24400, 4064)) == "6.004"
    assert rounded(Fraction("12.9999")) == "12.9999"
    assert rounded(Fraction("-6.0035")) == "-6.004"
    assert rounded(1 + Fraction(1, 10**15)) == "1"


@given(_fractions, st.integers(0, 4))
def test_the_rounded_spelling_is_within_half_of_its_last_place(value: Fraction, places: int) -> None:
    text = rounded(value, places)
    shown = Fraction(text.replace(",", ""))
    assert abs(shown - value) <= Fraction(1, 2 * 10**places)
    assert (shown == 0) == (value == 0) or abs(value) < Fraction(1, 10**11)


@given(st.integers(-(10**9), 10**9))
def test_whole_numbers_are_printed_whole(number: int) -> None:
    assert exact(Fraction(number)) == str(number)
    assert rounded(Fraction(number)) == f"{number:,}"


@given(st.text(max_size=30))
def test_any_text_is_a_number_or_none(text: str) -> None:
    value = value_of(text)
    assert value is None or isinstance(value, Fraction)


def test_vulgar_signs_number_words_and_ordinals_are_what_they_say() -> None:
    for sign, plain in VULGAR.items():
        assert value_of(sign) == Fraction(plain)
        assert value_of(f"3{sign}") == 3 + Fraction(plain)
    assert WORDS["nineteen"] == 19
    assert WORDS["forty-two"] == 42
    assert WORDS["five sixteenths"] == Fraction(5, 16)
    assert "four thirds" not in WORDS
    assert [ORDINALS.index(w) + 1 for w in ("first", "third", "tenth")] == [1, 3, 10]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("two hundred", 200),
        ("two hundred fifty", 250),
        ("three hundred and twenty-five", 325),
        ("twelve hundred", 1200),
        ("one thousand", 1000),
        ("one thousand two hundred", 1200),
        ("twenty-five thousand", 25000),
        ("five hundred thousand", 500000),
        ("four hundred and six", 406),
    ],
)
def test_hundreds_and_thousands_in_words_are_one_number(text: str, value: int) -> None:
    found = SPELLED.match(text)
    assert found is not None
    assert found[0] == text
    assert spelled(found[0]) == value


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("three hundred and four hundred", "three hundred"),
        ("three hundred, two coats", "three hundred"),
        ("one thousand and one hundred", "one thousand"),
    ],
)
def test_a_number_in_words_ends_where_the_next_begins(text: str, first: str) -> None:
    found = SPELLED.match(text)
    assert found is not None
    assert found[0] == first
