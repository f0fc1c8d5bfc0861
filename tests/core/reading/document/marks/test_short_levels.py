"""Levels by their letter: where a code is one, and where it is a storey or a mark."""

from __future__ import annotations

import pytest

from reads import said

BOTH = ["finish level of gypsum board (surface wall): 4", "finish level of gypsum board (surface ceiling): 5"]
ROOMS = ["finish level of gypsum board (room archive): 5", "finish level of gypsum board (room store): 2"]


@pytest.mark.parametrize(
    "text",
    [
        "Walls L4, ceilings L5.",
        "Walls: L4. Ceilings: L5.",
        "L4 on walls and L5 on ceilings.",
        "Tape and finish walls to L4, ceilings to L5.",
        "GWB finish: L4 walls, L5 ceilings.",
        "Walls - L4 finish\nCeilings - L5 finish",
        "Surface | GWB finish\nWalls | L4\nCeilings | L5",
        "Item | Walls | Ceilings\nDrywall finish level | L4 | L5",
        "LEVELS OF FINISH\nWalls: L4\nCeilings: L5",
    ],
)
def test_a_code_of_a_level_is_one(text: str) -> None:
    assert said(text) == BOTH


@pytest.mark.parametrize(
    "text",
    [
        "FINISH LEVELS\n- L5: archive\n- L2: store",
        "Drywall finish at archive L5, at store L2.",
        "Room      GWB finish\nArchive   L5\nStore     L2",
    ],
)
def test_rooms_have_such_levels_where_words_speak_of_these(text: str) -> None:
    assert said(text) == ROOMS


@pytest.mark.parametrize(
    "text",
    [
        "L4 corridor: two coats of paint.",
        "Deliver board to L3.",
        "Tape joints on L3 corridor walls.",
        "L4: two coats of lacquer.\nWalls L4.",
        "Taping: walls L4.\nDoors L12.",
        "Archive L5, store L2.",
    ],
)
def test_a_storey_and_a_mark_are_no_levels(text: str) -> None:
    assert not [rule for rule in said(text) if rule.startswith("finish level")]
