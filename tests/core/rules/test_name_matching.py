"""Names as people write them: which room, surface or sheen is meant by another spelling of it."""

from __future__ import annotations

import pytest

from darby.rules.name_matching import in_room, meets, plain


@pytest.mark.parametrize(
    ("said", "room"),
    [
        ("bath", "Bathroom 2"),
        ("bathrooms", "Bath 2"),
        ("bathrooms", "Master Bathroom"),
        ("corridors", "Corridor"),
        ("Corridor", "North corridors, level 2"),
        ("living room", "Living"),
        ("storage rooms", "Storage 4"),
        ("lobbies", "Lobby"),
        ("classes", "Class 4"),
        ("room 12", "Room 12"),
        ("hall", "Hallway"),
    ],
)
def test_a_room_is_known_by_its_usual_names(said: str, room: str) -> None:
    assert in_room(said, room)


@pytest.mark.parametrize(
    ("said", "room"),
    [
        ("room 1", "Room 12"),
        ("1", "10"),
        ("12", "Room 121"),
        ("den", "Dentist"),
        ("bath 2", "Bath 3"),
        ("north corridor", "Corridor"),
        ("kitchen", ""),
        ("", "Kitchen"),
        ("office", "Kitchen"),
    ],
)
def test_another_room_is_not_taken_for_it(said: str, room: str) -> None:
    assert not in_room(said, room)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("party", "parties"),
        ("entry", "entries"),
        ("box", "boxes"),
        ("porch", "porches"),
        ("bush", "bushes"),
        ("case", "cases"),
        ("hall", "halls"),
        ("Lounge", "LOUNGES"),
    ],
)
def test_singular_and_plural_are_one_name_either_way_round(one: str, other: str) -> None:
    for said, room in ((one, other), (other, one)):
        assert in_room(said, f"{room} 2")
        assert in_room(f"{said} 2", f"West {room}, 2")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("boss", "bos"),  # a double s is no plural
        ("gas", "ga"),  # too short to be one
        ("bus", "bu"),
        ("ties", "t"),
        ("pie", "py"),
        ("hal", "hall"),  # three letters begin too many words
        ("b12", "b120"),  # a code is no beginning of another
        ("2a", "2ab"),
    ],
)
def test_what_only_looks_like_another_name_is_none(one: str, other: str) -> None:
    assert not in_room(one, other)
    assert not in_room(other, one)


def test_room_says_something_where_nothing_else_is_said() -> None:
    assert in_room("rooms", "Room 12")
    assert not in_room("room", "Hall")
    assert in_room("room 12", "Office 12")
    assert not in_room("room", "")


def test_every_word_must_be_met_and_signs_say_nothing() -> None:
    assert in_room("north, corridor", "Corridor (north)")
    assert not in_room("north corridor", "South corridor")
    assert not in_room("-", "-")
    assert in_room("B-2", "2 / B")


def test_other_keys_are_met_by_the_same_words_in_any_case_and_spacing() -> None:
    assert meets("sheen", "Semi-Gloss", "semi-gloss")
    assert meets("name", "North  wall", "north wall")
    assert not meets("surface", "walls", "wall")
    assert not meets("name", "wall 1", "wall 12")
    assert meets("room", "walls", "wall")
    assert meets("type", "moisture resistant", "Moisture resistant + type X")  # goods of two sorts at once
    assert not meets("type", "moisture resistant + type X", "type X")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", ""),
        ("  ", ""),
        ("North  WALL", "north wall"),
        ("A/B 1.2", "a/b 1.2"),
        ("semi_gloss-2", "semi gloss - 2"),
        ("ß", "ss"),
    ],
)
def test_names_are_compared_without_case_and_spacing(text: str, told: str) -> None:
    assert plain(text) == told
