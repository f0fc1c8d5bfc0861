"""Surfaces of a list that hold for more than what they stand beside."""

from __future__ import annotations

import pytest

from reads import read_text, said


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("Fix with 32 mm screws at 300 mm centres on walls, 230 mm centres on ceilings.", "fastener length of screw ({}): 32 mm"),
        ("Nails 38 mm long at 180 mm centres on walls; 150 mm centres on ceilings.", "fastener length of nail ({}): 38 mm"),
        ("Hang 1/2 in. board with screws 16 in. o.c. on walls and 12 in. o.c. on ceilings.", "thickness of gypsum board ({}): 1/2 in"),
        ("Fix at 300 mm centres with 25 mm screws to walls, 32 mm screws to ceilings.", "spacing of screw ({}): 300 mm"),
        ("One layer 15 mm board on walls, two layers on ceilings.", "thickness of gypsum board ({}): 15 mm"),
        ("Two coats of eggshell at 350 sq ft/gal on walls, 300 sq ft/gal on ceilings.", "coats of finish paint (sheen eggshell, {}): 2"),
    ],
)  # fmt: skip
def test_what_is_told_once_holds_wherever_the_rest_does(text: str, rule: str) -> None:
    assert {rule.format("surface wall"), rule.format("surface ceiling")} <= set(said(text))


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("1/2 in. board with screws at 16 in. on walls, 5/8 in. board on ceilings.", "spacing of screw ({}): 16 in"),
        (
            "Two layers 12.5 mm board on walls, one layer 15 mm board on ceilings.",
            "thickness of gypsum board ({}): 12.5 mm",
        ),
        ("Level 4 with two coats satin on walls, one coat flat on ceilings.", "finish level of gypsum board ({}): 4"),
        ("Two coats matt at 12 m2/L on walls, satin on ceilings.", "coats of finish paint (sheen matt, {}): 2"),
    ],
)
def test_what_is_told_of_goods_that_others_take_the_place_of_does_not(text: str, rule: str) -> None:
    rules = said(text)
    assert rule.format("surface wall") in rules
    assert rule.format("surface ceiling") not in rules


def test_a_surface_at_the_end_holds_for_the_goods_before_it() -> None:
    assert said("One coat primer and two coats satin to walls.") == [
        "coats of primer (surface wall): 1",
        "coats of finish paint (sheen satin, surface wall): 2",
    ]


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("Bedroom 1 walls get two coats matt. The ceiling gets one coat.", ["bedroom 1", "bedroom 1"]),
        ("In the lobby use 5/8 in. board. Level 4.", ["lobby", "lobby"]),
        ("Den walls in satin. One coat of primer. Ceiling one coat flat.", ["den", "den", "den"]),
        ("Den walls two coats matt. All ceilings one coat flat.", ["den", ""]),
        ("Den walls two coats matt. Compound: 14 lb per 100 sq ft.", ["den", ""]),
    ],
)
def test_a_place_that_a_sentence_opens_with_holds_for_the_next_and_is_confirmed(text: str, where: list[str]) -> None:
    rules = read_text(text).rules
    assert [rule.scope.get("room", "") for rule in rules] == where
    told = [n > 0 and bool(room) for n, room in enumerate(where)]
    assert [bool(rule.confirm) for rule in rules] == told


def test_behind_a_sentence_of_no_place_a_place_holds_for_its_own_sentence_alone() -> None:
    rules = read_text("Walls get two coats matt. Den ceiling one coat. Doors two coats gloss.").rules
    assert [rule.scope.get("room", "") for rule in rules] == ["", "den", ""]
