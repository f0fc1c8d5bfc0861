"""Names that one spot of a document makes known: places in the others too, where they stand as places do."""

from __future__ import annotations

import re

import pytest

from darby.reading.document.learned_places import Learned
from darby.reading.parsing.tagging.tag import Tag
from reads import language, said

KNOWN = Learned(re.compile("Zedrium"))


def rooms(text: str) -> list[str]:
    return [t.value for t in KNOWN.tagged(language().lexicon.tags(text), text) if t.name == "room"]


@pytest.mark.parametrize(
    "text",
    ["Zedrium: two coats.", "Zedrium walls", "in Zedrium two coats", "walls at Zedrium.", "Two coats. Zedrium", "(Zedrium)"],
)  # fmt: skip
def test_a_known_name_that_stands_as_a_place_is_one(text: str) -> None:
    assert rooms(text) == ["zedrium"]


@pytest.mark.parametrize("text", ["apply Zedrium to walls", "Zedrium finish paint", "by Zedrium Corporation"])
def test_a_known_name_that_stands_as_a_maker_does_is_none(text: str) -> None:
    assert rooms(text) == []


def test_a_name_inside_a_known_place_changes_nothing_and_a_document_without_names_learns_none() -> None:
    tags = [Tag(0, 15, "room", "zedrium gallery")]
    assert KNOWN.tagged(tags, "Zedrium gallery: two coats.") == tags
    assert Learned().tagged(tags, "Zedrium: two coats.") is tags


SCHEDULE = "Room | Walls\nZedrium | two coats satin\nKitchen | two coats flat\n\n"


def test_the_room_of_a_schedule_is_known_in_a_note_below_it() -> None:
    note = "Zedrium: three coats finish paint on trim."
    assert said(SCHEDULE + note)[-1] == "coats of finish paint (room zedrium, surface trim): 3"
    assert said(SCHEDULE + note.replace("Zedrium", "Wompus"))[-1].startswith("coats of finish paint (")
