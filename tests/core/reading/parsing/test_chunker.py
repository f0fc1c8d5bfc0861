"""A clause's tags fall into sentences, parts with a label, and phrases around their facts."""

from __future__ import annotations

import pytest

from darby.reading.parsing.chunker import sentences
from darby.reading.parsing.sentence import Sentence
from darby.testing.cases import rule_said
from reads import language, read_text


def taken_apart(text: str) -> list[Sentence]:
    tags = language().lexicon.tags(text)
    facts = [fact for reader in language().readers for fact in reader.facts(tags, text)]
    return sentences(tags, facts, text)


def said(text: str) -> list[list[list[str]]]:
    """For each sentence, for each part, the kinds of its phrases' facts."""
    return [
        [[f.kind or "measure" for p in part.phrases for f in p.facts] for part in s.parts] for s in taken_apart(text)
    ]


def test_a_full_stop_ends_a_sentence_and_an_abbreviation_does_not() -> None:
    assert said("Screws 12 in. o.c. on walls. Two coats of primer.") == [[["spacing"]], [["coats"]]]


def test_a_semicolon_begins_a_part() -> None:
    assert said("Walls: one coat primer; ceilings: two coats flat.") == [[["coats"], ["coats"]]]


def test_words_before_a_colon_are_the_label_of_their_part() -> None:
    [sentence] = taken_apart("Walls: one coat primer; ceilings: two coats flat.")
    assert [[t.value for t in part.label] for part in sentence.parts] == [["wall"], ["ceiling"]]


def test_a_part_without_a_label_takes_the_first_one() -> None:
    [sentence] = taken_apart("Screws: 12 in. o.c. on ceilings; 16 in. o.c. on walls.")
    assert [[t.value for t in part.label] for part in sentence.parts] == [["screw"], ["screw"]]


def test_a_comma_between_two_facts_makes_two_phrases() -> None:
    [sentence] = taken_apart("Screws: 12 in. o.c. on ceilings, 16 in. o.c. on walls.")
    assert [[t.value for t in p.tags if t.name == "surface"] for p in sentence.phrases] == [["ceiling"], ["wall"]]


def test_a_break_inside_a_fact_is_none() -> None:
    assert said("Primer covers between 250 and 300 sq ft per gallon.") == [[["coverage"]]]


def test_words_behind_the_last_fact_are_the_tail() -> None:
    [sentence] = taken_apart("One coat primer and two coats eggshell, walls and ceilings.")
    assert {t.value for t in sentence.parts[0].tail if t.name == "surface"} | {
        t.value for p in sentence.phrases for t in p.tags if t.name == "surface"
    } == {"wall", "ceiling"}


def test_every_fact_lies_in_exactly_one_phrase() -> None:
    text = "Walls: 5/8 in. board, screws 12 in. o.c.; two coats primer at 300 sq ft/gal, and 1 gal cans. " * 30
    tags = language().lexicon.tags(text)
    facts = [fact for reader in language().readers for fact in reader.facts(tags, text)]
    held = [id(f) for s in sentences(tags, facts, text) for p in s.phrases for f in p.facts]
    assert sorted(held) == sorted(map(id, facts))


STEPS = {
    "Screws - field: 12 in. o.c., edges: 8 in. o.c.":
        ["spacing of screw (where field): 12 in", "spacing of screw (where edge): 8 in"],
    "Screw length - first layer: 25 mm, second layer: 42 mm":
        ["fastener length of screw (layer base): 25 mm", "fastener length of screw (layer face): 42 mm"],
    "Finish level - archive: Level 5, store: Level 2, library: Level 4":
        [f"finish level of gypsum board (room {room}): {n}" for room, n in (("archive", 5), ("store", 2), ("library", 4))],
    "Joint compound - joints: three coats, inside corners: two coats":
        ["coats of joint compound (where joint): 3", "coats of joint compound (where inside corner): 2"],
    "Paint: walls: two coats; ceilings: one coat":
        ["coats of finish paint (surface wall): 2", "coats of finish paint (surface ceiling): 1"],
    "Corridor: walls: Level 4, ceilings: Level 3":
        [f"finish level of gypsum board (room corridor, surface {on}): {n}" for on, n in (("wall", 4), ("ceiling", 3))],
    "Walls: base layer: 24 in. o.c. screws; face layer: 12 in. o.c. screws":
        [f"spacing of screw (layer {one}, surface wall): {n} in" for one, n in (("base", 24), ("face", 12))],
    # a label that has a place of its own is of no other
    "Office: walls: Level 4, lobby: Level 5.":
        ["finish level of gypsum board (room office, surface wall): 4", "finish level of gypsum board (room lobby): 5"],
}  # fmt: skip


@pytest.mark.parametrize("text", STEPS)
def test_members_of_a_list_with_labels_of_their_own_are_parted(text: str) -> None:
    assert [rule_said(rule) for rule in read_text(text).rules] == STEPS[text]
