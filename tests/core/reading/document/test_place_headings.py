"""Headings of places, and what stands below them."""

from __future__ import annotations

import pytest

from reads import read_text

BELOW = "\n\nStoff from the landlord.\n\n{}\nWalls get one coat of primer.\n\nDOORS\nTwo coats gloss on doors.\n\nSTAIRS\nWalls get two coats matt."


def held(heading: str) -> list[str]:
    """Where the first rule below a heading holds."""
    rules = read_text("From: Ada Grey\nTo: Bert" + BELOW.format(heading)).rules
    return [rule.scope.get("room", "") for rule in rules if str(rule.subject) == "primer"]


@pytest.mark.parametrize(
    ("heading", "rooms"),
    [
        ("LOBBY AND BAR", ["lobby", "bar"]),
        ("SAUNA, LOUNGE & LOBBY", ["sauna", "lounge", "lobby"]),
        ("BEDROOMS (all)", ["bedroom"]),
        ("BEDROOMS (12, 14 and 16)", ["bedroom"]),
        ("BEDROOMS, 2ND FLOOR (201-208)", ["2nd floor bedroom"]),
        ("OFFICES, GROUND FLOOR", ["ground floor office"]),
        ("LOBBY BY OTHERS", []),
        ("BEDROOMS (see below)", ["bedroom"]),
        ("PLASTER AND PAINT", [""]),
    ],
)  # fmt: skip
def test_a_heading_of_places_says_where(heading: str, rooms: list[str]) -> None:
    assert held(heading) == rooms
