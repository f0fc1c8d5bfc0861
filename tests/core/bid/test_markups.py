"""What is put on top of the cost."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.bid.markups import DIRECT, Added, put_on, read_allowances, read_markups
from darby.bid.prices.money import Currency
from darby.text.spans import Source

USD = Currency("USD")
COST = dict(zip(DIRECT, map(Decimal, ("1000.00", "60.00", "2000.00", "500.00")), strict=True))


def said(*lines: str) -> list[tuple[str, object]]:
    source = Source("job.toml", "\n".join(lines))
    at, out = 0, []
    for line in lines:
        out.append((line, source.span(at, at + len(line))))
        at += len(line) + 1
    return out  # type: ignore[return-value]


def added(*lines: str, minimum: str = "0", cost: dict[str, Decimal] = COST) -> list[tuple[str, str]]:
    markups, wrong = read_markups(said(*lines))  # type: ignore[arg-type]
    assert not wrong, [d.message for d in wrong]
    return [(one.label, str(one.sum)) for one in put_on(cost, markups, Fraction(minimum), USD)]


def test_each_in_its_order_on_what_it_names() -> None:
    """Cost 3,560. Tax 8.25 % of 1,000 = 82.50. Lift 640. Overhead 10 % of 4,282.50 = 428.25. Profit 8 % of 4,710.75 = 376.86. Bond 12 per
    thousand of 5,087.61 = 61.05132."""
    assert added(
        "Sales tax: 8.25 % of material.", "Lift: 640.", "Overhead: 10 % of everything above.", "Profit: 8 percent of all above",
        "Bond: 12 per 1,000 of everything above.",
    ) == [("Sales tax", "82.50"), ("Lift", "640.00"), ("Overhead", "428.25"), ("Profit", "376.86"), ("Bond", "61.05")]  # fmt: skip


def test_a_share_of_several_lines_by_their_names() -> None:
    """5 % of 2,000 = 100; 10 % of labor and small tools: 210; of material, deliveries and allowances: 156."""
    assert added(
        "Small tools: 5 % of labor", "Fee: 10 % of labor and small tools", "Risk: 10 % of material, deliveries and allowances"
    ) == [("Small tools", "100.00"), ("Fee", "210.00"), ("Risk", "156.00")]  # fmt: skip


def test_the_order_matters_and_is_that_of_the_lines() -> None:
    assert added("Profit: 10 % of everything above", "Lift: 1,000") == [("Profit", "356.00"), ("Lift", "1000.00")]
    assert added("Lift: 1,000", "Profit: 10 % of everything above") == [("Lift", "1000.00"), ("Profit", "456.00")]


def test_a_minimum_charge_adds_what_is_missing_and_no_more() -> None:
    assert added("Lift: 40", minimum="4000") == [("Lift", "40.00"), ("Minimum charge", "400.00")]
    assert added("Lift: 440", minimum="4000") == [("Lift", "440.00")]


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("Overhead", "is no mark-up"), (": 10 % of labor", "is no mark-up"), ("Overhead: plenty", "neither a share"), ("Overhead: -10", "neither a share"),
        ("Overhead: 0", "neither a share"), ("Overhead: 10 %", "neither a share"), ("Overhead: 0 % of labor", "no share above zero"),
        ("Overhead: 10 % of labour", 'nothing above Overhead is called labour'), ("Overhead: 10 % of profit", "is called profit"),
        ("Overhead: 10 % of labor and labor", "twice"), ("Labor: 10", "stands in the bid already"), ("Minimum charge: 10", "stands in the bid already"),
        ("Overhead: 10 per 0 of labor", "no share above zero"),
    ],
)  # fmt: skip
def test_a_line_that_is_not_understood_is_an_error_at_its_place(line: str, why: str) -> None:
    markups, (told,) = read_markups(said(line))  # type: ignore[arg-type]
    assert not markups
    assert told.code == "markup-line"
    assert why in told.message
    assert told.span is not None
    assert told.span.text == line


def test_a_line_stands_once() -> None:
    _, (told,) = read_markups(said("Lift: 40", "lift: 50"))  # type: ignore[arg-type]
    assert [label.span.text for label in told.labels] == ["lift: 50", "Lift: 40"]


def test_a_near_name_is_offered() -> None:
    _, (told,) = read_markups(said("Overhead: 10 % of materials"))  # type: ignore[arg-type]
    assert told.help.startswith("Did you mean material?")


def test_allowances() -> None:
    found, wrong = read_allowances(said("Patching old ceilings: 1,500.", "Night work, stairs: 80"))  # type: ignore[arg-type]
    assert not wrong
    assert [(label, value) for label, value, _ in found] == [
        ("Patching old ceilings", 1500),
        ("Night work, stairs", 80),
    ]


@pytest.mark.parametrize(
    "lines", [("Patching",), ("Patching: some",), ("Patching: -3",), ("Patching: 3", "patching: 4")]
)
def test_an_allowance_that_is_none(lines: tuple[str, ...]) -> None:
    _, wrong = read_allowances(said(*lines))  # type: ignore[arg-type]
    assert [d.code for d in wrong] == ["markup-line"]


SHARE = st.integers(1, 5000).map(lambda n: f"{Decimal(n).scaleb(-2)} % of everything above")


@given(st.lists(SHARE, max_size=6), st.lists(st.integers(0, 10**9), min_size=4, max_size=4))
def test_every_mark_up_is_its_share_to_half_a_coin(shares: list[str], coins: list[int]) -> None:
    cost = dict(zip(DIRECT, (Decimal(c).scaleb(-2) for c in coins), strict=True))
    markups, wrong = read_markups(said(*(f"m{n}: {share}" for n, share in enumerate(shares))))  # type: ignore[arg-type]
    assert not wrong
    above = sum(cost.values(), Decimal(0))
    for one in put_on(cost, markups, Fraction(0), USD):
        assert isinstance(one, Added)
        assert one.share is not None
        assert one.base == above
        assert abs(Fraction(one.sum) - one.share * Fraction(above)) <= Fraction(1, 200)
        above += one.sum
