"""Places that no list knows, by where they stand; a word that merely describes is none."""

from __future__ import annotations

import pytest

from darby.reading.parsing.naming.open_places import with_places
from reads import language


def rooms(text: str) -> list[str]:
    lexicon = language().lexicon
    return [t.value for t in with_places(lexicon.tags(text), text, lexicon.names) if t.name == "room"]


PLACES = {
    "In the Zedrium: two coats.": ["zedrium"],
    "Zedrium walls: two coats.": ["zedrium"],
    "two coats on walls of the Zedrium.": ["zedrium"],
    "Zedrium: two coats satin.": ["zedrium"],
    "In the Kitchen, Zedrium and Hall: two coats.": ["kitchen", "zedrium", "hall"],
    "Two coats satin in the kitchen and Zedrium": ["kitchen", "zedrium"],
    "Kitchen and Zedrium walls: two coats.": ["kitchen", "zedrium"],
    "Zedrium and walls: two coats.": ["zedrium"],
    "Kitchen, Zedrium: two coats": ["kitchen", "zedrium"],
    "Zedrium Foyer gets two coats.": ["zedrium foyer"],
}


@pytest.mark.parametrize("text", PLACES)
def test_a_name_that_stands_as_a_place_is_one(text: str) -> None:
    assert rooms(text) == PLACES[text]


@pytest.mark.parametrize(
    "text",
    [
        "two coats on exposed walls",
        "Two coats on zedrium walls.",
        "Zedrium two coats.",
        "New Zedrium: two coats.",
        "Zedrium and exterior: two coats.",
        "All, Zedrium: 2",
        "Zedrium: by others.",
        "Manufacturer: Zedrium.",
        "Provide Zedrium finish paint.",
    ],
)
def test_what_only_describes_or_names_a_maker_is_none(text: str) -> None:
    assert rooms(text) == []
