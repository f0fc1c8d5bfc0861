"""Blanks between words are told from gaps between columns."""

from __future__ import annotations

import pytest

from darby.reading.layout.blanks import WIDE_BLANK, closed_up, single_blanks
from darby.text.spans import Source, View
from reads import language


def single(text: str) -> str:
    return single_blanks(View.of(Source("s", text)), language().known).text


def test_a_text_whose_words_stand_two_blanks_apart_is_read_as_with_one() -> None:
    assert single("Fix  screws  at  12  in.  on  walls.") == "Fix screws at 12 in. on walls."


def test_columns_of_a_doubled_table_keep_half_of_their_gaps() -> None:
    assert single("ROOM      WALLS\nHall      one  coat  of  paint") == "ROOM   WALLS\nHall   one coat of paint"


def test_columns_stay() -> None:
    table = "ROOM    WALLS       CEILING\nStair   5/8 in. GB  1/2 in. GB"
    assert single(table) == table
    marks = "101  Lobby  PT-1  PT-3\n102  Office  PT-2  PT-3"
    assert single(marks) == marks


def test_a_justified_line_is_closed_up_where_its_neighbours_show_what_it_is() -> None:
    text = "Apply two  coats of the paint  to all of the walls\nand one coat  to the ceilings of  every room here,\nboth  thinned as the  maker says in his own words."
    assert "  " not in single(text)


def test_a_key_before_its_row_is_no_justified_word() -> None:
    text = "PT-1  Two coats of  eggshell  on the walls."
    assert single(text) == "PT-1  Two coats of eggshell on the walls."


@pytest.mark.parametrize(("given", "read"), [
    ("Prime the walls.  Sand them.", f"Prime the walls.{WIDE_BLANK}Sand them."),
    ("Walls:  two coats.", "Walls: two coats."),
    ("350 sq.  ft. of wall", "350 sq. ft. of wall"),
])  # fmt: skip
def test_two_blanks_behind_a_stop_part_sentences_and_no_columns(given: str, read: str) -> None:
    assert single(given) == read


def test_labels_whose_values_stand_in_a_column_stay_a_table() -> None:
    table = "Walls:     two coats\nCeilings:  one coat"
    assert single(table) == table


def test_what_is_closed_up_still_points_at_the_text_as_given() -> None:
    view = closed_up(View.of(Source("s", "two   coats")))
    assert view.text == "two coats"
    assert view.span(4, 9).text == "coats"


def test_a_phrase_of_the_language_set_apart_shows_a_justified_line() -> None:
    assert single("C. Bathrooms: 5/8 in.  resistant gypsum  board on walls.").endswith(
        "5/8 in. resistant gypsum board on walls."
    )
    heads = "ROOM  GYPSUM  BOARD\nHall  5/8 in.  two layers"
    assert single(heads) == heads
