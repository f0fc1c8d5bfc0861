"""Cells under the head of a column of colors."""

from __future__ import annotations

import pytest

from darby.reading.document.blocks.color_cells import whole_color


def test_a_cell_under_such_a_head_is_a_color_whole() -> None:
    [tag] = whole_color(" CEILING  WHITE ")
    assert (tag.name, tag.value) == ("color", "ceiling white")
    assert whole_color("3") == []


@pytest.mark.parametrize("said", ["TBD", "see note 3", "by the owner", "", "to match"])
def test_words_that_say_where_the_color_is_said_are_none(said: str) -> None:
    assert whole_color(said) == []


def test_two_names_of_which_one_will_do_are_a_choice() -> None:
    assert [(t.name, t.value) for t in whole_color("Slate or Fern")] == [
        ("color", "slate"),
        ("EITHER", ""),
        ("color", "fern"),
    ]
