"""Money, held against the decimal module of the standard library."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.bid.prices.money import Currency, is_code, money_of, spelled

EXACT = Context(prec=60)


@given(st.integers(-(10**12), 10**12), st.integers(0, 6), st.sampled_from(["USD", "JPY", "KWD", ""]))
def test_rounding_is_that_of_the_standard_library(digits: int, places: int, code: str) -> None:
    currency = Currency(code)
    value = Decimal(digits).scaleb(-places, EXACT)
    coin = Decimal(1).scaleb(-currency.places)
    assert currency.rounded(Fraction(value)) == value.quantize(coin, ROUND_HALF_UP, EXACT)


@pytest.mark.parametrize(
    ("value", "code", "rounded"),
    [
        ("2.675", "USD", "2.68"),
        ("-2.675", "USD", "-2.68"),
        ("1.005", "USD", "1.01"),
        ("0.5", "JPY", "1"),
        ("1.2345", "KWD", "1.235"),
    ],
)
def test_half_a_coin_goes_away_from_nothing(value: str, code: str, rounded: str) -> None:
    assert str(Currency(code).rounded(Fraction(value))) == rounded


def test_a_third_is_no_decimal_and_is_rounded_all_the_same() -> None:
    assert Currency("USD").rounded(Fraction(2, 3)) == Decimal("0.67")


@given(st.decimals(-(10**6), 10**6, places=2), st.lists(st.fractions(0, 1000), min_size=1, max_size=20).filter(any))
def test_shares_make_up_the_whole_and_none_is_a_coin_off(whole: Decimal, weights: list[Fraction]) -> None:
    parts = Currency("USD").shared(whole, weights)
    assert sum(parts) == whole
    for part, weight in zip(parts, weights, strict=True):
        assert abs(Fraction(part) - Fraction(whole) * weight / sum(weights)) < Fraction(1, 100)


@pytest.mark.parametrize(
    ("text", "value", "code"),
    [
        ("24.50", "24.5", ""), ("1,250", "1250", ""), ("$18.40", "18.4", ""), ("18.40 USD", "18.4", "USD"), (".5", "0.5", ""),
        ("-3", "-3", ""), ("$ -3", "-3", ""), ("1,234,567.89", "1234567.89", ""), ("0.0325", "0.0325", ""),
    ],
)  # fmt: skip
def test_sums_as_people_write_them(text: str, value: str, code: str) -> None:
    assert money_of(text) == (Fraction(value), code)


@pytest.mark.parametrize("text", ["", "24,50", "1,25", "12.3.4", "ten", "$", "1e3", "5 gal", "12 %"])
def test_what_is_no_sum_is_none(text: str) -> None:
    assert money_of(text) is None


def test_a_currency_is_three_capitals() -> None:
    assert [is_code(code) for code in ("USD", "usd", "US$", "DOLLAR")] == [True, False, False, False]


@pytest.mark.parametrize(("value", "text"), [("18.4", "18.40"), ("12", "12"), ("0.0325", "0.0325"), ("1250", "1,250")])
def test_an_exact_price_is_shown_in_full(value: str, text: str) -> None:
    assert spelled(Fraction(value)) == text


def test_a_sum_for_the_eye() -> None:
    assert Currency("USD").shown(Decimal("12450")) == "12,450.00"
    assert Currency("JPY").shown(Decimal("12450")) == "12,450"
