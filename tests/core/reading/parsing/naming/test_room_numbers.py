"""Rooms with their numbers, known by name or not."""

from __future__ import annotations

import pytest

from darby.reading.parsing.naming.place_names import with_whole_names
from darby.reading.parsing.naming.room_numbers import with_room_numbers
from reads import language


def rooms(text: str) -> list[str]:
    lexicon = language().lexicon
    return [t.value for t in with_whole_names(lexicon.tags(text), text, lexicon.names)[0] if t.name == "room"]


NUMBERED = {
    "at walls of Toilet 108, Staff Toilet 204 and Sterilization 107": [
        "toilet 108",
        "staff toilet 204",
        "sterilization 107",
    ],
    "At Corridors 103 and 201, fasten walls": ["corridor 103", "corridor 201"],
    "Level 5 in Orangery 212.": ["orangery 212"],
    "Level 2: Mechanical 109.": ["mechanical 109"],
    "Orangery 212: two coats": ["orangery 212"],
    "in kitchens 4 and 7: two coats": ["kitchen 4", "kitchen 7"],
    "offices 120-125: two coats": ["office 120-125"],
    "consulting rooms 1 to 6 - walls": ["consulting room 1-6"],
    "SHOWERS 114 & 115 WALLS": ["shower 114", "shower 115"],
    "Stairs A and B: three coats": ["stair a", "stair b"],
    "Bed. 2 and 4: two coats": ["bed 2", "bed 4"],
    "walls in Lab. 3 and Mech. 12": ["laboratory 3", "mechanical 12"],
    "walls of Orangery 212 with two coats": ["orangery 212"],
}


@pytest.mark.parametrize("text", NUMBERED)
def test_a_room_has_its_number(text: str) -> None:
    assert rooms(text) == NUMBERED[text]


@pytest.mark.parametrize(
    "text",
    [
        "Screws 300 mm apart",
        "Apply in Orangery 212 coats",
        "to BS 476",
        "Board 1200 x 2400",
        "Use in May 2025 only",
        "Moistrel 204 primer",
        "of Division 099 work",
        "Provide 250 sheets",
        "Add Board 120 sq ft",
        "Paint the walls. 2: paint the doors",
        "Note. 3: two coats",
    ],
)
def test_a_number_that_counts_measures_or_cites_makes_no_room(text: str) -> None:
    assert rooms(text) == []


def test_a_text_without_a_number_is_left_as_it_is() -> None:
    lexicon = language().lexicon
    tags = lexicon.tags("walls of the Orangery")
    assert with_room_numbers(tags, "walls of the Orangery", lexicon.names) == list(tags)
