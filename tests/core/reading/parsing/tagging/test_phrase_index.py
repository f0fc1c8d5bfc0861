"""The longest phrase that stands at a place, whole words only."""

from __future__ import annotations

import re

import pytest

from darby.reading.parsing.tagging.phrase_index import PhraseIndex, any_phrase, first_letters
from darby.reading.parsing.tagging.tag import Tag
from reads import language

INDEX = PhraseIndex(
    {
        "wax": ("subject", "wax"),
        "hard wax": ("type", "hard"),
        "plain {wax}": ("type", "plain"),
        "plain": ("look", "plain"),
        "rub {=where}": ("NEUTRAL", ""),
        "rub": ("verb", "rub"),
        "seams": ("where", "seam"),
        "new": ("condition", "new"),
        "#2": ("code", "2"),
    }
)


def tags(text: str) -> list[Tag]:
    return language().lexicon.tags(text)


def test_the_longest_phrase_wins() -> None:
    [tag] = tags("joint compound")
    assert (tag.value, tag.start, tag.end) == ("joint compound", 0, 14)


def test_a_word_inside_a_word_is_none() -> None:
    assert tags("boardroomy") == []
    assert tags("m2x") == []


def test_case_and_wide_blanks_do_not_matter() -> None:
    assert [t.value for t in tags("JOINT   COMPOUND")] == ["joint compound"]


def at(text: str, start: int = 0) -> tuple[int, tuple[str, str]] | None:
    return INDEX.at(text, start, first_letters(text, start))


def test_a_phrase_ends_where_its_words_end() -> None:
    assert at("hard wax on oak") == (8, ("type", "hard"))
    assert at("hard waxed") is None
    assert at("wax") == (3, ("subject", "wax"))
    assert at("#2 wax") == (2, ("code", "2"))


def test_a_few_blanks_between_the_words_of_a_phrase_do_not_matter() -> None:
    assert at("hard   wax") == (10, ("type", "hard"))


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("plain wax", ("type", "plain")),
        ("plain new wax", ("type", "plain")),
        ("plain oak", ("look", "plain")),
        ("plain", ("look", "plain")),
        ("rub seams", ("NEUTRAL", "")),
        ("rub wax", ("verb", "rub")),
    ],
)
def test_a_phrase_may_wait_for_what_stands_behind_it(text: str, meaning: tuple[str, str]) -> None:
    found = at(text)
    assert found == (len(text.split(maxsplit=1)[0]), meaning)


def test_any_of_some_phrases_the_longest_first_and_none_of_none() -> None:
    assert re.findall(any_phrase(["a wall", "wall", "a"]), "a\nwall, a, wall") == ["a\nwall", "a", "wall"]
    assert re.search(any_phrase([]), "wall") is None
