"""Where a quantity is, by its working."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from bids import bid_of
from darby.bid.places import NOWHERE, Places, gathered, spread
from darby.bid.prices.money import Currency
from desk import estimated, item

TWO = """
[[rooms]]
name = "Hall"
floor = "1"
length = "20 ft"
width = "10 ft"
height = "8 ft"

[[rooms]]
name = "Loft"
floor = "2"
length = "10 ft"
width = "10 ft"
height = "8 ft"

[[walls]]
name = "yard wall"
length = "25 ft"
height = "8 ft"
faces = 1
"""
"""Walls and ceilings: Hall 480 + 200 = 680, Loft 320 + 100 = 420, elsewhere 200: 1,300 sq ft."""


def test_a_pooled_need_is_parted_by_its_rooms() -> None:
    made = estimated(TWO)
    shares = Places(made.job).shares(item(made, "gypsum board").need)
    assert shares == {"Hall": Fraction(680, 1300), "Loft": Fraction(420, 1300), NOWHERE: Fraction(200, 1300)}


def test_waste_and_openings_are_parted_too() -> None:
    job = 'rules = ["Gypsum board waste: 10 %.", "Deduct all openings."]\n' + TWO
    job += '[[openings]]\nname = "hatch"\nwall = "yard wall"\nwidth = "5 ft"\nheight = "8 ft"\n'
    made = estimated(job)
    shares = Places(made.job).shares(item(made, "gypsum board").need)
    assert shares == {"Hall": Fraction(680, 1260), "Loft": Fraction(420, 1260), NOWHERE: Fraction(160, 1260)}


def test_what_is_measured_in_no_room_is_nowhere() -> None:
    made = estimated(TWO + '[[corners]]\nkind = "outside"\ncount = 3\nheight = "8 ft"\n')
    assert Places(made.job).shares(item(made, "corner bead").need) == {NOWHERE: 1}


def test_nothing_is_in_no_place() -> None:
    made = estimated(TWO)
    assert Places(made.job).shares(item(made, "gypsum board").need * 0) == {}


def test_every_line_of_an_order_is_parted_in_full() -> None:
    made = estimated(TWO)
    places = Places(made.job)
    assert made.items
    for one in made.items:
        shares = places.shares(one.need)
        assert sum(shares.values()) == 1
        assert set(shares) <= {"Hall", "Loft", NOWHERE}


def test_board_by_layout_is_where_its_sheets_are_laid() -> None:
    """Hall: walls of 20 and 10 ft in two courses, 5 and 2.5 sheets, and the ceiling, 200 / 32; whole sheets are parted in hundredths."""
    job = 'rules = ["Board by layout."]\n' + TWO
    made = estimated(job)
    board = item(made, "gypsum board")
    shares = Places(made.job).shares(board.need)
    assert set(shares) == {"Hall", "Loft", NOWHERE}
    assert sum(shares.values()) == 1
    sheets = {room: share * board.count for room, share in shares.items()}
    assert all(many.denominator in (1, 2, 4, 5, 10, 20, 25, 50, 100) for many in sheets.values())
    assert (
        sheets[NOWHERE] == 7
    )  # 25 ft in two courses: 3 sheets and 1 ft each, so that the two of 1 ft come from a seventh
    assert all(sheets[room] * 32 >= area for room, area in {"Hall": 680, "Loft": 420}.items())


@settings(max_examples=50, deadline=None)
@given(st.lists(st.tuples(st.decimals(0, 10**5, places=2), st.integers(0, 9), st.integers(0, 9)), max_size=8))
def test_sums_over_rooms_make_up_the_whole(lines: list[tuple[Decimal, int, int]]) -> None:
    places = Places(estimated(TWO).job)
    sums = [(sum_, {"Hall": Fraction(a, a + b), "Loft": Fraction(b, a + b)} if a + b else {}) for sum_, a, b in lines]
    parts = spread(sums, places, Currency("USD"))
    assert sum(parts.values()) == sum(sum_ for sum_, _, _ in lines)
    by_floor = gathered(parts, places, lambda place: place.floor)
    assert sum(by_floor.values()) == sum(parts.values())
    assert set(by_floor) <= {"1", "2", NOWHERE}


def test_a_bid_by_floor_is_the_bid_by_room_added_up() -> None:
    made = bid_of('prices = ["harbor.csv"]', TWO, prices='product,package,price\n"1/2 in. drywall 4x8",sheet,10\n')
    rooms = {line.name: line.price for line in made.rooms}
    floors = {line.name: line.price for line in made.floors}
    assert (floors["1"], floors["2"], floors[NOWHERE]) == (rooms["Hall"], rooms["Loft"], rooms[NOWHERE])
    assert sum(rooms.values()) == made.total
