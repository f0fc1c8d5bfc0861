"""Names of places built of words: a room with what belongs to its name, numbered parts of a building."""

from __future__ import annotations

import pytest

from darby.reading.parsing.naming.place_names import with_whole_names
from reads import language


def rooms(text: str) -> list[str]:
    lexicon = language().lexicon
    return [t.value for t in with_whole_names(lexicon.tags(text), text, lexicon.names)[0] if t.name == "room"]


NAMED = {
    "walls of the Law Library": ["law library"],
    "Blocks B and C: walls": ["block b", "block c"],
    "Blocks A, B and D": ["block a", "block b", "block d"],
    "Blocks 2 and 3: walls": ["block 2", "block 3"],
    "floors 4 and 5": ["floor 4", "floor 5"],
    "walls on Level 2": ["level 2"],
    "Type C apartments": ["type c apartment"],
    "Drying Rooms": ["drying room"],
    "Stair A walls": ["stair a"],
}


@pytest.mark.parametrize("text", NAMED)
def test_a_place_has_its_whole_name(text: str) -> None:
    assert rooms(text) == NAMED[text]


@pytest.mark.parametrize("text", ["Finish to Level 2.", "Type C board", "Each Room", "block b", "Level 2 finish"])
def test_words_that_mean_something_else_name_none(text: str) -> None:
    assert [room for room in rooms(text) if room != "room"] == []
