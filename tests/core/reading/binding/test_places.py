"""Where a fact holds: rooms and surfaces of one chain of words are paired there, and none is said of what it is not."""

from __future__ import annotations

import pytest

from darby.reading.binding.places import chains, pairs
from darby.reading.parsing.tagging.tag import Tag
from reads import said


def tags(text: str) -> list[Tag]:
    """`room:bath OF surface:wall` as tags, one behind the other."""
    parts = (word.partition(":") for word in text.split())
    return [Tag(n, n + 1, name, value) for n, (name, _, value) in enumerate(parts)]


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("surface:wall OF room:bath", [["wall", "bath"]]),
        ("surface:wall AND surface:ceiling COMMA room:hall", [["wall", "", "ceiling", "hall"]]),
        ("room:bath subject:primer room:hall", [["bath"], ["hall"]]),
        ("NUMBER:2 subject:primer", []),
    ],
)
def test_places_that_are_named_together_are_one_chain(words: str, found: list[list[str]]) -> None:
    assert [[t.value for t in chain] for chain in chains(tags(words))] == found


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("surface:wall room:bath surface:ceiling room:kitchen", [("bath", "wall"), ("kitchen", "ceiling")]),
        ("room:court surface:wall room:rotunda surface:soffit", [("court", "wall"), ("rotunda", "soffit")]),
        ("room:bath room:hall surface:wall", [("bath", "wall"), ("hall", "wall")]),
        ("surface:wall surface:ceiling room:hall", [("hall", "wall"), ("hall", "ceiling")]),
        ("room:bath room:bath", [("bath", "")]),
        ("surface:wall", [("", "wall")]),
    ],
)
def test_each_run_of_rooms_goes_with_the_run_of_surfaces_beside_it(words: str, found: list[tuple[str, str]]) -> None:
    assert pairs(tags(words)) == found


def test_a_pair_is_two_places_and_not_two_times_two() -> None:
    assert said("Walls of baths and ceilings in kitchens: two coats semi-gloss finish paint.") == [
        "coats of finish paint (room bath, sheen semi-gloss, surface wall): 2",
        "coats of finish paint (room kitchen, sheen semi-gloss, surface ceiling): 2",
    ]


def test_rooms_of_a_list_each_get_the_fact() -> None:
    rooms = ["kitchen", "bath", "hall"]
    assert said("Two coats of finish paint to the kitchen, bath and hall.") == [
        f"coats of finish paint (room {room}): 2" for room in rooms
    ]
