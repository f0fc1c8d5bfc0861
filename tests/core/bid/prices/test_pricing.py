"""Which price is one for which line of an order."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bids import goods, meanings
from darby.bid.prices.money import Currency
from darby.bid.prices.price_list import read_prices
from darby.bid.prices.pricing import Goods, price_goods, unmatched
from darby.estimate.line_item import LineItem
from darby.text.spans import Source

BOARD = goods("gypsum board", "3036 sq ft", "48 sq ft", "sheet", thickness="5/8 in", sheet="4 ft x 12 ft")
"""64 sheets."""
PAINT = goods("finish paint", "9.7 gal", "1 gal", "can", sheen="satin", color="fog white", surface="wall")
"""10 cans."""
CLIPS = goods("drywall clip", "104", "100", "box")
USD = Currency("USD")


def priced(item: LineItem, *rows: str, head: str = "product,package,price", today: date | None = None) -> Goods:
    read = read_prices(Source("harbor.csv", "\n".join((head, *rows))), meanings(), "USD")
    assert not read.diagnostics
    (one,) = price_goods([item], read.rows, meanings(), USD, today)
    return one


def sums(one: Goods) -> dict[str, str]:
    return {name: str(offer.sum) for name, offer in one.offers.items()}


@pytest.mark.parametrize(
    ("row", "sum_"),
    [
        ('"5/8"" drywall 4x12",sheet,18.40', "1177.60"),
        ('"4 ft x 12 ft wallboard, 5/8 in.",48 sq ft sheet,18.40', "1177.60"),
        ('"5/8 in. drywall 4x12","per 1,000 sq ft",352', "1081.34"),
        ('"5/8 in. drywall 4x12",per sq ft,0.35', "1075.20"),
    ],
)
def test_a_price_by_the_sheet_or_by_its_measure(row: str, sum_: str) -> None:
    """64 sheets of 48 sq ft: 64 x 18.40 = 1,177.60; 3,072 sq ft x 352 / 1,000 = 1,081.344; 3,072 x 0.35 = 1,075.20."""
    one = priced(BOARD, row)
    assert sums(one) == {"harbor": sum_}
    assert not one.offers["harbor"].doubts


@pytest.mark.parametrize(
    "row",
    [
        "1/2 in. drywall 4x12,sheet,14",
        "5/8 in. drywall 4x8,sheet,14",
        "primer,sheet,14",
        "5/8 in. drywall 4x12,32 sq ft sheet,14",
        "5/8 in. drywall 4x12,each,14",
    ],
)
def test_what_is_a_price_of_something_else(row: str) -> None:
    assert not priced(BOARD, row).offers


def test_the_row_that_says_most_of_what_is_ordered_holds() -> None:
    one = priced(PAINT, "paint,can of 1 gal,30", "satin paint,1 gal can,36", "flat paint,1 gal can,20")
    assert sums(one) == {"harbor": "360.00"}
    assert one.offers["harbor"].doubts == ("The list does not say whether the price is one for color fog white.",)


def test_a_row_that_says_more_than_the_order_is_taken_last_and_told() -> None:
    one = priced(BOARD, "type X 5/8 in. drywall 4x12,sheet,15")
    assert one.offers["harbor"].doubts == ("The list says type type-x, of which the order says nothing.",)
    both = priced(BOARD, "type X 5/8 in. drywall 4x12,sheet,15", "5/8 in. drywall 4x12,sheet,18")
    assert sums(both) == {"harbor": "1152.00"}
    assert not both.offers["harbor"].doubts


def test_a_package_of_which_nobody_says_what_it_holds_is_told() -> None:
    tape = goods("joint tape", "1200 ft", "250 ft", "roll")
    assert priced(tape, "joint tape,roll,4").offers["harbor"].doubts == (
        "The list does not say what a roll holds; 250 ft is ordered.",
    )
    assert not priced(tape, "joint tape,250 ft roll,4").offers["harbor"].doubts


def test_a_package_that_nobody_sells_is_told_with_those_there_are() -> None:
    one = priced(goods("joint compound", "365 lb", "64 lb", "pail"), "joint compound,62 lb pail,19")
    assert not one.offers
    assert (
        "No list has a price for joint compound in pail of 64 lb; there are prices for 62 lb pail (harbor.csv, line 2)"
        in one.why
    )


@pytest.mark.parametrize(
    ("rows", "bought", "sum_"),
    [
        (["pallet of 60 sheets,900"], 120, "1800.00"),
        (["pallet of 32 sheets,500"], 64, "1000.00"),
        (["pallet of 60 sheets,900", "sheet,20"], 64, "1280.00"),
        (["pallet of 60 sheets,600", "sheet,20"], 120, "1200.00"),
        (["pallet of 7 sheets,100"], 70, "1000.00"),
    ],
)
def test_whole_pallets_are_bought(rows: list[str], bought: int, sum_: str) -> None:
    """64 sheets are 2 pallets of 60, 2 of 32, 10 of 7 at 100/7 a sheet; of pallets and single sheets at one supplier the cheaper is taken."""
    offer = priced(BOARD, *(f'"5/8 in. drywall 4x12",{row}' for row in rows)).offers["harbor"]
    assert (offer.bought, str(offer.sum)) == (bought, sum_)
    assert offer.each * offer.bought == Fraction(sum_)


def test_the_fewest_and_the_steps_of_what_comes_on_pallets_are_pallets() -> None:
    head = "product,package,price,minimum,from"
    rows = ('"5/8 in. drywall 4x12",pallet of 20 sheets,300,5,', '"5/8 in. drywall 4x12",pallet of 20 sheets,200,,5')
    offer = priced(BOARD, rows[0], head=head).offers["harbor"]
    assert (offer.bought, str(offer.sum)) == (100, "1500.00")
    offer = priced(BOARD, rows[1], head=head).offers["harbor"]
    assert (offer.bought, str(offer.sum)) == (100, "1000.00")


def test_a_pallet_of_something_else_is_told() -> None:
    one = priced(CLIPS, "drywall clip,pallet of 12 boxes of 50,20")
    assert not one.offers
    assert "pallet of 12 × 50 box (harbor.csv, line 2)" in one.why


def test_nobody_has_a_price() -> None:
    assert priced(CLIPS, "primer,5 gal pail,88").why == "No list has a price for drywall clip."
    assert (
        priced(BOARD, "1/2 in. drywall 4x12,sheet,14").why
        == "No price in the lists is one for gypsum board of this kind."
    )


STEPS = ("primer,5 gal pail,88,1", "primer,5 gal pail,80,10", "primer,5 gal pail,72,50")


@pytest.mark.parametrize(
    ("pails", "sum_"), [(1, "88.00"), (9, "792.00"), (10, "800.00"), (49, "3920.00"), (50, "3600.00")]
)
def test_steps_by_quantity(pails: int, sum_: str) -> None:
    item = goods("primer", f"{pails * 5} gal", "5 gal", "pail")
    assert sums(priced(item, *STEPS, head="product,package,price,from")) == {"harbor": sum_}


def test_the_fewest_that_are_sold_are_bought() -> None:
    one = priced(
        goods("primer", "5 gal", "5 gal", "pail"), "primer,5 gal pail,88,4", head="product,package,price,minimum"
    ).offers["harbor"]
    assert (one.bought, one.sum) == (4, Decimal("352.00"))


DATED = (
    "primer,5 gal pail,70,2025-01-01,2025-06-30",
    "primer,5 gal pail,88,2026-01-01,2026-06-30",
    "primer,5 gal pail,95,2026-02-01,2026-06-30",
)
WHEN = "product,package,price,date,valid until"


@pytest.mark.parametrize(
    ("today", "each", "expired"),
    [(date(2026, 3, 2), 95, False), (date(2025, 3, 2), 95, False), (date(2027, 1, 1), 95, True), (None, 95, False)],
)
def test_the_latest_price_that_holds(today: date | None, each: int, expired: bool) -> None:
    one = priced(goods("primer", "5 gal", "5 gal", "pail"), *DATED, head=WHEN, today=today).offers["harbor"]
    assert (one.each, one.expired) == (each, expired)


def test_a_price_of_which_only_an_expired_one_is_left_is_marked() -> None:
    one = priced(goods("primer", "5 gal", "5 gal", "pail"), DATED[0], head=WHEN, today=date(2026, 3, 2)).offers[
        "harbor"
    ]
    assert (one.each, one.expired) == (70, True)


def test_goods_without_a_package_have_no_price() -> None:
    loose = LineItem("primer", goods("primer", "5 gal", "5 gal", "pail").need)
    assert "does not say in which packages" in priced(loose, "primer,5 gal pail,88").why


def test_rows_of_what_is_not_ordered() -> None:
    read = read_prices(
        Source("x.csv", "product,package,price\nprimer,5 gal pail,88\ndrywall clips,box of 100,12\n"), meanings()
    )
    assert [row.product for row in unmatched(read.rows, price_goods([CLIPS], read.rows, meanings(), USD, None))] == [
        "primer"
    ]


ROWS = (
    "A,primer,5 gal pail,88,", "A,primer,5 gal pail,80,10", "B,primer,per gal,17.5,", "B,PVA primer,5 gal pail,60,", "C,primer,5 gal,86,",
)  # fmt: skip


@settings(max_examples=30, deadline=None)
@given(st.permutations(ROWS))
def test_the_order_of_rows_changes_nothing(rows: Sequence[str]) -> None:
    item = goods("primer", "60 gal", "5 gal", "pail")
    one = priced(item, *rows, head="supplier,product,package,price,from")
    assert sums(one) == {"A": "960.00", "B": "1050.00", "C": "1032.00"}


@settings(max_examples=50, deadline=None)
@given(st.integers(1, 10**6), st.integers(1, 500))
def test_twice_the_price_is_twice_the_sum(cents: int, pails: int) -> None:
    item = goods("primer", f"{pails * 5} gal", "5 gal", "pail")
    once, twice = (
        priced(item, f"primer,5 gal pail,{Decimal(cents * n).scaleb(-2)}").offers["harbor"].sum for n in (1, 2)
    )
    assert twice == 2 * once
    assert Fraction(once) == Fraction(cents * pails, 100)


@pytest.mark.parametrize(
    ("row", "fits"),
    [
        ("1-1/4 in drywall screws,box of 1000,9", True),
        ("1 in drywall screws,box of 1000,9", False),
        ("screws,box of 1000,9", True),
    ],
)
def test_goods_that_are_as_long_as_is_asked_for_at_least(row: str, fits: bool) -> None:
    one = priced(goods("screw", "3000", "1000", "box", length="1 1/8 in or longer"), row)
    assert bool(one.offers) is fits
    if fits:
        assert bool(one.offers["harbor"].doubts) is row.startswith("screws")
