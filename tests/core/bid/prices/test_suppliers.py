"""Who is bought from."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from bids import goods, meanings
from darby.bid.prices.money import Currency
from darby.bid.prices.price_list import read_prices
from darby.bid.prices.pricing import Goods, price_goods
from darby.bid.prices.suppliers import Basket, cheapest, each_alone
from darby.text.spans import Source

USD = Currency("USD")
PRIMER = goods("primer", "50 gal", "5 gal", "pail")
CLIPS = goods("drywall clip", "1000", "100", "box")
"""Ten of each."""


def order(*rows: str) -> tuple[Goods, ...]:
    text = "\n".join(("supplier,product,package,price,delivery,valid until", *rows))
    return price_goods(
        [PRIMER, CLIPS], read_prices(Source("x.csv", text), meanings()).rows, meanings(), USD, date(2026, 3, 2)
    )


def told(basket: Basket) -> tuple[tuple[str, ...], str, int]:
    return basket.suppliers, str(basket.sum), len(basket.missing)


BOTH = (
    "A,primer,5 gal pail,80,60,",
    "A,clips,box of 100,12,60,",
    "B,primer,5 gal pail,90,0,",
    "B,clips,box of 100,9,0,",
)


def test_each_alone() -> None:
    """A: 800 + 120 + 60 = 980. B: 900 + 90 = 990."""
    assert [told(b) for b in each_alone(order(*BOTH), USD)] == [(("A",), "980.00", 0), (("B",), "990.00", 0)]


def test_the_cheapest_mix_counts_the_delivery() -> None:
    """Primer from A and clips from B: 800 + 90 + 60 = 950. With a delivery of 120 all from B is cheaper: 990."""
    assert told(cheapest(order(*BOTH), USD)) == (("A", "B"), "950.00", 0)
    dear = [row.replace(",60,", ",120,") for row in BOTH]
    assert told(cheapest(order(*dear), USD)) == (("B",), "990.00", 0)


def test_a_delivery_is_paid_once_a_supplier() -> None:
    assert cheapest(order(*BOTH[:2]), USD).deliveries == {"A": Decimal("60.00")}


def test_a_line_that_one_does_not_sell_is_missing_there() -> None:
    found = order(*BOTH[:1], *BOTH[2:])
    assert [told(b) for b in each_alone(found, USD)] == [(("A",), "860.00", 1), (("B",), "990.00", 0)]
    assert told(cheapest(found, USD, only="A")) == (("A",), "860.00", 1)


def test_a_price_that_holds_no_more_is_taken_last() -> None:
    found = order("A,primer,5 gal pail,10,0,2025-12-31", "B,primer,5 gal pail,90,0,", "B,clips,box of 100,9,0,")
    assert told(cheapest(found, USD)) == (("B",), "990.00", 0)


def test_many_suppliers_are_taken_line_by_line() -> None:
    rows = [f"S{n},primer,5 gal pail,{90 - n},0," for n in range(12)] + [
        f"S{n},clips,box of 100,{9 + n},0," for n in range(12)
    ]
    assert told(cheapest(order(*rows), USD)) == (("S0", "S11"), "880.00", 0)


def test_the_order_of_suppliers_changes_nothing() -> None:
    assert told(cheapest(order(*reversed(BOTH)), USD)) == told(cheapest(order(*BOTH), USD))


def test_nobody_sells_anything() -> None:
    empty = cheapest(order("A,drywall,sheet,3,,"), USD)
    assert told(empty) == ((), "0.00", 2)
