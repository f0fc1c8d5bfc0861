"""What a job holds, reckoned by hand: areas of faces, edges of reveals, surfaces of a kind."""

from __future__ import annotations

import pytest
from attrs import evolve

from darby.quantities.amounts import Amount
from jobs import ceiling, job, opening, wall


@pytest.mark.parametrize(
    ("sill", "edges"),
    [
        (False, "17 ft"),  # a door: two sides of 7 ft and the head of 3 ft
        (True, "20 ft"),  # a window: its foot besides
    ],
)
def test_a_reveal_runs_up_both_sides_and_over_the_head_and_at_a_window_along_the_foot(sill: bool, edges: str) -> None:
    door = evolve(opening("3 ft", "7 ft"), reveal=Amount.read("6 in"), sill=sill)
    assert door.edges == Amount.read(edges)
    assert evolve(door, reveal=None).edges is None


def test_an_opening_is_as_large_as_one_of_it() -> None:
    assert opening("3 ft", "7 ft", 4).each == Amount.read("21 sq ft")


def test_the_gross_area_is_of_all_faces_and_bears_the_name_of_the_surface() -> None:
    partition = wall("10 ft", "8 ft", faces=2, name="partition")
    assert (partition.gross, partition.gross.label) == (Amount.read("160 sq ft"), "partition")


def test_surfaces_of_a_kind_come_in_the_order_of_the_job() -> None:
    one, lid, two = wall("10 ft", "8 ft", name="a"), ceiling("9 ft", "8 ft"), wall("5 ft", "8 ft", name="b")
    assert job(one, lid, two).of_kind("wall") == (one, two)
    assert job(one, lid, two).of_kind("ceiling") == (lid,)
    assert job(one).of_kind("trim") == ()
