"""What the facts of a list share: the surface and the place that one of them has."""

from __future__ import annotations

import pytest

from reads import read_text, said


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


@pytest.mark.parametrize(
    "text",
    [
        "Attic walls three coats eggshell, elsewhere two.",
        "Attic walls three coats eggshell; two coats everywhere else.",
        "Attic walls: three coats eggshell. All other walls: two coats eggshell.",
        "Attic walls: three coats eggshell. Rest: two coats.",
        "Three coats of eggshell on walls in the attic, two elsewhere.",
        "Walls two coats eggshell; three in the attic.",
        "Walls two coats eggshell; attic three coats.",
        "Two coats eggshell to walls generally, three in the attic.",
        "Walls receive two coats of eggshell; those in the attic receive three.",
    ],
)
def test_what_is_said_of_other_places_is_of_the_same_surfaces(text: str) -> None:
    rules = read_text(text).rules
    found = {(r.scope.get("room", ""), r.scope.get("surface", ""), int(r.amount.value)) for r in rules}
    assert found == {("attic", "wall", 3), ("", "wall", 2)}


def test_other_places_in_a_later_sentence_are_confirmed() -> None:
    rules = read_text("Attic walls: three coats eggshell. Everything else gets two coats.").rules
    assert [bool(r.confirm) for r in rules] == [False, True]


def test_other_walls_of_a_room_are_of_that_room() -> None:
    rules = read_text("Hall, north wall: two coats gloss. All other walls: two coats eggshell.").rules
    assert {r.scope.get("room") for r in rules} == {"hall"}
