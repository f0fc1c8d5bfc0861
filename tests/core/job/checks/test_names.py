"""Names a letter off another."""

from __future__ import annotations

import pytest

from darby.job.checks.names import one_letter_off
from measures import checks, room, told, wall


@pytest.mark.parametrize(
    ("one", "other", "off"),
    [
        ("toliet #", "toilet #", True),
        ("ofice", "office", True),
        ("offfice", "office", True),
        ("kitchen", "kitchan", True),
        ("sea green", "sea geen", True),
        ("office", "office", False),
        ("bath", "path", False),
        ("store", "stores", False),
        ("cell a", "cell b", False),
        ("north hall", "south hall", False),
        ("level #", "level", False),
        ("toliet hall", "toilet halls", False),
        ("abcde", "edcba", False),
    ],
)
def test_names_that_differ_in_one_letter_of_a_word(one: str, other: str, off: bool) -> None:
    assert one_letter_off(one, other) is off
    assert one_letter_off(other, one) is off


def test_a_room_that_no_row_describes_and_that_is_a_letter_off_one_is_shown() -> None:
    rows = room("Toilet 108") + wall("screen", "7 ft", more='room = "Toliet 108"')
    (one,) = checks(rows)
    assert one.message == "the room “Toliet 108” is one letter off “Toilet 108”, and counts as another"
    assert [label.span.text for label in one.labels] == ["screen", "Toilet 108"]
    assert told(room("Toilet 107") + wall("screen", "7 ft", more='room = "Toliet 108"')) == []


def test_of_rooms_that_walls_name_the_rarer_is_the_slip() -> None:
    rows = "".join(wall(f"w{n}", more='room = "Kitchen"') for n in range(3)) + wall("odd", more='room = "Kitchne"')
    assert told(rows) == [("measure-name", "odd")]
    even = wall("a", more='room = "Kitchen"') + wall("b", more='room = "Kitchne"')
    assert told(even) == []  # which of the two is meant nobody can say


def test_two_rooms_that_are_both_described_are_two_rooms() -> None:
    assert told(room("Store room 1") + room("Stove room 1", "9 ft")) == []


def test_colors_and_floors_a_letter_off_are_shown() -> None:
    rows = (
        room("A", more='color = "sea green"')
        + room("B", more='color = "sea green"')
        + room("C", more='color = "sea geen"')
    )
    assert told(rows) == [("measure-name", "sea geen")]
    floors = "".join(
        room(n, more=f'floor = "{f}"') for n, f in zip("ABC", ("Level 2", "Level 2", "Levle 2"), strict=True)
    )
    assert told(floors) == [("measure-name", "C")]
