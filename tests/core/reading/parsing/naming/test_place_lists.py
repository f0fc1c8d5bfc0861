"""Places listed beside one that is known."""

from __future__ import annotations

import pytest

from darby.reading.parsing.naming.open_places import with_places
from darby.reading.parsing.naming.place_lists import with_listed_places
from reads import language


def rooms(text: str) -> list[str]:
    lexicon = language().lexicon
    return [t.value for t in with_places(lexicon.tags(text), text, lexicon.names) if t.name == "room"]


LISTED = {
    "walls of the Orangery and the Fish Cleaning Station.": ["orangery", "fish cleaning station"],
    "The dye kitchen and wool wash get two coats": ["dye kitchen", "wool wash"],
    "Corridors, cafetoriums and band halls take board on walls.": ["corridor", "cafetorium", "band hall"],
    "throughout the kitchen and wash-up.": ["kitchen", "wash-up"],
    "walls of courtrooms and of the ceremonial lobby": ["courtroom", "ceremonial lobby"],
    "Kitchens and taproom walls: two coats": ["kitchen", "taproom"],
    "Wine Loft and Kitchen: two coats eggshell": ["wine loft", "kitchen"],
    "Mudroom + half bath get board": ["mudroom", "half bath"],
}


@pytest.mark.parametrize("text", LISTED)
def test_what_stands_beside_a_place_is_one(text: str) -> None:
    assert rooms(text) == LISTED[text]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("in kitchens and wherever shown", ["kitchen"]),
        ("in the kitchen and painted twice", ["kitchen"]),
        ("in corridors, rolled on", ["corridor"]),
        ("in offices and approved by the architect", ["office"]),
        ("in kitchens, semi-gloss", ["kitchen"]),
        ("kitchen and board", ["kitchen"]),
    ],
)
def test_what_means_something_else_is_none(text: str, found: list[str]) -> None:
    assert rooms(text) == found


def test_a_sign_of_addition_between_places_joins_them() -> None:
    lexicon = language().lexicon
    text = "kitchen + office walls"
    assert [t.name for t in with_listed_places(lexicon.tags(text), text, lexicon.names)] == [
        "room",
        "AND",
        "room",
        "surface",
    ]
