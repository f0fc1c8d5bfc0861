"""The bid as a table."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from bids import made
from darby.bid.sheet.to_csv import make
from darby.documents.tables import read_csv

PARTS = ("material", "delivery", "labor", "allowance", "mark-up")


def test_its_sums_make_the_price() -> None:
    rows = read_csv(make(made()))
    (price,) = (Decimal(row["sum"]) for row in rows if row["part"] == "price")
    assert sum(Decimal(row["sum"] or 0) for row in rows if row["part"] in PARTS) == price == made().total
    for by in ("trade", "room", "phase"):
        assert sum(Decimal(row["sum"]) for row in rows if row["part"] == f"price by {by}") == price


def test_a_line_is_its_quantity_times_its_price() -> None:
    for row in read_csv(make(made())):
        if row["part"] in ("material", "labor") and row["sum"]:
            exact = Fraction(row["quantity exact"]) * Fraction(row["each exact"])
            assert abs(Fraction(row["sum"]) - exact) <= Fraction(1, 200)


def test_every_line_says_where_it_is_from() -> None:
    rows = read_csv(make(made()))
    assert {row["from"] for row in rows if row["part"] == "material"} >= {"Harbor, harbor.csv, line 2", "no price"}
    assert any(row["part"] == "open" and row["from"] == "missing" for row in rows)
