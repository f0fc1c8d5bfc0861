"""Looks told place by place behind what is counted once."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from darby.reading.binding.looks_by_place import Shared, shared_by_looks
from darby.reading.parsing.chunker import sentences
from darby.reading.parsing.sentence import Sentence
from reads import language, said

CHOSEN = language().lexicon.chosen


def sentence(text: str) -> Sentence:
    lang = language()
    tags = lang.lexicon.tags(text)
    return sentences(tags, [f for r in lang.readers for f in r.facts(tags, text)], text)[0]


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("two coats: eggshell on walls, flat on ceilings", [("", "wall"), ("", "ceiling")]),
        ("two coats (walls eggshell, ceilings flat)", [("", "wall"), ("", "ceiling")]),
        ("two coats: semi-gloss in kitchens, eggshell elsewhere", ()),
        ("two coats: satin on doors and trim, flat on walls", [("", "door"), ("", "trim"), ("", "wall")]),
    ],
)
def test_the_places_of_all_looks_are_those_of_the_count(text: str, places: Sequence[tuple[str, str]]) -> None:
    assert shared_by_looks(sentence(text), CHOSEN) == Shared("finish paint", places)


@pytest.mark.parametrize(
    "text",
    [
        "two coats eggshell on walls",
        "two coats: flat",
        "two coats: flat on walls, ceilings",
        "flat on walls, satin on doors",
    ],
)
def test_one_look_or_none_is_no_such_list(text: str) -> None:
    assert shared_by_looks(sentence(text), CHOSEN) is None


def test_its_own_place_stays_with_each() -> None:
    assert said("Office: two coats of paint (walls eggshell, ceilings flat).") == [
        "coats of finish paint (room office, surface wall): 2",
        "coats of finish paint (room office, surface ceiling): 2",
        "sheen of finish paint (room office, surface wall): eggshell",
        "sheen of finish paint (room office, surface ceiling): flat",
    ]
