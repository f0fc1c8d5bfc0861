"""Floors, blocks and what else holds rooms: a room said to lie in one is the room of that place alone."""

from __future__ import annotations

import pytest

from darby.reading.parsing.naming.larger_places import holds_others, with_floors, within_larger
from darby.reading.parsing.naming.open_places import with_places
from reads import language


def rooms(text: str) -> list[str]:
    lexicon = language().lexicon
    tags = with_places(with_floors(lexicon.tags(text), text), text, lexicon.names)
    return [t.value for t in within_larger(tags, text, lexicon.names.numbered) if t.name == "room"]


LYING = {
    "on the 2nd and 3rd floors": ["2nd floor", "3rd floor"],
    "walls of the second floor": ["second floor"],
    "on the 2nd through 5th floors": ["2nd through 5th floor"],
    "ground and first storeys": ["ground storey", "first storey"],
    "corridors on 2nd and 3rd floors: walls": ["2nd floor corridor", "3rd floor corridor"],
    "Level 2 corridors: two coats": ["level 2 corridor"],
    "second floor corridors and lobbies: walls": ["second floor corridor", "second floor lobby"],
    "Corridors, third floor: walls": ["third floor corridor"],
    "corridors (2nd floor)": ["2nd floor corridor"],
    "Kitchens in Blocks C and D": ["block c kitchen", "block d kitchen"],
    "corridors on 1st floor and offices on 2nd floor": ["1st floor corridor", "2nd floor office"],
    "corridors and lobbies on 2nd, 3rd and 4th floors": [
        f"{floor} floor {room}" for room in ("corridor", "lobby") for floor in ("2nd", "3rd", "4th")
    ],
    "Stair 2 on the third floor": ["third floor stair 2"],
    "closets in corridors, toilets of offices": ["closet", "corridor", "toilet", "office"],
    "on Level 2, in Block B": ["level 2", "block b"],
    "corridors and the second floor": ["corridor", "second floor"],
    "corridors, then offices": ["corridor", "office"],
}


@pytest.mark.parametrize("text", LYING)
def test_a_room_is_that_of_the_place_it_lies_in(text: str) -> None:
    assert rooms(text) == LYING[text]


@pytest.mark.parametrize(
    "text", ["first coat on floors", "second floor-to-ceiling strip", "the floor plan", "two floors"]
)
def test_other_ordinals_and_floors_name_none(text: str) -> None:
    assert rooms(text) == []


def test_which_places_hold_others() -> None:
    words = language().lexicon.names.numbered
    assert all(
        holds_others(one, words) for one in ("level 2", "block b", "second floor", "upstairs", "type c apartment")
    )
    assert not any(holds_others(one, words) for one in ("corridor", "sales floor", "level 2 corridor", "stair a", ""))
