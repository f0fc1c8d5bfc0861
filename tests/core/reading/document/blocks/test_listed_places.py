"""Places that are named in a row, each of them heard."""

from __future__ import annotations

import pytest

from darby.reading.document.blocks.listed_places import label_end, listed_places
from reads import language, said

ROOMS = {
    "Live Tank Hall and Wet Bench Rooms": ["live tank hall", "wet bench room"],
    "Mail Alcove & Loom Store": ["mail alcove", "loom store"],
    "COURTROOM 3A, JURY ROOM, JUDGE'S CHAMBERS": ["courtroom 3a", "jury room", "judge's chamber"],
    "Kitchens, bathrooms and utility room": ["kitchen", "bathroom", "utility room"],
    "Stair 2 / Hall": ["stair 2", "hall"],
    "Trunk Room + Bicycle Cage": ["trunk room", "bicycle cage"],
    "Partitions to foyer and gallery": ["foyer", "gallery"],
    "Old Weigh House, street wall": [],
    "Walls and ceilings": [],
    "Primer, finish paint": [],
    "and ": [],
}


def rooms(text: str, *, sure: bool = False) -> list[str]:
    lexicon = language().lexicon
    tags = listed_places(lexicon.tags(text), text, len(text), lexicon.names, sure=sure)
    return [t.value for t in tags if t.name == "room"]


@pytest.mark.parametrize("text", ROOMS)
def test_where_one_is_a_room_all_are(text: str) -> None:
    assert rooms(text) == ROOMS[text]


def test_what_is_known_to_name_places_needs_no_known_room() -> None:
    assert rooms("Old Weigh House, street wall", sure=True) == ["old weigh house"]
    assert rooms("Witness Waiting, Victim Advocate", sure=True) == ["witness waiting", "victim advocate"]


def test_a_member_that_speaks_of_goods_makes_the_list_none_of_places() -> None:
    assert rooms("Hall, two coats satin") == ["hall"]
    assert said("Hall, primer: one coat.") == ["coats of primer (room hall): 1"]


def test_a_label_ends_at_its_colon_and_no_sentence_is_one() -> None:
    lexicon = language().lexicon
    assert label_end(lexicon.tags("Kitchen and hall: two coats")) == len("Kitchen and hall")
    assert label_end(lexicon.tags("Two coats in kitchens. Halls: one")) == 0
    assert label_end(lexicon.tags("Kitchens")) == 0
