"""Walls of a room by what they stand against."""

from __future__ import annotations

import pytest

from reads import said

BLOCK = "HALL\nWalls: one coat flat.\nKITCHEN\n{}"


@pytest.mark.parametrize(
    ("line", "rule"),
    [
        ("Hall wall: two coats satin.", "(facing hall, room kitchen, sheen satin, surface wall)"),
        ("Party wall: two coats satin.", "(facing party, room kitchen, sheen satin, surface wall)"),
        ("Garden wall: two coats satin.", "(facing garden, room kitchen, sheen satin, surface wall)"),
        ("Hall wall and garden wall: two coats satin.", "(facing hall or garden, room kitchen, sheen satin, surface wall)"),
        ("Kitchen wall: two coats satin.", "(room kitchen, sheen satin, surface wall)"),  # its own name tells none apart
        ("Hall walls: two coats satin.", "(room hall, sheen satin, surface wall)"),  # several are those of the hall
        ("Each wall: two coats satin.", "(room kitchen, sheen satin, surface wall)"),
    ],
)  # fmt: skip
def test_one_wall_in_the_block_of_a_room_is_a_wall_of_that_room(line: str, rule: str) -> None:
    assert f"coats of finish paint {rule}: 2" in said(BLOCK.format(line))


def test_outside_of_a_block_it_is_the_wall_of_the_room_that_it_is_called_after() -> None:
    assert said("Hall wall: two coats satin.") == [
        "coats of finish paint (room hall, sheen satin, surface wall): 2",
    ]
    under_a_floor = said("LEVEL 2\nHall wall: two coats satin.\nLEVEL 3\nHall wall: one coat satin.")
    assert all("facing" not in rule for rule in under_a_floor)


def test_a_word_that_tells_one_wall_from_another_does_so_everywhere() -> None:
    assert said("Office walls: two coats flat.\nOffice accent wall: two coats satin.") == [
        "coats of finish paint (room office, sheen flat, surface wall): 2",
        "coats of finish paint (facing accent, room office, sheen satin, surface wall): 2",
    ]
