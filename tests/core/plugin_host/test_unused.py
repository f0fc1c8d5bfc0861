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
