"""What a change costs after the bid."""

from __future__ import annotations

from functools import cache

from bids import bid_of
from darby.bid.compared.change_order import ChangeOrder
from darby.bid.model import Bid
from darby.bid.sheet.change_sheet import make
from darby.bid.terms import Change

PRICES = 'product,package,price\n"1/2 in. drywall 4x8",sheet,10\n'
TERMS = 'currency = "USD"\ndate = 2026-03-02\nprices = ["x"]\nlabor = ["y"]\nmarkups = ["Profit: 10 % of everything above."]\nwages = [{ trade = "board", wage = 20 }]\n'
WALL = '[[walls]]\nname = "yard wall"\nlength = "{} ft"\nheight = "8 ft"\nfaces = 1\n'


@cache
def bid(length: int) -> Bid:
    return bid_of(TERMS, WALL.format(length), prices=PRICES, labor="Hang gypsum board: 2 hours per 100 sq ft.")


def change(before: int, after: int) -> ChangeOrder:
    return ChangeOrder(bid(before), bid(after), Change("3", cause="Sketch 7"), "before.json")


def test_a_longer_wall_by_hand() -> None:
    """320 sq ft are 10 sheets and 6.4 hours at 20; 400 are 13 and 8. 30 and 32 more, with profit 68.20."""
    made = change(40, 50)
    assert [(str(m.was), str(m.now), m.unit) for m in (*made.moved, *made.hours)] == [
        ("10", "13", "sheet"), ("320", "400", ""), ("32/5", "8", "hour"),
    ]  # fmt: skip
    assert [(line.label, str(line.sum)) for line in made.costs] == [
        ("Material", "30.00"),
        ("Labor", "32.00"),
        ("Profit", "6.20"),
    ]
    assert str(made.sum) == "68.20"


def test_the_lines_make_up_the_sum_and_going_back_takes_it_again() -> None:
    there, back = change(40, 57), change(57, 40)
    assert sum(line.sum for line in there.costs) == there.sum
    assert back.sum == -there.sum
    assert [line.sum for line in back.costs] == [-line.sum for line in there.costs]


def test_nothing_changed_costs_nothing() -> None:
    made = change(40, 40)
    assert (made.sum, made.moved, made.hours, made.costs) == (0, (), (), ())
    assert "No change of the price: 0.00 USD" in make(made)


def test_what_has_no_price_is_said_and_not_in_the_sum() -> None:
    assert any("primer has no price" in text for text in change(40, 50).missing)


def test_the_bid_itself_is_not_moved_by_it() -> None:
    assert change(40, 50).after.total == bid(50).total
