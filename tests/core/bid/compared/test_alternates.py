"""What alternates add and take, and that taking one and giving it back is nothing."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files

import jsonschema
import pytest

from bids import bid_of, plugins
from darby.bid.compared.alternates import with_alternates
from darby.bid.model import Bid
from darby.bid.papers import Papers
from darby.bid.sheet.bid_sheet import make
from darby.bid.sheet.to_json import bid_json
from darby.text.spans import Source

SPEC = """SECTION 09 29 00 - GYPSUM BOARD
A. Finish walls to Level 4.
B. Alternate No. 1: Level 5 finish on walls.
SECTION 09 91 23 - INTERIOR PAINTING
A. Walls and ceilings: two coats finish paint.
B. Alternate 2: Three coats finish paint on walls in place of two coats.
C. Alternate 3: Ceilings: no finish paint.
D. Alternate 4: One coat finish paint on ceilings.
E. Alternate 5: Omit finish paint in Building B.
"""
PRICES = "product,package,price\npaint,1 gal can,30\njoint compound,64 lb pail,20\n"
LABOR = "Apply paint: 0.5 hours per 100 sq ft\nFinish joints: 2 hours per 100 sq ft\nFinish joints: 3 hours per 100 sq ft, level 5\n"
TERMS = 'prices = ["x"]\nlabor = ["y"]\nmarkups = ["Overhead: 10 % of everything above."]\nwages = [{ trade = "coatings", wage = 30 }, { trade = "joints", wage = 30 }]\n'


def bid(*take: str) -> Bid:
    quoted = ", ".join(f'"{name}"' for name in take)
    return bid_of(f"take = [{quoted}]\n{TERMS}", prices=PRICES, labor=LABOR, specification=SPEC)


@cache
def priced(*take: str) -> Bid:
    return with_alternates(
        bid(*take), plugins(), Papers((Source("harbor.csv", PRICES),), (Source("labor.txt", LABOR),))
    )


def sums(made: Bid) -> dict[str, str]:
    return {one.name: str(one.sum) for one in made.alternates}


def test_each_is_an_add_or_a_deduct() -> None:
    """480 sq ft of walls, 200 of ceilings; all with overhead. 1: a pail more, 20, and 4.8 hours more at 30: 164. 2: 4.6 gal instead of
    3.4, a can, 30, and 2.4 hours: 102. 4: 2.9 gal instead of 3.4, a can less, and an hour less: 3 cans instead of 4. 3: 2.4 gal, a can less, and
    two hours. 5: what Building B is, nobody knows."""
    assert sums(priced()) == {
        "Alternate 1": "180.40",
        "Alternate 2": "112.20",
        "Alternate 3": "-99.00",
        "Alternate 4": "-66.00",
        "Alternate 5": "None",
    }


def test_the_quantities_behind_it() -> None:
    (first, *_) = priced().alternates
    assert [(m.name, str(m.was), str(m.now), m.unit) for m in first.moved] == [
        ("joint compound", "2", "3", "pail"),
        ("finish joints, level 4, wall", "48/5", "0", "hour"),
        ("finish joints, level 5, wall", "0", "72/5", "hour"),
    ]


def test_what_of_it_is_not_in_its_sum_is_said() -> None:
    last = priced().alternates[4]
    assert last.sum is None
    assert last.open == (
        "Nothing that an order could follow was read from “Omit finish paint in Building B.”, of alternate 5.",
    )


@pytest.mark.parametrize("name", ["Alternate 1", "Alternate 2", "Alternate 3", "Alternate 4"])
def test_taking_one_moves_the_price_by_its_sum_and_giving_it_back_is_nothing(name: str) -> None:
    base, with_it = priced(), priced(name)
    (sum_,) = (one.sum for one in base.alternates if one.name == name)
    assert sum_ is not None
    assert with_it.total == base.total + sum_
    (back,) = (one for one in with_it.alternates if one.name == name)
    assert (back.taken, back.sum) == (True, sum_)
    assert bid().total == base.total
    assert bid(name).total - sum_ == bid().total


def test_the_order_in_which_alternates_of_other_things_are_taken_changes_nothing() -> None:
    assert bid("Alternate 1", "Alternate 2").total == bid("Alternate 2", "Alternate 1").total


def test_ones_own_line_beats_an_alternate() -> None:
    own = bid_of(
        f'take = ["Alternate 2"]\n{TERMS}',
        prices=PRICES,
        labor=LABOR,
        specification=SPEC,
        rules='"Walls: 2 coats finish paint."',
    )
    assert own.total == bid().total


def test_the_sheet_and_the_json_show_them() -> None:
    made = priced("Alternate 2")
    text = " ".join(make(made).split())
    assert "Alternate 1 Level 5 finish on walls. add 180.40" in text
    assert "in the price: add 112.20" in text
    assert "joint compound: 2 pails without it, 3 pails with it." in text
    schema = json.loads((files("darby") / "schemas" / "bid.schema.json").read_text(encoding="utf-8"))
    data = bid_json(made)
    jsonschema.Draft202012Validator(schema).validate(data)
    assert [one["sum"] for one in data["alternates"]][:2] == ["180.40", "112.20"]
