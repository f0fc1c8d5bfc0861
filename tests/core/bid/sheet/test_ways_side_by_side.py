"""Ways of doing the work as the bid sheet shows them, and the JSON."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files

import jsonschema

from bids import JOB, LABOR, PRICES, TERMS, bid_of, made, plugins
from darby.bid.compared.ways import with_ways
from darby.bid.model import Bid
from darby.bid.papers import Papers
from darby.bid.sheet.bid_sheet import make
from darby.bid.sheet.to_csv import sheet
from darby.bid.sheet.to_json import bid_json
from darby.text.spans import Source

WAYS = TERMS + "".join(
    f'\n[[bid.ways]]\nname = "{name}"\nlines = ["{line}"]\n'
    for name, line in (
        ("primer thin", "Primer: 400 sq ft per gallon."), ("primer thick", "Primer: 100 sq ft per gallon."),
        ("more waste", "Gypsum board waste: 20 %."), ("sheets of *12*", "Gypsum board: 4 ft x 12 ft sheets."),
    )
)  # fmt: skip


@cache
def compared() -> Bid:
    bid = bid_of(WAYS, JOB, prices=PRICES, labor=LABOR)
    out, told = with_ways(bid, plugins(), Papers((Source("harbor.csv", PRICES),), (Source("labor.txt", LABOR),)))
    assert not told
    return out


def text(form: str = "terminal") -> str:
    return " ".join(make(compared(), form).split())


def test_each_stands_in_a_row_with_its_difference() -> None:
    assert f"as bid {made().direct['material']}" in text()
    for way in compared().ways[:3]:
        more = way.bid.total - made().total
        assert f"{way.name} {way.bid.direct['material']}" in text()
        assert f"{way.bid.total:,} {'+' if more > 0 else ''}{more}" in text()


def test_more_than_three_stand_in_two_tables_each_beside_the_bid() -> None:
    assert make(compared(), "md").count("Otherwise in them") == 2


def test_what_is_not_in_the_price_of_one_is_told_beside_it() -> None:
    assert "sheets of *12*, not in its price: gypsum board, 4 ft x 12 ft, 1/2 in has no price." in text()
    assert "sheets of \\*12\\*, not in its price" in text("md")


def test_the_cheapest_is_named() -> None:
    assert "Cheapest: primer thin." in text()


def test_without_ways_there_is_no_such_section() -> None:
    assert "Other ways" not in make(made())


def test_the_json_keeps_its_schema_and_the_table_has_a_row_for_each() -> None:
    schema = json.loads((files("darby") / "schemas" / "bid.schema.json").read_text(encoding="utf-8"))
    data = bid_json(compared())
    jsonschema.Draft202012Validator(schema).validate(data)
    assert [one["price"] for one in data["ways"]] == [str(way.bid.total) for way in compared().ways]
    assert data["cheapest"]["name"] == "primer thin"
    rows = [row for row in sheet(compared()).rows if row[0] == "another way"]
    assert [row[1] for row in rows] == [way.name for way in compared().ways]
