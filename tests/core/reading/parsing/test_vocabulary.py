"""Words of a plugin, from their text or from tables made of it."""

from __future__ import annotations

import tomllib

import pytest

from darby.reading.parsing.vocabulary import Vocabulary, made_of, strings
from darby.text.spans import Source

TEXT = '[wood]\noak = ["oak", "white oak"]\npine = "deal"\n[plain]\nwords = ["the", "a"]\n'


def test_tables_made_beforehand_are_the_text_s_own() -> None:
    assert Vocabulary("w", Source("w", TEXT), made_of(TEXT)).tables == tomllib.loads(TEXT)
    assert Vocabulary("w", Source("w", TEXT)).tables == tomllib.loads(TEXT)


def test_tables_of_another_text_are_left_unused() -> None:
    other = TEXT.replace("deal", "fir")
    assert Vocabulary("w", Source("w", other), made_of(TEXT)).tables == tomllib.loads(other)


def test_the_words_of_some_tables() -> None:
    vocabulary = Vocabulary("w", Source("w", TEXT))
    assert list(vocabulary.words("wood")) == ["oak", "white oak", "deal"]
    assert list(vocabulary.words("plain", "nothing", "wood"))[:2] == ["the", "a"]


def test_strings_of_anything() -> None:
    assert strings("x") == ["x"]
    assert strings(["x", 2]) == ["x", "2"]
    assert strings({"x": 1}) == []


def test_a_text_that_is_no_toml_says_so() -> None:
    with pytest.raises(tomllib.TOMLDecodeError):
        _ = Vocabulary("w", Source("w", "[wood")).tables
