"""Lines are parted into cells by what stands between them, and each cell has a shape."""

from __future__ import annotations

import pytest

from darby.reading.layout.tables.cells import Parted, chunks, is_rule, listed, parting, shape


def cells(text: str, parted: Parted, before: str = "") -> list[tuple[int, str]]:
    return [(c.at, text[c.start : c.end]) for c in chunks(text, 0, len(before), parted, before)]


def test_wide_gaps_and_leaders_part_a_line_together() -> None:
    assert cells("E1    vinyl matt ........ 1 mist", "gaps") == [(0, "E1"), (6, "vinyl matt"), (26, "1 mist")]


def test_pipes_number_their_cells_and_keep_the_place_of_empty_ones() -> None:
    assert cells("| Lobby | | PT-2 |", "pipes") == [(0, "Lobby"), (2, "PT-2")]
    assert cells("Lobby | PT-1", "pipes") == [(0, "Lobby"), (1, "PT-1")]


def test_tabs_before_a_line_are_empty_cells() -> None:
    assert cells("Paint\t2", "tabs", "\t") == [(1, "Paint"), (2, "2")]
    assert cells("Paint\t\t2", "tabs") == [(0, "Paint"), (2, "2")]


def test_quotes_hold_the_commas_of_a_field() -> None:
    assert cells('Primer,"1,200",x', "commas") == [(0, "Primer"), (1, "1,200"), (2, "x")]
    assert cells('"Doors, frames",2,', "commas") == [(0, "Doors, frames"), (1, "2")]


def test_an_inch_mark_at_the_end_of_a_field_closes_no_quote() -> None:
    assert cells('Walls,5/8",2', "commas") == [(0, "Walls"), (1, '5/8"'), (2, "2")]


def test_a_code_before_a_single_blank_is_a_cell_in_a_legend_only() -> None:
    assert cells("W1 studs at 16 in.", "marks") == [(0, "W1"), (3, "studs at 16 in.")]
    assert cells("staggered joints", "marks") == [(4, "staggered joints")]


@pytest.mark.parametrize(
    ("text", "parted"),
    [("| a | b |", "pipes"), ("a\tb", "tabs"), ("a   b", "gaps"), ("a ..... b", "gaps"), ("a b", "")],
)
def test_a_line_says_what_parts_it(text: str, parted: str) -> None:
    assert parting(text) == parted


@pytest.mark.parametrize(
    ("text", "parted"),
    [
        ("a,b,c", "commas"),
        ('"a, b",c,d', "commas"),
        ("a;b;c", "semicolons"),
        ("a, b, c", ""),
        ("a,b", ""),
        ("x,y,z.", ""),
    ],
)
def test_commas_without_blanks_behind_them_may_part_values(text: str, parted: str) -> None:
    assert listed(text) == parted


@pytest.mark.parametrize("text", ["|---|---|", "-----   ----", "+======+", "_____", ". . . . ."])
def test_a_line_that_only_draws_is_a_rule(text: str) -> None:
    assert is_rule(text)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("350", "number"), ("5/8 in. board", "number"), ("½ in.", "number"), (".5", "number"), ("Two coats", "number"), ("one-coat", "number"),
        ("PT-1", "mark"), ("PT-1/PT-5", "mark"), ("W1 or W4", "mark"), ("A", "mark"), ("E2 *", "mark"), ("PT-3 (a)", "mark"),
        ("Level 4", "counted"), ("Stair 2", "counted"), ("1st coat", "counted"), ("Lobby", "words"), ("Half bath", "words"), ("ACT", "words"),
        ("-", "none"), ("n/a", "none"), ("none", "none"), ("(a)", "none"), ("", "none"),
    ],
)  # fmt: skip
def test_a_cell_has_a_shape(text: str, kind: str) -> None:
    assert shape(text) == kind
