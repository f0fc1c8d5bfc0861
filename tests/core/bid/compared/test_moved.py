"""What moves between two bids of one job."""

from __future__ import annotations

from decimal import Decimal

from bids import ROOM, bid_of, made
from darby.bid.compared.moved import cost_lines, costs_moved, goods_moved, hours_by_task, hours_moved, missing_in

PRICES = 'product,package,price\n"1/2 in. drywall 4x8",sheet,10\n'
LABOR = "Hang gypsum board: 2 hours per 100 sq ft."


def test_packages_and_hours_of_a_longer_room() -> None:
    """680 sq ft are 22 sheets, 896 are 28; hung at 2 hours per 100 sq ft."""
    one, other = (bid_of("", room, prices=PRICES, labor=LABOR) for room in (ROOM, ROOM.replace("20 ft", "26 ft", 1)))
    board = [m for m in goods_moved(one, other) if m.name.startswith("gypsum board")]
    assert [(str(m.was), str(m.now), m.unit) for m in board] == [("22", "27", "sheet")]
    assert [(m.name, str(m.was), str(m.now)) for m in hours_moved(one, other)] == [
        ("hang gypsum board, wall, 1/2 in", "48/5", "288/25"), ("hang gypsum board, ceiling, 1/2 in", "4", "26/5"),
    ]  # fmt: skip
    assert sum(hours_by_task(one).values()) == Decimal("13.6")


def test_nothing_moves_between_a_bid_and_itself() -> None:
    assert not [*goods_moved(made(), made()), *hours_moved(made(), made())]
    assert costs_moved(cost_lines(made()), cost_lines(made()), Decimal(0)) == ()


def test_lines_from_cost_to_price_make_up_the_price() -> None:
    assert sum(cost_lines(made()).values()) == made().total


def test_a_line_that_only_one_of_them_has_counts_in_full() -> None:
    (line,) = costs_moved({"Lift": Decimal(4)}, {}, Decimal("0.00"))
    assert (line.label, line.sum) == ("Lift", Decimal(-4))


def test_what_is_missing_is_told_once() -> None:
    told = missing_in(made())
    assert told
    assert len(set(told)) == len(told)


def test_the_same_goods_under_another_name_are_one_line() -> None:
    """480 sq ft of walls, two coats at 400 sq ft per gal: 2.4 gal, 3 cans; the flat of the ceiling, 200 sq ft, 1 can, goes."""
    said = "Finish paint: 400 sq ft per gal.\nWalls: two coats eggshell, white.\nCeilings: two coats {}, white.\n"
    painted, other = (bid_of("", ROOM, specification=said.format(sheen)) for sheen in ("eggshell", "flat"))
    bare = bid_of("", ROOM, specification=said.partition("Ceilings")[0] + "Ceilings: no finish paint.\n")
    from_one, from_two = (
        [(m.name, str(m.was), str(m.now)) for m in goods_moved(one, bare) if m.name.startswith("finish paint")]
        for one in (painted, other)
    )
    assert [(was, now) for _, was, now in from_one] == [("4", "3")]
    assert [now for _, _, now in from_two] == ["0"]
