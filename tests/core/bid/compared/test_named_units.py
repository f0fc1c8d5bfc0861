"""Unit prices of what the estimator names, each worked out by hand."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files

import jsonschema
import pytest

from bids import bid_of
from darby.bid.compared.named_units import with_named_units
from darby.bid.model import Bid, UnitPrice
from darby.bid.sheet.bid_sheet import make
from darby.bid.sheet.to_json import bid_json

PRICES = """product,package,price
"1/2 in. drywall 4x8",sheet,12.80
paint,1 gal can,34
primer,1 gal can,20
"""
LABOR = """
Hang gypsum board: 1.5 hours per 100 sq ft.
Apply primer: 0.5 hours per 100 sq ft.
Apply finish paint: 0.6 hours per 100 sq ft.
"""
TERMS = """
prices = ["x"]
labor = ["y"]
markups = ["Sales tax: 5 % of material.", "Overhead: 10 % of everything above.", "Lift: 100."]
wages = [{{ trade = "board", wage = 30 }}, {{ trade = "coatings", wage = 30 }}]
unit_prices = ["{}"]
"""
WALLS = """
trades = ["board"]
[[types]]
name = "W1"
lines = ["One layer of gypsum board."]
[[types]]
name = "W2"
lines = ["Two layers of gypsum board."]
[[walls]]
name = "A"
type = "W1"
length = "20 ft"
height = "8 ft"
room = "Hall"
[[walls]]
name = "B"
type = "W2"
length = "10 ft"
height = "8 ft"
between = ["Hall", "Den"]
[[openings]]
wall = "A"
name = "way in"
width = "4 ft"
height = "8 ft"
"""
DOORS = """
trades = ["coatings"]
[[doors]]
name = "leaves"
width = "3 ft"
height = "7 ft"
count = 4
[[walls]]
name = "A"
length = "20 ft"
height = "8 ft"
faces = 1
"""
ROOMS = """
trades = ["board"]
[[rooms]]
name = "Cell"
length = "8 ft"
width = "8 ft"
height = "8 ft"
count = 3
[[rooms]]
name = "Hall"
length = "20 ft"
width = "10 ft"
height = "8 ft"
"""


@cache
def bid(asked: str, job: str, specification: str = "") -> Bid:
    made = bid_of(TERMS.format(asked), job, prices=PRICES, labor=LABOR, specification=specification)
    return with_named_units(made)


def price(asked: str, job: str = WALLS) -> UnitPrice:
    (one,) = bid(asked, job).unit_prices
    return one


def test_a_type_of_partition_by_hand() -> None:
    """A: 160 sq ft, 5 sheets at 12.80, 64.00; 2.4 hours at 30, 72.00; tax 3.20; overhead on 139.20, 13.92: 153.12, 0.957 a sq ft."""
    one = price("W1: per sq ft.")
    assert [(part.name, str(part.many), str(part.sum)) for part in one.parts] == [
        ("gypsum board, 4 ft x 8 ft, 1/2 in", "5", "64.00"), ("hang gypsum board, wall, 1/2 in", "12/5", "72.00"),
    ]  # fmt: skip
    assert [(label, str(sum_)) for label, sum_ in one.added] == [("Sales tax", "3.20"), ("Overhead", "13.92")]
    assert (str(one.whole), str(one.sum), one.over) == ("153.12", "0.96", "160 sq ft, measured once, openings left in")
    assert (one.without, one.open) == (("Lift",), ())


def test_a_wall_is_measured_once_with_all_that_is_on_both_of_its_faces() -> None:
    """B: 80 sq ft, two faces, two layers: 320 sq ft, 10 sheets, 128.00; 4.8 hours, 144.00; tax 6.40; overhead 27.84: 306.24, 3.828."""
    one = price("w-2: per sq ft.")
    assert (str(one.whole), str(one.sum), one.over[:8]) == ("306.24", "3.83", "80 sq ft")
    assert str(price("W2: per 100 sq ft.").sum) == "382.80"
    assert str(price("W2: per ft.").sum) == "30.62"  # 306.24 over 10 ft
    assert str(price("B: per wall.").sum) == "306.24"


def test_doors_by_the_piece() -> None:
    """4 leaves of 21 sq ft, both sides: 168. Primer 0.672 gal, 13.44; two coats 336 / 400 = 0.84 gal, 28.56; 0.84 and 2.016 hours, 85.68.
    Tax on 42.00, 2.10; overhead on 129.78, 12.98: 142.76, 35.69 a leaf."""
    one = price("Doors: per door.", DOORS)
    assert (str(one.whole), str(one.sum), one.over) == ("142.76", "35.69", "4 of them")
    assert str(price("leaves: each.", DOORS).sum) == "35.69"


def test_rooms_that_are_alike() -> None:
    """A cell: 256 + 64 = 320 sq ft, 10 sheets, 128; 4.8 hours, 144; tax 6.40; overhead 27.84: 306.24, and three of them 918.72."""
    one = price("Cell: per room.", ROOMS)
    assert (str(one.whole), str(one.sum), one.over) == ("918.72", "306.24", "3 of them")


def test_the_parts_of_a_job_make_up_what_all_of_it_uses() -> None:
    parts = [price("W1: per sq ft."), price("W2: per sq ft.")]
    used = [sum(part.sum or 0 for one in parts for part in one.parts if part.of == of) for of in ("material", "labor")]
    # 15 sheets are used and 15 are bought, so that nothing is lost to rounding
    assert used == [bid("W1: per sq ft.", WALLS).direct[of] for of in ("material", "labor")]


def test_what_a_list_leaves_open_of_goods_that_are_in_it_is_told_apart_from_what_is_not_in_it() -> None:
    """The list says nothing of a sheen: the price counts, and is to be checked."""
    painted = 'rules = ["Doors: two coats gloss."]\n' + DOORS
    one = price("Doors: per door.", painted)
    assert (str(one.sum), one.open) == ("35.69", ())
    assert [text.partition(":")[0] for text in one.doubts] == ["finish paint, gloss, door"]
    assert "To check: finish paint" in " ".join(make(bid("Doors: per door.", painted), "terminal").split())


LAID = """
trades = ["board"]
rules = ["Board by layout."]
[[walls]]
name = "A"
room = "Hall"
length = "10 ft"
height = "8 ft"
faces = 1
[[walls]]
name = "B"
room = "Den"
length = "16 ft"
height = "8 ft"
faces = 1
"""


def test_board_by_layout_is_priced_by_the_sheets_that_are_laid_there() -> None:
    """A: two courses of 10 ft, 8 and 2 each, so 3 sheets and not 2.5: 38.40; 1.2 hours, 36.00; tax 1.92; overhead on 76.32, 7.63: 83.95,
    1.0494 a sq ft. B: two courses of 16 ft, 4 sheets, 51.20."""
    one, other = price("A: per sq ft.", LAID), price("B: per sq ft.", LAID)
    assert [(part.name, str(part.many), str(part.sum)) for part in one.parts] == [
        ("gypsum board, 4 ft x 8 ft, 1/2 in", "3", "38.40"), ("hang gypsum board, wall, 1/2 in", "6/5", "36.00"),
    ]  # fmt: skip
    assert (str(one.whole), str(one.sum), one.open) == ("83.95", "1.05", ())
    assert str(other.parts[0].sum) == "51.20"
    made = bid("A: per sq ft.", LAID)
    assert {place.name: str(place.material) for place in made.rooms if place.name} == {"Hall": "38.40", "Den": "51.20"}


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        ("W3: per sq ft.", "Nothing that is measured is called “W3”."),
        ("W1", "It does not say of what it is, and per what."),
        ("W1: per gallon.", "“per gallon” is no area, no length and no piece."),
        ("W1: soon.", "“soon” is no area, no length and no piece."),
        ("leavs: per sq ft.", "Nothing that is measured is called “leavs”."),
        ("Dem: per sq ft.", "Nothing that is measured is called “Dem”. Did you mean Den?"),
        ("ceilings: per sq ft.", "Nothing that is measured is called “ceilings”."),
    ],
)
def test_what_cannot_be_priced_is_told_with_its_reason(asked: str, why: str) -> None:
    one = price(asked)
    assert one.sum is None
    assert one.open[0].startswith(why)


def test_a_name_of_two_things_is_not_priced() -> None:
    one = price("W2: per sq ft.", WALLS.replace('name = "A"', 'name = "W2"').replace('wall = "A"', 'wall = "W2"'))
    assert one.open == ("“W2” is a name and also a mark; name one of them in full.",)


def test_a_line_that_cannot_be_parted_is_left_out_and_told() -> None:
    (one,) = bid(
        "W1: per sq ft.", WALLS, "SECTION 09 29 00 - GYPSUM BOARD\nA. Furnish 2 extra sheets of gypsum board.\n"
    ).unit_prices
    assert str(one.sum) == "0.96"
    (told,) = one.open
    assert told.startswith("gypsum board")
    assert told.endswith("cannot be told apart from what is elsewhere.")
    assert any(part.sum is None for part in one.parts)  # so that the sheet says that it is in part


CORNERS = """
[[corners]]
kind = "outside"
count = 2
height = "8 ft"
room = "Hall"
"""


def test_bead_of_corners_that_are_typed_is_of_their_room_and_of_no_door() -> None:
    """Two corners of 8 ft: two sticks of bead."""
    job = (
        ROOMS.replace('"board"', '"board", "joints", "coatings"')
        + CORNERS
        + DOORS.partition("[[walls]]")[0].replace('trades = ["coatings"]', "")
    )
    bead = {asked: [(p.many, p.why) for p in price(asked, job).parts if p.name.startswith("corner bead")] for asked in
            ("Hall: per room.", "Cell: per room.", "Doors: each.", "Walls: per sq ft.")}  # fmt: skip
    assert [len(found) for found in bead.values()] == [1, 0, 0, 1]
    assert [why for _, why in bead["Hall: per room."]] == [""]


def test_the_sheet_says_what_it_is_made_of_and_what_is_in_no_unit_price() -> None:
    text = make(bid("W1: per sq ft.", WALLS), "md")
    assert "153.12" in text.replace("\\", "")
    assert "since packages are whole" in " ".join(text.split())


def test_the_json_holds_to_its_schema_where_a_line_cannot_be_parted() -> None:
    schema = json.loads((files("darby") / "schemas" / "bid.schema.json").read_text("utf-8"))
    spare = "SECTION 09 29 00 - GYPSUM BOARD\nA. Furnish 2 extra sheets of gypsum board.\n"
    data = json.loads(json.dumps(bid_json(bid("W1: per sq ft.", WALLS, spare))))
    jsonschema.validate(data, schema)
    (one,) = data["unit_prices"]
    assert [part["many"] for part in one["parts"] if part["sum"] is None] == [None]
