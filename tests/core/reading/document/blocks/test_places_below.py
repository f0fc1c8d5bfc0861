"""Lists of places below what holds there."""

from __future__ import annotations

import pytest

from reads import read_text, said

HELD = {
    "Level 2 finish at:\n- Archive\n- Store": [
        "finish level of gypsum board (room archive): 2",
        "finish level of gypsum board (room store): 2",
    ],
    "B. Level 5 at the following:\n   1. North wall of gallery.\n   2. Ceilings of gallery and foyer.\n   3. Walls receiving gloss paint.": [
        "finish level of gypsum board (facing north, room gallery, surface wall): 5",
        "finish level of gypsum board (room gallery, surface ceiling): 5",
        "finish level of gypsum board (room foyer, surface ceiling): 5",
        "finish level of gypsum board (surface wall, where under gloss paint): 5",
    ],
    "Two coats of gloss to the following:\n- Archive walls\n- Store": [
        "coats of finish paint (room archive, sheen gloss, surface wall): 2",
        "coats of finish paint (room store, sheen gloss): 2",
    ],
    "Screws 8 in. o.c. at:\n- edges\n- outside corners": [
        "spacing of screw (where edge): 8 in",
        "spacing of screw (where outside corner): 8 in",
    ],
    "Walls, Level 4 finish:\n- Archive\n- Store": [
        "finish level of gypsum board (room archive, surface wall): 4",
        "finish level of gypsum board (room store, surface wall): 4",
    ],
}


@pytest.mark.parametrize("text", HELD)
def test_what_leads_to_a_list_of_places_holds_there(text: str) -> None:
    assert said(text) == HELD[text]
    assert len([n for n in read_text(text).numbers if n.became == "read"]) == 1


ELSE = {
    "Screws 12 in. o.c.:\n- Use bugle heads\n- Do not break the paper": ["spacing of screw: 12 in"],
    "Level 4 except at the following:\n- Archive\n- Store": ["finish level of gypsum board: 4"],
    "Gypsum board, 1/2 in. thick:\n- Regular\n- Moisture resistant": ["thickness of gypsum board: 1/2 in"],
}


@pytest.mark.parametrize("text", ELSE)
def test_other_lists_limit_nothing(text: str) -> None:
    assert said(text) == ELSE[text]


def test_a_list_of_which_lines_are_strange_is_to_be_confirmed() -> None:
    rules = read_text("Level 5 at the following:\n- Archive\n- Store\n- Zygote assembly run").rules
    assert len(rules) > 1
    assert all(rule.confirm for rule in rules)
