"""What stands behind the last of several places and is of all of them."""

from __future__ import annotations

import pytest

from reads import read_text, said

ROOMS = "KITCHEN\nWalls: two coats semi-gloss.\n\nSTAIR\nWalls: two coats eggshell.\n"
SCREWS = "spacing of screw: 12 in"
IN_STAIR = "spacing of screw (room stair): 12 in"


def test_a_line_that_a_blank_sets_off_from_the_last_place_is_of_all_and_waits_to_be_confirmed() -> None:
    reading = read_text(ROOMS + "\nScrews at 12 in. o.c.\n")
    assert "room" not in reading.rules[-1].scope
    assert "behind the last of several places" in reading.rules[-1].confirm


def test_a_label_of_the_whole_says_so_itself() -> None:
    for label in ("General", "Generally", "Whole house", "All rooms", "Throughout", "Entire building"):
        for blank in ("", "\n"):
            reading = read_text(f"{ROOMS}{blank}{label}: screws at 12 in. o.c.\n")
            assert ("room" in reading.rules[-1].scope, reading.rules[-1].confirm) == (False, ""), label


def test_a_chapter_behind_the_places_is_of_all() -> None:
    assert said(ROOMS + "\nFASTENERS\nScrews at 12 in. o.c.\n")[-1] == SCREWS
    assert said(ROOMS + "\n1. FASTENERS\n1.1 Screws at 12 in. o.c.\n")[-1] == SCREWS


def test_what_nothing_sets_off_stays_narrow_and_is_told() -> None:
    reading = read_text(ROOMS + "Screws at 12 in. o.c.\n")
    assert said(ROOMS + "Screws at 12 in. o.c.\n")[-1] == IN_STAIR
    assert "may be of all of them" in reading.rules[-1].confirm


def test_where_places_have_blank_lines_in_them_one_more_sets_nothing_off() -> None:
    loose = "KITCHEN\nWalls: two coats semi-gloss.\n\nCeiling: flat.\n\nSTAIR\nWalls: two coats eggshell.\n\n"
    assert said(loose + "Screws at 12 in. o.c.\n")[-1] == IN_STAIR


def test_where_each_place_has_a_general_line_it_is_of_that_place() -> None:
    text = "KITCHEN\nGeneral: two coats primer.\n\nSTAIR\nGeneral: one coat primer.\n"
    assert said(text) == ["coats of primer (room kitchen): 2", "coats of primer (room stair): 1"]


def test_bare_lines_that_name_places_are_a_row_too() -> None:
    text = "Bath 1\nCeiling: 1/2 in. board.\nBath 2\nCeiling: 5/8 in. board.\nThroughout: screws at 12 in. o.c.\n"
    assert said(text)[-1] == SCREWS


@pytest.mark.parametrize("title", ["RECEPTION AND OFFICES", "KITCHEN AND SERVERY", "CLASSROOMS"])
def test_a_title_of_places_over_chapters_limits_none_of_them(title: str) -> None:
    text = f"{title}\n\nAll board 5/8 in.\n\nFASTENERS\nScrews at 12 in. o.c.\n"
    assert said(text) == ["thickness of gypsum board: 5/8 in", SCREWS]


def test_the_first_of_several_places_is_no_title() -> None:
    text = "OFFICES\nWalls: two coats satin.\n\nSTORE ROOMS\nWalls: one coat satin.\n"
    assert [rule.scope["room"] for rule in read_text(text).rules] == ["office", "store room"]
