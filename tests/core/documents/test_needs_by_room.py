"""Measured rows of a room stand together with what they were made of, and add up to what is ordered by."""

from __future__ import annotations

from fractions import Fraction

import desk
from darby.documents.needs import added, by_room
from darby.estimate.working import working
from darby.quantities.amounts import Amount

JOB = """\
[[rooms]]
name = "Net loft"
length = "10 ft"
width = "10 ft"
height = "8 ft"

[[rooms]]
name = "Rope store"
length = "20 ft"
width = "10 ft"
height = "8 ft"

[[openings]]
name = "gate"
wall = "Net loft wall 1"
width = "5 ft"
height = "8 ft"
"""
SPEC = "Walls: one coat primer.\nCeilings: no primer.\nDeduct all openings.\n"


def test_rows_of_a_room_and_what_made_them_are_one_stretch() -> None:
    estimate = desk.estimated(JOB, SPEC, "us")
    lines = working(desk.item(estimate, "primer"), estimate.rules)
    stretches = [s for s in by_room(lines, estimate) if s.room]
    assert [line for s in by_room(lines, estimate) for line in s.lines] == list(lines)
    walls = {s.room: s for s in reversed(stretches)}
    assert [row.label for row in walls["Net loft"].rows] == [f"Net loft wall {n}" for n in range(1, 5)]
    assert len(walls["Net loft"].lines) > 4  # the opening that comes out of its first wall
    net, rope = walls["Net loft"].sum, walls["Rope store"].sum
    assert net is not None
    assert rope is not None
    assert (net.value, rope.value) == (4 * 80 - 40, 2 * (160 + 80))


def test_what_is_not_measured_stands_alone() -> None:
    estimate = desk.estimated(JOB, SPEC, "us")
    lines = working(desk.item(estimate, "primer"), estimate.rules)
    last = by_room(lines, estimate)[-1]
    assert (last.room, last.lines[-1].label, last.sum) == ("", "order", None)


def test_amounts_of_several_units_are_not_added() -> None:
    assert added([Amount.read("1 ft"), Amount.read("2 sq ft")]) is None
    assert added([]) is None
    one = added([Amount.read("1/2 ft"), Amount.read("2 ft")])
    assert one is not None
    assert one.value == Fraction(5, 2)
