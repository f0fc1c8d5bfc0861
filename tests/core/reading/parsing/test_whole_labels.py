"""Labels that are of the whole and name no place."""

from __future__ import annotations

import pytest

from darby.reading.parsing.whole_labels import with_whole_labels
from reads import said

WORDS = {"balance": "others", "typical": "here", "all rooms": "job", "other rooms": "other places"}


def test_only_labels_are_looked_at() -> None:
    found = with_whole_labels([], "Typical: one. The balance: two; typical walls, balance the rest", WORDS)
    assert [(t.name, t.value) for t in found] == [("EVERYWHERE", "here"), ("ELSEWHERE", "others")]
    assert with_whole_labels([], "all rooms have two", WORDS) == []


@pytest.mark.parametrize("label", ["Others", "Balance", "Remaining rooms", "All other rooms", "Rest of the house"])
def test_what_the_others_have_is_said_of_no_place_that_was_named_before(label: str) -> None:
    assert said(f"Boardroom: Level 5. {label}: Level 4.") == [
        "finish level of gypsum board (room boardroom): 5",
        "finish level of gypsum board: 4",
    ]


def test_the_other_rooms_of_a_floor_are_that_floor_s() -> None:
    text = "LEVEL 2\nLobby: Level 5 finish.\nOther rooms: Level 4 finish.\nLEVEL 3\nLobby: Level 3 finish.\n"
    assert said(text)[1] == "finish level of gypsum board (room level 2): 4"


def test_what_is_of_the_whole_job_is_of_no_heading() -> None:
    assert said("STAIR\nWalls: two coats eggshell.\nAll rooms: Level 4.\n")[-1] == "finish level of gypsum board: 4"
