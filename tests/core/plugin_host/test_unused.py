"""What was read and nobody used is told, and the walls of a room that only the documents tell apart are a question."""

from __future__ import annotations

import pytest

from darby.text.diagnostics import Severity
from desk import estimated

SCHEDULE = """Walls: one coat primer, two coats eggshell.

ROOM FINISH SCHEDULE
Room      North  South  East   West
Saddlery  PT-1   PT-1   PT-2   PT-1

PT-1: satin. PT-2: matte.
"""
ROOM = '[[rooms]]\nname = "Saddlery"\n'
WHOLE = 'length = "12 ft"\nwidth = "10 ft"\nheight = "9 ft"\n'


def test_walls_that_only_the_documents_tell_apart_are_a_question() -> None:
    done = estimated(ROOM + WHOLE, SCHEDULE)
    (told,) = [d for d in done.diagnostics if d.code == "walls-untold"]
    assert told.severity is Severity.QUESTION
    assert "walls of Saddlery" in told.message
    assert "(north PT-1, south PT-1, east PT-2, west PT-1)" in told.message
    assert 'name = "Saddlery north wall"' in told.help


@pytest.mark.parametrize("sides", [("north",), ("north", "south", "east", "west")])
def test_a_room_whose_walls_are_measured_by_their_sides_asks_nothing(sides: tuple[str, ...]) -> None:
    walls = "".join(
        f'[[walls]]\nname = "{side} wall"\nroom = "Saddlery"\nlength = "10 ft"\nheight = "9 ft"\n' for side in sides
    )
    done = estimated(walls, SCHEDULE)
    assert "walls-untold" not in [d.code for d in done.diagnostics]


def test_a_fact_of_a_system_that_no_place_has_is_told_with_its_mark() -> None:
    done = estimated(ROOM + WHOLE, "Walls: two coats eggshell.\n\nWALL TYPES\nW1: two layers gypsum board.")
    told = [d.message for d in done.diagnostics if d.code == "rule-unused"]
    assert any("of W1" in message for message in told), told


def test_what_no_trade_used_in_several_rooms_is_told_once_with_all_of_them() -> None:
    rooms = ("Tack store", "Feed store", "Wash bay", "Loft", "Farriery", "Office")
    schedule = "ROOM FINISH SCHEDULE\nRoom       Walls   Columns\n"
    schedule += "".join(f"{room:11}PT-1    PT-2\n" for room in rooms)
    measured = "".join(ROOM.replace("Saddlery", room) + WHOLE for room in rooms)
    done = estimated(measured, f"{schedule}\nPT-1: two coats satin.\nPT-2: two coats matte.\n")
    (told,) = [d for d in done.diagnostics if d.code == "rule-unused" and "“PT-2”" in d.message]
    assert "on the column in the tack store, feed store, wash bay and 3 more: PT-2" in told.message
    assert [label.span.line for label in told.labels] == [3, 4, 5, 6, 7, 8]


def test_what_is_said_of_all_rooms_is_not_told_with_what_is_said_of_some() -> None:
    said = "Columns: two coats satin.\nColumns in the loft: two coats satin.\nWalls: two coats satin.\n"
    done = estimated(ROOM.replace("Saddlery", "Loft") + WHOLE, said)
    told = [d.message for d in done.diagnostics if d.code == "rule-unused" and "coats of finish paint" in d.message]
    assert len(told) == 2
    assert sum("in the loft" in message for message in told) == 1
