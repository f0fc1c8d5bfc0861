"""What may be counted twice, or once where it is there several times."""

from __future__ import annotations

import pytest

from measures import checks, room, told, wall

OFFICE = room("Office")
LID = '[[ceilings]]\nname = "lid"\nlength = "12 ft"\nwidth = "10 ft"\nroom = "Office"\n'


@pytest.mark.parametrize(
    ("rows", "at"),
    [
        (room("Office 204") + room("Office", more="number = 204"), "Office"),
        (room("Office", more="number = 204") + room("Study", more="number = 204"), "Study"),
        (room("Office-1") + room("Office 1"), "Office 1"),
        (room("Office", more="count = 3") + room("Office 2"), "Office 2"),
        (OFFICE + LID, "lid"),
        (OFFICE + wall("north", "12 ft", more='room = "Office"'), "north"),
        (OFFICE + room("Lobby", "20 ft", "14 ft") + wall("party", "10 ft", more='between = ["Office", "Lobby"]'), "party"),
    ],
)  # fmt: skip
def test_what_may_be_counted_twice_is_shown(rows: str, at: str) -> None:
    assert told(rows) == [("measure-twice", at)]


@pytest.mark.parametrize(
    "rows",
    [
        room("Office 1") + room("Office 2"),
        room("Office", more='number = 204\nfloor = "2"') + room("Study", more='number = 204\nfloor = "3"'),
        room("Office", more='also = ["dry area"]') + room("Study", more='also = ["dry area"]'),
        room("Office", more="count = 3") + room("Office 9", "20 ft"),
        room("Office", more="ceiling = false") + LID,
        OFFICE + wall("partition", "7 ft", more='room = "Office"\nfaces = 2'),
        OFFICE + '[[soffits]]\nname = "s"\nroom = "Office"\nlength = "12 ft"\nwidth = "2 ft"\ndrop = "1 ft"\n',
        '[[rooms]]\nname = "Office"\nnumber = 204\nwalls = "PT-1"\n' + wall("a", more='room = "Office"'),
    ],
)
def test_what_is_two_things_is_not(rows: str) -> None:
    assert told(rows) == []


def test_a_wall_in_a_room_that_stands_for_several_is_counted_once_and_said_so() -> None:
    rows = room("Office", more="count = 3") + '[[rooms]]\nname = "Corridor"\nwalls = "PT-1"\n'
    (one,) = checks(rows + wall("office partition", "7 ft", more='between = ["Office", "Corridor"]'))
    assert one.code == "measure-count"
    assert one.message == "office partition in Office is counted once, and Office stands for 3 rooms"
    (two,) = checks(
        room("Office", more="count = 3") + "".join(wall(f"p{n}", f"{n} ft", more='room = "Office"') for n in (5, 6, 7))
    )
    assert two.message.startswith("p5 and 2 other rows in Office are counted once")


def test_a_wall_that_says_how_many_there_are_is_not_asked_about() -> None:
    assert not checks(room("Office", more="count = 3") + wall("p", "7 ft", more='room = "Office"\ncount = 3'))


def test_the_order_of_rows_does_not_matter() -> None:
    assert told(LID + OFFICE) == [("measure-twice", "lid")]


def test_a_name_of_either_settles_it() -> None:
    for name in ("lid", "Office"):
        assert told(OFFICE + LID, f'checked = ["{name}"]') == []
