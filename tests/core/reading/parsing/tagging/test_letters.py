"""A text in letters of one size, letter for letter."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.reading.parsing.tagging.letters import capitals_of, small_letters_of


@given(st.text())
def test_every_place_in_the_text_holds(text: str) -> None:
    assert len(capitals_of(text)) == len(small_letters_of(text)) == len(text)


@pytest.mark.parametrize(
    ("text", "small"), [("Two COATS", "two coats"), ("İ Wall", "İ wall"), ("two", "two"), ("5 M²", "5 m²")]
)
def test_small_letters(text: str, small: str) -> None:
    assert small_letters_of(text) == small


@pytest.mark.parametrize(
    ("text", "high"), [("pt-1", "PT-1"), ("Pt-1", "Pt-1"), ("groß pt", "GROß PT"), ("12", "12"), ("ﬁnish", "ﬁNISH")]
)
def test_capitals_where_a_text_has_none_of_its_own(text: str, high: str) -> None:
    assert capitals_of(text) == high
