"""Rooms as texts name them."""

from __future__ import annotations

import pytest

from darby.reading.parsing.tagging.room_names import ROOM, is_led, singular


@pytest.mark.parametrize(
    ("said", "one"),
    [("bathrooms", "bathroom"), ("lobbies", "lobby"), ("glass", "glass"), ("law  library", "law library"), ("baths", "bath")],
)  # fmt: skip
def test_a_room_is_one_however_many_there_are(said: str, one: str) -> None:
    assert singular(said) == one


@pytest.mark.parametrize("text", ["music room", "Drying Rooms", "ticket offices", "mother's room"])
def test_a_word_before_room_names_one(text: str) -> None:
    found = ROOM.match(text)
    assert found is not None
    assert found[0] == text


@pytest.mark.parametrize("text", ["each room", "all rooms", "the room", "a room", "music roommate", "x2 rooms"])
def test_a_word_that_counts_or_points_does_not(text: str) -> None:
    assert ROOM.match(text) is None


@pytest.mark.parametrize(
    ("text", "led"),
    [
        ("two coats in baths", True),
        ("two coats in the baths", True),
        ("walls of all other baths", True),
        ("baths", True),
        ("walls, baths", True),
        ("except public baths", True),
        ("longest lengths that baths", False),
    ],
)
def test_a_word_that_leads_to_a_room_says_that_something_is_in_it(text: str, led: bool) -> None:
    assert is_led(text, text.index("baths")) is led
