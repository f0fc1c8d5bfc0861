"""The table [bid] of a job file."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from darby.bid.terms import Terms, read_terms
from darby.text.spans import Source

FULL = """
currency = "USD"
date = 2026-03-02
valid = "60 days"
supplier = "Harbor"
prices = ["harbor.csv", "dunes.xlsx"]
labor = "labor.txt"
markups = ["Lift: 640."]
allowances = ["Patching: 500."]
minimum = "1,500"
includes = ["Cleaning up"]
excludes = ["Testing"]
take = ["Alternate 2"]

[[bid.wages]]
trade = "board"
wage = "31.50"
burden = "38 %"
crew = 2
hours = "7.5"
"""


def terms(text: str) -> tuple[Terms, list[tuple[str, str]]]:
    made, told = read_terms(Source("job.toml", f'name = "x"\n[bid]\n{text}'))
    return made, [(d.code, d.span.text if d.span is not None else "") for d in told]


def test_all_of_it() -> None:
    made, told = terms(FULL)
    assert not told
    assert (made.currency.code, made.today, made.valid, made.supplier[0]) == (
        "USD",
        date(2026, 3, 2),
        "60 days",
        "Harbor",
    )
    assert [name for name, _ in (*made.prices, *made.labor)] == ["harbor.csv", "dunes.xlsx", "labor.txt"]
    assert (made.minimum, made.includes, made.excludes) == (1500, ("Cleaning up",), ("Testing",))
    assert [said for said, _ in (*made.markups, *made.allowances)] == ["Lift: 640.", "Patching: 500."]
    (wage,) = made.wages
    assert (wage.trade, wage.wage, wage.burden, wage.crew, wage.hours) == (
        "board",
        Fraction("31.5"),
        Fraction("0.38"),
        2,
        Fraction("7.5"),
    )
    assert wage.cost == Fraction("43.47")


def test_a_date_may_stand_in_quotes() -> None:
    assert terms('date = "2026-03-02"')[0].today == date(2026, 3, 2)


def test_a_job_without_the_table_has_no_terms() -> None:
    made, told = read_terms(Source("job.toml", 'name = "x"\n'))
    assert not made.stated
    assert not told


@pytest.mark.parametrize(
    ("text", "code", "place"),
    [
        ('currency = "dollars"', "bid-terms", "dollars"),
        ('date = "next week"', "bid-terms", "next week"),
        ("date = 3", "bid-terms", "3"),
        ('minimum = "-5"', "bid-terms", "-5"),
        ("minimum = 12.5", "bid-terms", "12.5"),
        ("prices = 3", "job-wrong-type", "3"),
        ('pricelists = ["x"]', "job-unknown-key", "pricelists"),
        ('[[bid.wages]]\ntrade = "board"', "job-missing-key", "[[bid.wages]]"),
        ('[[bid.wages]]\nwage = "30"', "job-missing-key", "[[bid.wages]]"),
        ('[[bid.wages]]\ntrade = "board"\nwage = "-30"', "bid-terms", "-30"),
        ('[[bid.wages]]\ntrade = "board"\nwage = 31.5', "bid-terms", "31.5"),
        ('[[bid.wages]]\ntrade = "board"\nwage = "30"\nburden = "0.38"', "bid-terms", "0.38"),
        ('[[bid.wages]]\ntrade = "board"\nwage = "30"\ncrew = 0', "bid-terms", "0"),
        ('[[bid.wages]]\ntrade = "board"\nwage = "30"\nhours = 30', "bid-terms", "30"),
        ('[[bid.wages]]\ntrade = "board"\nwage = "30"\npay = 30', "job-unknown-key", "pay"),
    ],
)
def test_a_mistake_is_told_at_its_place(text: str, code: str, place: str) -> None:
    _, told = terms(text)
    assert [c for c, _ in told] == [code]
    assert told[0][1] == place


WAYS = """
methods = ["By roller."]
rates = ["Apply primer: 1 hour per 100 sq ft."]

[[bid.ways]]
name = "sprayed"
lines = ["Finish paint: 300 sq ft per gallon."]
methods = ["By spray"]
supplier = "Harbor"
allowances = ["Masking: 40."]
take = ["Alternate 2"]

[bid.change]
number = 3
date = 2026-04-01
cause = "Sketch 7"
from = "Cormorant Finishes"
to = "Osier Architects"
bought = ["bought.csv"]
"""


def test_ways_and_the_head_of_a_change_order() -> None:
    made, told = terms(WAYS)
    assert not told
    (way,) = made.ways
    assert [[text for text, _ in said] for said in (way.lines, way.methods, way.allowances, way.take)] == [
        ["Finish paint: 300 sq ft per gallon."], ["By spray"], ["Masking: 40."], ["Alternate 2"],
    ]  # fmt: skip
    assert way.supplier is not None
    assert (way.name, way.supplier[0], made.methods[0][0]) == ("sprayed", "Harbor", "By roller.")
    head = made.change
    assert (head.number, head.date, head.cause, head.sender, head.to) == (
        "3", "2026-04-01", "Sketch 7", "Cormorant Finishes", "Osier Architects",
    )  # fmt: skip
    assert [name for name, _ in head.bought] == ["bought.csv"]


def test_so_many_ways_that_nobody_reads_them_are_refused() -> None:
    many = "".join(f'\n[[bid.ways]]\nname = "way {n}"\nlines = ["Board by layout."]\n' for n in range(13))
    assert terms(many)[1] == [("bid-terms", "way 12")]


def test_a_key_that_a_way_has_not_is_told() -> None:
    assert terms('[[bid.ways]]\nname = "a"\nline = ["x"]\n')[1] == [("job-unknown-key", "line")]
