"""Bids worked out by hand, and what holds of every bid."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bids import ROOM, bid_of, bidding, refused
from darby.bid.model import Bid

PRICES = """product,package,price
"1/2 in. drywall 4x8",sheet,12.50
primer,1 gal can,21
paint,1 gal can,34.25
joint compound,64 lb pail,18.75
joint tape,250 ft roll,3.99
"""
LABOR = """
Hang gypsum board: 1.5 hours per 100 sq ft on walls. [our jobs]
Hang gypsum board: 2.5 hours per 100 sq ft on ceilings. [our jobs]
Finish joints: 2 hours per 100 sq ft. [our jobs]
Apply primer: 0.5 hours per 100 sq ft. [our jobs]
Apply finish paint: 0.6 hours per 100 sq ft each coat. [our jobs]
"""
TERMS = """
currency = "USD"
prices = ["harbor.csv"]
labor = ["labor.txt"]
markups = ["Sales tax: 8 % of material.", "Overhead: 10 % of everything above.", "Profit: 5 % of everything above."]
wages = [
    { trade = "board", wage = "30", burden = "40 %", crew = 2 },
    { trade = "joints", wage = "28", burden = "40 %" },
    { trade = "coatings", wage = "25", burden = "40 %" },
]
"""


def loft(terms: str = TERMS, **papers: str) -> Bid:
    return bid_of(terms, **{"prices": PRICES, "labor": LABOR, **papers})


def sums(made: Bid) -> dict[str, str]:
    """What each line costs."""
    goods = {line.goods.item.product: str(line.offer.sum) for line in made.material if line.offer is not None}
    work = {
        f"{line.hours.work.operation}, {line.hours.work.about['surface']}": str(line.sum)
        for line in made.labor
        if line.sum is not None
    }
    return goods | work


def test_a_room_by_hand() -> None:
    """480 sq ft of walls, 200 of ceiling. Board 680 / 32 = 21.25, 22 sheets at 12.50. Primer 680 / 250 = 2.72, 3 cans at 21. Paint
    1,360 / 400 = 3.4, 4 cans at 34.25. Compound 95.2 lb, 2 pails at 18.75. Tape 238 ft, 1 roll at 3.99. An hour costs 42.00, 39.20
    and 35.00. Material 516.49, labor 1,450.12; tax 41.3192; overhead 200.793; profit 110.436.
    """
    made = loft()
    assert sums(made) == {
        "gypsum board": "275.00", "primer": "63.00", "finish paint": "137.00", "joint compound": "37.50", "joint tape": "3.99",
        "hang gypsum board, wall": "302.40", "hang gypsum board, ceiling": "210.00",
        "finish joints, wall": "376.32", "finish joints, ceiling": "156.80", "apply primer, wall": "84.00", "apply primer, ceiling": "35.00",
        "apply finish paint, wall": "201.60", "apply finish paint, ceiling": "84.00",
    }  # fmt: skip
    assert {name: str(sum_) for name, sum_ in made.direct.items()} == {
        "material": "516.49", "deliveries": "0.00", "labor": "1450.12", "allowances": "0.00",
    }  # fmt: skip
    assert [(one.label, str(one.sum)) for one in made.added] == [
        ("Sales tax", "41.32"),
        ("Overhead", "200.79"),
        ("Profit", "110.44"),
    ]
    assert str(made.total) == "2319.16"
    crew = made.crews[0]
    assert (crew.wage.trade, crew.hours.value, crew.days) == ("board", Fraction("12.2"), Fraction("12.2") / 16)


def test_what_nobody_priced_is_not_in_it_and_is_told() -> None:
    made = loft()
    assert not made.complete
    assert [one.text.partition(" has no price")[0] for one in made.open if one.what == "missing"] == [
        "drywall clip",
        "screw, 1 1/8 in or longer",
    ]


METRIC = """
[[rooms]]
name = "Loft"
length = "5 m"
width = "4 m"
height = "2.5 m"
"""


def test_a_metric_room_under_a_minimum_charge_by_hand() -> None:
    """45 m2 of walls, 20 of ceiling. Board 65 / 2.88 = 22.6, 23 sheets of 2.88 m2 at 4.10 per m2: 271.584. Primer 65 / 6 = 10.8 L, 2
    cans at 39.90. Hanging 11.25 and 5 hours at 24.60 x 1.8 = 44.28. With an allowance of 100 and travel of 50: 1,220.93 of 1,500.
    """
    made = bid_of(
        'currency = "EUR"\nprices = ["x"]\nlabor = ["y"]\nminimum = 1500\nallowances = ["Patching: 100."]\nmarkups = ["Travel: 50."]\n'
        'wages = [{ trade = "hang gypsum board", wage = "24.60", burden = "80 %" }]',
        METRIC, units="metric", labor="Hang gypsum board: 0.25 hours per m2.",
        prices='product,package,price,currency\n"12.5 mm drywall, 1200 x 2400",per m2,4.10,EUR\nprimer,10 L can,39.90,EUR\n',
    )  # fmt: skip
    assert sums(made) == {
        "gypsum board": "271.58", "primer": "79.80", "hang gypsum board, wall": "498.15", "hang gypsum board, ceiling": "221.40",
    }  # fmt: skip
    assert [(one.label, str(one.sum)) for one in made.added] == [("Travel", "50.00"), ("Minimum charge", "279.07")]
    assert str(made.total) == "1500.00"


PHASES = """
[[rooms]]
name = "Hall"
floor = "1"
phase = "Phase 1"
length = "10 ft"
width = "10 ft"
height = "12 ft"

