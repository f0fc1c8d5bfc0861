"""Phrases: which words stand close enough to a number to speak of it."""

from __future__ import annotations

import pytest

from darby.reading.parsing.chunker import sentences
from darby.reading.parsing.sentence import Part
from reads import language


def part(text: str) -> Part:
    tags = language().lexicon.tags(text)
    facts = [fact for reader in language().readers for fact in reader.facts(tags, text)]
    (sentence,) = sentences(tags, facts, text)
    (only,) = sentence.parts
    return only


def places(text: str) -> list[list[str]]:
    """The surfaces, rooms and products of each phrase, then those of the tail."""
    found = [*(p.tags for p in part(text).phrases), part(text).tail]
    return [[t.value for t in tags if t.name in ("surface", "room", "subject", "sheen")] for tags in found]


CUT = {
    "screws 12 in. o.c. on ceilings, 16 in. o.c. on walls": [["screw", "ceiling"], ["wall"], []],
    "two coats satin on walls and ceilings": [["satin", "wall", "ceiling"], []],
    "two coats satin on walls and ceilings, one coat primer": [["satin", "wall", "ceiling"], ["primer"], []],
    "screws 16 in. o.c. on walls (12 in. o.c. on ceilings)": [["screw", "wall"], ["ceiling"], []],
    "screws 16 in. o.c. (walls) on trim": [["screw", "wall", "trim"], []],
    "screws 16 in. o.c. on walls (12 in. o.c.)": [["screw", "wall"], []],
    "two coats satin on walls, one coat flat, on ceilings": [["satin", "wall"], ["flat"], ["ceiling"]],
    "primer, 1 coat, and gloss, 2 coats": [["primer"], ["gloss"], []],
    "on walls, two coats satin": [["wall", "satin"], []],
    "walls two coats satin, ceilings, one coat flat": [["wall", "satin"], ["ceiling", "flat"], []],
    "two coats satin, as the architect has it, on walls": [["satin"], ["wall"]],
}


@pytest.mark.parametrize("text", CUT)
def test_words_go_with_the_number_that_they_speak_of(text: str) -> None:
    assert places(text) == CUT[text]


def test_the_words_before_a_phrases_first_number_lead_to_it() -> None:
    (phrase,) = part("on walls, two coats satin").phrases
    assert [t.name for t in phrase.lead] == ["surface", "COMMA"]


def test_an_exception_behind_the_last_number_is_no_tail() -> None:
    assert [t.value for t in part("two coats satin on walls, except in baths").tail if t.name == "room"] == []
