"""What the facts of a list share: the surface and the place that one of them has."""

from __future__ import annotations

import pytest

from reads import said


@pytest.mark.parametrize(
    ("text", "rooms"),
    [
        ("One coat primer and two coats satin throughout the kitchen.", ["kitchen", "kitchen"]),
        ("Prime with one coat and finish with two coats flat on toilet room walls.", ["toilet room", "toilet room"]),
        ("Walls of wards: one coat primer, two coats eggshell.", ["ward", "ward"]),
        ("Level 4 on office walls, screws at 12 in. o.c.", ["office", "office"]),
        ("Two coats eggshell on office walls, one coat flat on hall ceilings.", ["office", "hall"]),
        ("One coat primer on walls, two coats satin on doors in offices.", ["", "office"]),
        ("One coat primer; two coats satin in offices.", ["", "office"]),
    ],
)
def test_a_fact_without_a_place_takes_that_of_its_list(text: str, rooms: list[str]) -> None:
    told = said(text)
    assert [rule.partition("room ")[2].partition(",")[0].partition(")")[0] for rule in told] == rooms


def test_what_goods_come_in_is_of_all_of_them() -> None:
    assert said("Primer in 5 gal pails, two coats satin in offices.")[0] == "package of primer: 5 gal per 1 pail"
