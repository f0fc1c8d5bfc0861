"""Unit prices that documents ask for, each worked out by hand."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files

import jsonschema
import pytest

from bids import ROOM, bid_of, plugins
from darby.bid.compared.unit_prices import with_unit_prices
from darby.bid.model import Bid, UnitPrice
from darby.bid.papers import Papers
from darby.bid.sheet.bid_sheet import make
from darby.bid.sheet.to_csv import sheet
from darby.bid.sheet.to_json import bid_json
from darby.text.spans import Source

PRICES = """product,package,price
"1/2 in. drywall 4x8",sheet,12.80
"5/8 in. drywall 4x8",sheet,16
joint compound,64 lb pail,20
joint tape,250 ft roll,4
paint,1 gal can,34
primer,1 gal can,20
corner bead,8 ft stick,3
screws,box of 1000,10
"""
LABOR = """
Hang gypsum board: 1.5 hours per 100 sq ft.
Finish joints: 2 hours per 100 sq ft.
Finish joints: 3 hours per 100 sq ft, level 5.
Apply primer: 0.5 hours per 100 sq ft.
Apply finish paint: 0.6 hours per 100 sq ft.
Set corner bead: 0.05 hours per ft.
"""
TERMS = """
prices = ["x"]
labor = ["y"]
markups = ["Sales tax: 5 % of material.", "Lift: 100.", "Overhead: 10 % of everything above."]
wages = [{ trade = "board", wage = 30 }, { trade = "joints", wage = 30 }, { trade = "coatings", wage = 30 }]
"""
SPEC = "SECTION 09 29 00 - GYPSUM BOARD\nA. Gypsum board: 1/2 in. thick. Corner bead at outside corners.\nB. {}\nSECTION 09 91 23 - PAINTING\nA. Two coats finish paint.\n"
CORNERS = '\n[[corners]]\nkind = "outside"\ncount = 2\nheight = "8 ft"\n'


@cache
def bid(asked: str) -> Bid:
    made = bid_of(TERMS, ROOM + CORNERS, prices=PRICES, labor=LABOR, specification=SPEC.format(asked))
    return with_unit_prices(made, plugins(), Papers((Source("harbor.csv", PRICES),), (Source("labor.txt", LABOR),)))


def price(asked: str) -> UnitPrice:
    (one,) = bid(asked).unit_prices
    return one


LEVEL_5 = "Unit Price No. 1: Additional Level 5 finish on ceilings, per 100 sq ft."
LAYERS = "Unit Price No. 2: Gypsum board on walls, 5/8 in. thick, two layers, per sq ft."


def test_a_level_of_finish_by_hand() -> None:
    """21 lb of 64 at 20 are 6.5625, 35 ft of 250 at 4 are 0.56; 3 hours at 30, 90. Tax 5 % of 7.12 is 0.356; overhead 9.748. The lift is a sum."""
    one = price(LEVEL_5)
    assert [(part.name, str(part.sum)) for part in one.parts] == [
        ("joint compound", "6.56"), ("joint tape", "0.56"), ("finish joints, level 5, ceiling", "90.00"),
    ]  # fmt: skip
    assert [(label, str(sum_)) for label, sum_ in one.added] == [("Sales tax", "0.36"), ("Overhead", "9.75")]
    assert (str(one.sum), one.without) == ("107.23", ("Lift",))


def test_a_price_of_one_is_reckoned_over_a_hundred_and_rounded_once() -> None:
    """Over 100 sq ft: 6.25 sheets at 16, 100; 14 lb of compound 4.375, 4.38; tape 0.56; hanging 3 hours, 90; joints 2, 60. Tax on 104.94 is
    5.247, 5.25; overhead on 260.19 is 26.02: 286.21, 2.8621 a foot. Screws come singly and have no price so. No paint is asked for."""
    one = price(LAYERS)
    assert (one.over, str(one.whole), str(one.sum)) == ("100 sq ft", "286.21", "2.86")
    assert not any("paint" in part.name for part in one.parts)
    assert one.open == ("screw, 1 1/4 in or longer has no price.", "screw, 1 7/8 in or longer has no price.")


def test_goods_by_the_sheet() -> None:
    """A sheet is 32 sq ft, over a hundred 3,200: 100 sheets at 12.80, 1,280; 48 hours, 1,440. Tax 64.00; overhead on 2,784, 278.40: 3,062.40.
    The goods alone are named, so that nothing else of the wall is in it."""
    one = price("Unit price 5: Additional gypsum board on walls, per sheet.")
    assert (one.over, str(one.whole), str(one.sum)) == ("3200 sq ft", "3062.40", "30.62")
    assert [part.name for part in one.parts] == ["gypsum board, 4 ft x 8 ft, 1/2 in", "hang gypsum board, wall, 1/2 in"]


def test_painting_is_paint_alone() -> None:
    """Primer 0.4 gal at 20, 8; two coats 0.5 gal at 34, 17; 0.5 and 1.2 hours at 30, 51. Tax 1.25; overhead on 77.25, 7.73 (7.725)."""
    assert str(price("Unit price 3: Painting of walls, per 100 sq ft.").sum) == "84.98"


def test_goods_by_length() -> None:
    """Over 100 ft: 12.5 sticks at 3, 37.50; 5 hours, 150. Tax 1.875, 1.88; overhead on 189.38, 18.94: 208.32 and 2.0832 a foot."""
    one = price("Unit price 4: Corner bead, per linear foot.")
    assert (one.over, str(one.whole), str(one.sum)) == ("100 ft", "208.32", "2.08")


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        ("Unit price 5: Third coat of finish paint, per sq yd.", "A coat by itself is asked for; price it by hand."),
        ("Unit price 6: Painting of doors, per door.", "It is asked for per door, which is no area and no length."),
        (
            "Unit price 7: Painting of walls and ceilings, per sq ft.",
            "It is asked for several places at once; price each by hand.",
        ),
        ("Unit price 8: Carpet, per sq yd.", "It is not known which of our work is asked for."),
        ("Unit price 9: Carpet strip, per foot.", "Nothing in this bid is measured by length under that name."),
    ],
)
def test_what_cannot_be_priced_is_told_with_its_reason(asked: str, why: str) -> None:
    one = price(asked)
    assert (one.sum, one.open) == (None, (why,))


def test_what_has_no_price_is_not_in_it_and_is_told() -> None:
    made = bid_of(
        TERMS,
        ROOM,
        prices=PRICES.replace("joint tape,250 ft roll,4\n", ""),
        labor=LABOR,
        specification=SPEC.format(LEVEL_5),
    )
    papers = Papers(
        (Source("harbor.csv", PRICES.replace("joint tape,250 ft roll,4\n", "")),), (Source("labor.txt", LABOR),)
    )
    made = with_unit_prices(made, plugins(), papers)
    assert made.unit_prices[0].open == ("joint tape has no price.",)
    assert "(in part)" in make(made)


def test_the_bid_itself_is_not_moved_by_it() -> None:
    assert bid(LEVEL_5).total == bid("No unit is asked for.").total == bid(LAYERS).total


def test_the_sheet_the_json_and_the_table_show_it() -> None:
    made = bid(LEVEL_5)
    text = " ".join(make(made).split())
    assert "Unit price 1 Additional Level 5 finish on ceilings per 100 sq ft 107.23" in text
    assert "Without the sums of: Lift." in text
    schema = json.loads((files("darby") / "schemas" / "bid.schema.json").read_text(encoding="utf-8"))
    data = bid_json(made)
    jsonschema.Draft202012Validator(schema).validate(data)
    assert data["unit_prices"][0]["sum"] == "107.23"
    assert any(row[0] == "unit price" for row in sheet(made).rows)


def test_a_room_with_an_odd_name_is_no_trouble() -> None:
    room = ROOM.replace("Net loft", 'The \\"old\\" loft')
    made = bid_of(
        TERMS,
        room,
        prices=PRICES,
        labor=LABOR,
        specification=SPEC.format('Unit price 1: Level 5 finish in the "old" loft, per 100 sq ft.'),
    )
    (one,) = with_unit_prices(
        made, plugins(), Papers((Source("harbor.csv", PRICES),), (Source("labor.txt", LABOR),))
    ).unit_prices
    assert one.sum is not None
