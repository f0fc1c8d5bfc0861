"""Lines: where each stands, which go on in the next, and which are furniture of a page."""

from __future__ import annotations

import pytest

from darby.reading.layout.lines import (
    breaks_off,
    goes_on_small,
    leads_on,
    runs_on,
    set_apart,
    split_lines,
    tell_sizes,
)
from darby.text.spans import Source, View


def apart(text: str) -> list[tuple[str, str]]:
    return [(one.span.text, one.why) for one in set_apart(split_lines(text), View.of(Source("s.txt", text)))]


def test_a_line_knows_its_place_its_indent_and_the_blank_before_it() -> None:
    text = "Walls\n\n   Two coats  \nCeilings"
    lines = split_lines(text)
    assert [text[line.start : line.end] for line in lines] == ["Walls", "Two coats", "Ceilings"]
    assert [(line.indent, line.blank_before) for line in lines] == [(0, True), (3, True), (0, False)]


def test_capitals_tell_nothing_where_most_lines_are_of_one_size() -> None:
    assert not split_lines("WALLS\nTwo coats\nOne coat\nFlat")[0].flat
    assert split_lines("WALLS\nTWO COATS\nCEILINGS\nFlat")[0].flat
    small = split_lines("walls\ntwo coats\nceilings\nFlat")
    assert small[0].flat
    assert [line.shape for line in small[:2]] == ["WALLS", "TWO COATS"]


@pytest.mark.parametrize(
    ("text", "goes_on"),
    [
        ("Apply two coats of\npaint.", True),
        ("Apply two coats to walls,\nceilings.", True),
        ("Walls & ceilings &\ntrim", True),
        ("Apply two coats.\nOf paint.", False),
        ("Screws 12 in.\no.c. on walls", False),
        ("Fasten with screws 12\ninches apart", True),
        ("Finish to Level\n4, except ceilings", True),
        ("Walls two coats\nCeilings one coat", False),
        ("Two coats of\n\npaint", False),
        ("Two coats of\nA. Paint", False),
        ("Apply finish paint to all walls of the building\nand its ceilings", True),
        ("Apply finish paint\nwalls", False),
    ],
)
def test_a_line_goes_on_in_the_next_where_its_words_say_so(text: str, goes_on: bool) -> None:
    first, second = split_lines(text)
    assert runs_on(first, second) is goes_on


@pytest.mark.parametrize(("text", "leads"), [("walls of", True), ("walls OF", False), ("WALLS OF", True), ("semi-", True), ("walls", False)])  # fmt: skip
def test_the_last_word_of_a_line_may_end_no_sentence(text: str, leads: bool) -> None:
    assert leads_on(split_lines(text + "\nOther Words\nMore Words")[0]) is leads


def test_a_line_with_a_comma_that_goes_on_in_small_letters_is_broken() -> None:
    for text, broken in (
        ("Walls, if primed\nget two coats", True),
        ("Walls if primed\nget two coats", False),
        ("WALLS, CEILINGS\nget two coats", False),
        ("Walls, if primed\n\nget two coats", False),
    ):
        first, second = split_lines(text)
        assert goes_on_small(first, second) is broken
        assert breaks_off(first, second) is broken


@pytest.mark.parametrize("foot", ["Page 3 of 12", "- 3 -", "Painting   Page 3", "p. 12"])
def test_a_page_number_alone_is_furniture(foot: str) -> None:
    assert apart(f"Walls: two coats.\n\n{foot}\n\nCeilings: one coat.") == [(foot, "a page header or footer")]


@pytest.mark.parametrize("line", ["See Page 3", "Walls: two coats, page 3", "Two"])
def test_a_page_in_a_sentence_is_none(line: str) -> None:
    assert apart(f"Walls: two coats.\n\n{line}\n\nCeilings: one coat.") == []


def test_a_line_that_comes_back_and_names_the_book_is_furniture() -> None:
    head = "Bid Set 4"
    assert apart(f"{head}\nWalls: two coats.\n{head}\nCeilings: one coat.") == [(head, "a page header or footer")] * 2
    assert apart(f"Walls\ntwo coats.\nWalls\n{head}: one coat.") == []


def test_notes_to_the_writer_stand_between_rules_of_stars() -> None:
    stars = "*" * 12
    assert [why for _, why in apart(f"{stars}\nDelete two coats.\n{stars}\nWalls: one coat.")] == [
        "a rule between paragraphs", "a note to the writer of the specification", "a rule between paragraphs",
    ]  # fmt: skip
    assert [why for _, why in apart(f"{stars}\nWalls: one coat.")] == ["a rule between paragraphs"]


def test_what_a_pages_turn_puts_into_a_sentence_is_furniture() -> None:
    text = "Apply two coats of finish paint to walls\nNORTH WING FINISHES 12\nof the lobby."
    assert apart(text) == [("NORTH WING FINISHES 12", "a page header or footer")]
    assert apart(text.replace("walls\n", "walls.\n")) == []


@pytest.mark.parametrize(
    "line",
    ["Hall 12' x 9'", "Hall & Stair   6 x 14 x 9", "Bath 2 - 8'-0\" x 5'-6\", 8'-0\" ceiling", "Store: 3,6 m × 2 m"],
)
def test_the_size_of_a_place_is_taken_off_its_name_over_labelled_lines(line: str) -> None:
    view = View.of(Source("s.txt", f"{line}\nWalls: two coats\n"))
    lines = split_lines(view.text)
    apart = list(tell_sizes(lines, view, lambda text: frozenset({"place"})))
    assert [one.why for one in apart] == ["the size of a place"]
    assert not any(c.isdigit() for c in lines[0].text.replace("Bath 2", ""))


def test_a_size_of_goods_and_one_over_nothing_stay() -> None:
    for text in ("Sheets 4' x 8'\nWalls: across\n", "Wand: 4' x 8'\nWalls: across\n", "Hall 12' x 9'\nStair 9' x 4'\n"):
        view = View.of(Source("s.txt", text))
        means = {"Sheets": frozenset({"product"})}
        assert not list(
            tell_sizes(split_lines(view.text), view, lambda name, means=means: means.get(name, frozenset()))
        )
