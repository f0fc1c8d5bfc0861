"""Clauses are quoted whole, without their letters, each once, and only from the documents."""

from __future__ import annotations

import pytest

import made
from darby.documents.letters.said import cells_of, quoted, said, sentence_at, told
from darby.documents.words import clause_number
from darby.rules.rule import HOUSE, SPECIFICATION
from darby.text.spans import Source

TEXT = """\
SECTION 05 00 00
1.01 SUMMARY
A. Lintels, sills
   and gutters are by others. Hang the doors.
B. Nets: not included. Ropes remain as is
C. Deliver on Mondays. Give 2 days' notice.
"""


def estimate(text: str = TEXT, *layers: object) -> object:
    return made.estimate(papers=tuple((Source("s.txt", text), layer) for layer in layers or (SPECIFICATION,)))


def test_a_sentence_is_quoted_whole_across_its_lines() -> None:
    found = [quoted(span) for span in said(estimate(), "excluded")]
    assert found == ["“Lintels, sills and gutters are by others”", "“Nets: not included”", "“Ropes remain as is”"]


def test_its_place_is_told_as_the_document_counts_it() -> None:
    (first, *_) = said(estimate(), "excluded")
    assert told(first) == "05 00 00, 1.01 A (s.txt, line 3): “Lintels, sills and gutters are by others”"


def test_a_title_is_no_clause_and_a_house_line_no_document() -> None:
    assert not said(estimate("DELIVERY\nALTERNATES\n"), "delivery")
    assert not said(estimate(TEXT, HOUSE), "excluded")
    assert len(said(estimate(TEXT, SPECIFICATION, HOUSE), "delivery")) == 2


@pytest.mark.parametrize(
    ("word", "whole"),
    [
        ("Hang", "Hang the doors"),
        ("Mondays", "Deliver on Mondays"),
        ("sills", "Lintels, sills\n   and gutters are by others"),
    ],
)
def test_a_sentence_ends_where_the_next_begins(word: str, whole: str) -> None:
    source = Source("s.txt", TEXT)
    at = TEXT.index(word)
    assert sentence_at(source, at, at + len(word)).text.removeprefix("A. ").removeprefix("C. ") == whole


def test_the_search_takes_time_in_proportion_to_the_text() -> None:
    long = "a word by others and more of it " * 20_000
    found = said(estimate(long), "excluded")
    assert 100 < len(found) < 20_000
    assert sum(len(span.text) for span in found) < 3 * len(long)
    assert all("by others" in span.text and (" " + long)[span.start] == " " for span in found)


@pytest.mark.parametrize(
    ("text", "at", "says"),
    [
        ("A. Sheets: 4 ft by 12 ft, stacked flat.\n", "12", "“4 ft by 12 ft, stacked flat”"),
        ("A. 4 ft by 12 ft sheets, stacked flat.\n", "12", "“4 ft by 12 ft sheets, stacked flat”"),
        ("4. Sheets of 12 ft, stacked flat.\n", "12", "“Sheets of 12 ft, stacked flat”"),
        ("\n  2) Sheets of 12 ft, stacked flat.\n", "12", "“Sheets of 12 ft, stacked flat”"),
    ],
)
def test_a_number_that_begins_a_sentence_within_its_line_is_quoted(text: str, at: str, says: str) -> None:
    source = Source("s.txt", text)
    start = text.index(at)
    assert quoted(sentence_at(source, start, start + len(at))) == says


@pytest.mark.parametrize(
    ("line", "cells"),
    [
        ("     109    Store      primer only    PT-3", "“109, Store, primer only, PT-3”"),
        ("| 109 | Store | Primer only |", "“109, Store, Primer only”"),
        ("109\tStore\tPT-3", "“109, Store, PT-3”"),
        ("Store walls:   primer only", ""),
    ],
)
def test_a_row_of_a_table_is_quoted_by_its_cells(line: str, cells: str) -> None:
    assert cells_of(Source("spec.txt", f"heading\n{line}\n").span(12, 14)) == cells


def test_a_decimal_paragraph_begins_a_sentence_and_an_abbreviation_keeps_its_stop() -> None:
    source = Source("spec.txt", "3.2  WORK\n   .1   Screws at most 12 in.\n   .2   Studs at 16 in. o.c.\n")
    at = source.text.index("Studs")
    assert quoted(sentence_at(source, at, at + 5)) == "“Studs at 16 in. o.c.”"
    assert clause_number(source.span(at, at + 5)) == "3.2.2"
