"""The longest phrase that stands at a place, whole words only."""

from __future__ import annotations

from darby.reading.parsing.tagging.tag import Tag
from reads import language


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