[[rooms]]
name = "Loft"
floor = "2"
phase = "Phase 2"
length = "10 ft"
width = "10 ft"
height = "12 ft"
"""


def test_two_phases_with_high_walls_by_hand() -> None:
    """Each room 480 sq ft of walls and 100 of ceiling: 1,160 / 32 = 36.25, 37 sheets, from 30 on at 10.00. Phase by phase 18.125 are 19
    twice: one more. Of the walls 640 sq ft lie below 8 ft, 6.4 hours, and 320 above, 6.4 hours; the ceilings above it, 4 hours; at 40.
    """
    made = bid_of(
        'prices = ["x"]\nlabor = ["y"]\nwages = [{ trade = "board", wage = 40 }]', PHASES,
        prices='product,package,price,from\n"1/2 in. drywall 4x8",sheet,11,\n"1/2 in. drywall 4x8",sheet,10,30\n',
        labor="Hang gypsum board: 1 hour per 100 sq ft.\nHang gypsum board: 2 hours per 100 sq ft above 8 ft.",
    )  # fmt: skip
    assert sums(made) == {
        "gypsum board": "370.00",
        "hang gypsum board, wall": "512.00",
        "hang gypsum board, ceiling": "160.00",
    }
    assert str(made.total) == "1042.00"
    assert [(line.name, str(line.material), str(line.labor), str(line.price)) for line in made.phases] == [
        ("Phase 1", "185.00", "336.00", "521.00"), ("Phase 2", "185.00", "336.00", "521.00"),
    ]  # fmt: skip
    assert [(one.packages, str(one.sum)) for one in made.phase_orders] == [(1, "10.00")]
    assert str(made.area) == "1,160 sq ft"


def test_prices_doubled_double_material_and_nothing_else() -> None:
    doubled = "\n".join(
        ",".join((*line.rsplit(",", 1)[:1], str(2 * Decimal(line.rsplit(",", 1)[1])))) if n and line else line
        for n, line in enumerate(PRICES.split("\n"))
    )
    once, twice = loft(), loft(prices=doubled)
    assert twice.direct["material"] == 2 * once.direct["material"]
    assert {k: v for k, v in twice.direct.items() if k != "material"} == {
        k: v for k, v in once.direct.items() if k != "material"
    }
    assert [line.sum for line in twice.labor] == [line.sum for line in once.labor]


@settings(max_examples=10, deadline=None)
@given(st.permutations(PRICES.strip().split("\n")[1:]), st.permutations(LABOR.strip().split("\n")))
def test_the_order_of_lines_changes_nothing(prices: Sequence[str], labor: Sequence[str]) -> None:
    made = loft(prices="\n".join(("product,package,price", *prices)), labor="\n".join(labor))
    assert sums(made) == sums(loft())
    assert made.total == loft().total
    assert [one.text for one in made.open if one.what != "price"] == [
        one.text for one in loft().open if one.what != "price"
    ]


@settings(max_examples=10, deadline=None)
@given(st.lists(st.integers(1, 10**5), min_size=5, max_size=5), st.integers(0, 3000))
def test_the_parts_make_up_the_whole(cents: Sequence[int], share: int) -> None:
    lines = PRICES.strip().split("\n")
    priced = [f"{line.rsplit(',', 1)[0]},{Decimal(c).scaleb(-2)}" for line, c in zip(lines[1:], cents, strict=True)]
    terms = TERMS.replace("10 %", f"{Decimal(share + 1).scaleb(-2)} %")
    made = bid_of(terms, PHASES, prices="\n".join((lines[0], *priced)), labor=LABOR)
    assert made.direct["material"] == sum(line.offer.sum for line in made.material if line.offer is not None)
    assert made.direct["labor"] == sum(line.sum for line in made.labor if line.sum is not None)
    assert made.total == sum(made.direct.values()) + sum(one.sum for one in made.added)
    for lines_ in (made.trades, made.rooms, made.floors, made.phases):
        assert sum(line.price for line in lines_) == made.total
        assert sum(line.material for line in lines_) == made.direct["material"]
        assert sum(line.labor for line in lines_) == made.direct["labor"]


WRONG = {
    # terms, prices, labor: the code and what the place holds
    ('wages = [{ trade = "roofing", wage = 30 }]', "", ""): ("bid-terms", "roofing"),
    ('wages = [{ trade = "board", wage = 30 }, { trade = "board", wage = 31 }]', "", ""): ("bid-terms", "board"),
    ('supplier = "Dunes"', "", ""): ("bid-terms", "Dunes"),
    ('markups = ["Overhead: some"]', "", ""): ("markup-line", "Overhead: some"),
    ('allowances = ["Patching"]', "", ""): ("markup-line", "Patching"),
    ("", "product,package,price\nprimer,1 gal can,-3\n", ""): ("price-list", "-3"),
    ('currency = "USD"', "product,package,price,currency\nprimer,1 gal can,3,EUR\n", ""): ("price-currency", "EUR"),
    ("", "", "Hang it all: 3 hours each."): ("labor-line", "Hang it all"),
}  # fmt: skip


@pytest.mark.parametrize(("terms", "prices", "labor"), WRONG)
def test_a_mistake_in_any_paper_is_told_at_its_place(terms: str, prices: str, labor: str) -> None:
    ((code, text, _),) = refused(terms, prices=prices or PRICES, labor=labor or LABOR)
    assert (code, text) == WRONG[terms, prices, labor]


def test_all_mistakes_are_told_in_one_run() -> None:
    told = refused('markups = ["x"]', prices="product,package,price\nprimer,1 gal can,-3\n", labor="Nonsense")
    assert [code for code, _, _ in told] == ["price-list", "labor-line", "markup-line"]


def test_a_wage_without_hours_is_told() -> None:
    _, told = bidding('wages = [{ trade = "board", wage = 30 }]')
    assert [(d.code, d.span.text) for d in told if d.span is not None] == [("wage-idle", "board")]


def test_prices_with_an_end_want_a_date() -> None:
    _, told = bidding("", prices="product,package,price,valid until\nprimer,1 gal can,3,2026-03-31\n")
    assert [d.code for d in told] == ["bid-date"]


def test_all_from_one_supplier() -> None:
    prices = "supplier,product,package,price\nA,primer,1 gal can,3\nB,primer,1 gal can,2\n"
    assert sums(bid_of("", prices=prices)) == {"primer": "6.00"}
    assert sums(bid_of('supplier = "A"', prices=prices)) == {"primer": "9.00"}
    assert [str(one.sum) for one in bid_of("", prices=prices).alone] == ["9.00", "6.00"]


def test_an_empty_bid_of_a_job_is_a_list_of_questions() -> None:
    made = bid_of("", ROOM)
    assert made.total == 0
    assert not made.complete
    assert all(one.sum is None for one in made.open if one.what == "missing")


SUPPLIERS = """supplier,product,package,price,from,delivery
A,"1/2 in. drywall 4x8",sheet,12,,40
A,"1/2 in. drywall 4x8",sheet,11,20,40
B,"1/2 in. drywall 4x8",sheet,11.50,,
B,primer,1 gal can,21,,
C,primer,1 gal can,20,,15
C,paint,1 gal can,34,,15
A,paint,1 gal can,34,,40
"""


@settings(max_examples=15, deadline=None)
@given(st.permutations(SUPPLIERS.strip().split("\n")[1:]), st.permutations("ABC"))
def test_the_order_and_the_names_of_suppliers_change_nothing(rows: Sequence[str], names: Sequence[str]) -> None:
    called = [names["ABC".index(row[0])] + row[1:] for row in rows]
    one, same = (
        loft(prices="\n".join((SUPPLIERS.split("\n", maxsplit=1)[0], *some)))
        for some in (SUPPLIERS.strip().split("\n")[1:], called)
    )
    assert one.direct == same.direct
    assert one.total == same.total
    assert sorted(basket.sum for basket in one.alone) == sorted(basket.sum for basket in same.alone)


def test_a_package_that_nobody_sells_is_told_with_those_there_are() -> None:
    made = loft(prices="product,package,price\nprimer,5 gal pail,96\n")
    (told,) = (one.text for one in made.open if one.text.startswith("primer has no price"))
    assert (
        "No list has a price for primer in can of 1 gal; there are prices for 5 gal pail (harbor.csv, line 2)." in told
    )
