"""A text as it was read: facts marked in place, questions, the tally."""

from __future__ import annotations

import pytest
from attrs import evolve

import kit
import made
from darby.documents.terminal import reading as reading_terminal
from darby.documents.terminal.parts import plain, written
from darby.reading.account.ledger import Number
from darby.reading.read import Reading
from darby.rules.rule import SPECIFICATION
from darby.text.diagnostics import Severity, problem
from darby.text.spans import Source


def test_a_reading_marks_facts_in_place_and_names_them():
    console, stream = plain(100)
    reading_terminal.show([made.reading()], console)
    lines = written(stream).splitlines()
    at = lines.index("  2 │ A. Primer: 250 sq ft per gallon.")
    assert lines[at + 1] == "    │    ^^^^^^^^^^^^^^^^^^^^^^^^^^^^  primer coverage: 250 sq ft per gal"


def test_a_reading_ends_with_what_was_not_read_and_the_tally():
    console, stream = plain(100)
    reading_terminal.show([made.reading()], console)
    text = written(stream)
    assert "section.txt:6  “840”: a number with no unit" in text.partition("Not read")[2]
    assert text.splitlines()[-1] == "6 numbers: 2 read, 3 set aside, 1 not read. 2 rules, 1 question."


def test_why_a_number_was_set_aside_is_told_when_asked():
    console, stream = plain(100)
    reading_terminal.show([made.reading()], console, explain=True)
    assert "set aside: a year" in written(stream)


def test_a_name_without_room_behind_its_mark_stands_before_it():
    text = "Somewhere in the middle of a rather long line of text stand 840"
    source = Source("s.txt", text)
    numbers = (Number(source.span(60, 63), "unread", "no unit"),)
    console, stream = plain(75)
    reading_terminal.show([Reading(source, SPECIFICATION, (), numbers, ())], console)
    assert f"    │ {'not read: no unit  '.rjust(60)}???" in written(stream).splitlines()


def test_a_question_is_marked_in_place_and_told_in_one_line_at_the_end():
    source = Source("s.txt", "Walls: two or three coats.")
    number = Number(source.span(7, 10), "unread", "a choice that nobody has made")
    asked = problem("unclear", "“two”: a choice that nobody has made", source.span(7, 10), severity=Severity.QUESTION)
    console, stream = plain(80)
    reading_terminal.show([Reading(source, SPECIFICATION, (), (number,), (asked,))], console)
    text = written(stream)
    assert "    │        ???  question: a choice that nobody has made" in text.splitlines()
    assert "  s.txt:1  “two”: a choice that nobody has made" in text.partition("Questions")[2].splitlines()
    assert "Not read" not in text


def test_explaining_tells_what_bound_each_part_and_counts_what_was_set_aside():
    console, stream = plain(100)
    reading_terminal.show([made.reading()], console, explain=True)
    text = written(stream)
    assert "1 as a year" in text.partition("Set aside")[2]
    source = Source("s.txt", "Primer: 250")
    rule = evolve(kit.rule("coats", "primer", "2"), span=source.span(8, 11))
    rule = evolve(rule, bound_by=(("subject", "the label"), ("surface", "the label"), ("unit", "the number before it")))
    console, stream = plain(100)
    reading_terminal.show([Reading(source, SPECIFICATION, (rule,), (), ())], console, explain=True)
    assert "subject and surface from the label; unit from the number before it" in written(stream)


@pytest.mark.parametrize("width", [20, 30, 60])
def test_a_long_line_is_cut_at_a_space_and_its_marks_follow(width):
    console, stream = plain(width)
    reading_terminal.show([made.reading()], console)
    assert "840" in written(stream)
    assert max(map(len, written(stream).splitlines())) <= width


def test_every_mark_of_a_line_cut_in_pieces_is_shown_once():
    text = " ".join(f"{n} gal," for n in range(100, 300))
    source = Source("s.txt", text)
    found = [source.span(at, at + 3) for at in range(0, len(text), 9)]
    numbers = tuple(Number(span, "unread", f"number {span.text}") for span in found)
    console, stream = plain(60)
    reading_terminal.show([Reading(source, SPECIFICATION, (), numbers, ())], console)
    marked = written(stream).partition("Not read")[0]
    assert [marked.count(f"not read: number {n}") for n in range(100, 300)] == [1] * 200
    assert marked.count("???") == 200
