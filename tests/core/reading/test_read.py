"""One document read: rules in order of place, every number once, questions where something cannot be decided."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.reading.read import read
from darby.rules.rule import DEFAULT, HOUSE, SPECIFICATION, addendum
from darby.text.diagnostics import Severity
from darby.text.spans import Source, View
from reads import language, read_text


def test_a_rule_carries_its_place_its_layer_and_its_working() -> None:
    [rule] = read_text("WALLS\n\nPrimer: 250 sq ft per gallon.\n", addendum(2)).rules
    assert rule.span.text == "250 sq ft per gallon"
    assert rule.span.source.place(rule.span.start) == (3, 9)
    assert rule.layer == addendum(2)
    assert (rule.amount.value, rule.amount.unit.name) == (Fraction(250), "sq ft")
    assert rule.amount.step.origin is not None
    assert rule.amount.step.origin.place == rule.span


def test_rules_come_in_order_of_place() -> None:
    rules = read_text("Walls: two coats of primer.\nCeilings: one coat of primer.\nTrim: one coat of primer.\n").rules
    assert [r.span.line for r in rules] == [1, 2, 3]


def test_a_house_line_that_is_not_understood_is_an_error_with_its_place() -> None:
    reading = read_text("Primer: 300 sq ft/gal.\nPrimer: 14 blorks.\n", HOUSE, strict=True)
    assert [r.span.line for r in reading.rules] == [1]
    wrong = [d for d in reading.diagnostics if d.severity is Severity.ERROR]
    assert {(d.code, d.labels[0].span.line) for d in wrong} == {("line-not-understood", 2)}
    assert all(d.help for d in wrong)


def test_the_same_line_in_a_specification_is_no_error() -> None:
    reading = read_text("Primer: 14 blorks.")
    assert not any(d.severity is Severity.ERROR for d in reading.diagnostics)
    assert [n.became for n in reading.numbers] == ["unread"]


def test_a_bracketed_source_at_the_end_of_a_default_travels_with_its_rule() -> None:
    [rule] = read_text("Joint compound: 14 lb per 100 sq ft.   [common practice, table 3]", DEFAULT, strict=True).rules
    assert rule.cited == "common practice, table 3"


def test_a_remark_in_a_file_of_ones_own_is_set_aside_with_its_dates() -> None:
    text = "# Rates of 14 March 2025, checked 2026-01-09\nPrimer: 300 sq ft/gal.\n"
    numbers = read_text(text, HOUSE, strict=True).numbers
    assert [n.why for n in numbers if n.span.line == 1] == ["a remark"] * 5
    assert not [n for n in numbers if n.became == "unread"]


def test_a_remark_in_a_house_file_says_nothing() -> None:
    reading = read_text("# 12 in. o.c. was once the rule\nPrimer: 300 sq ft/gal.\n", HOUSE, strict=True)
    assert [r.kind.name for r in reading.rules] == ["coverage"]
    assert not any(d.severity is Severity.ERROR for d in reading.diagnostics)


def test_only_a_part_of_a_source_is_read_where_one_is_given() -> None:
    text = 'rules = ["Ceilings: two coats flat."] # 3 coats'
    source = Source("job.toml", text)
    start = text.index("Ceilings")
    reading = read(source, SPECIFICATION, language(), within=View.of(source).cut(start, text.index('"]')))
    assert [(r.kind.name, r.scope["surface"]) for r in reading.rules] == [("coats", "ceiling")]
    assert [n.span.text for n in reading.numbers] == ["two"]


def test_the_rooms_of_a_job_are_words() -> None:
    named = language().naming(["Snug", "bathroom"])
    [rule] = read(Source("s", "Snug: two coats of primer on walls."), SPECIFICATION, named).rules
    assert rule.scope["room"] == "snug"
    assert language().naming(["bathroom"]) is language()


@pytest.mark.parametrize("name", ["One", "x", "x 8", ".", ":", "one layer", "Level", "2 coats"])
def test_a_name_that_stands_in_every_text_takes_no_word_from_it(name: str) -> None:
    """A phase called `One` would be read out of every `one layer`."""
    assert language().naming([name]) is language()


@pytest.mark.parametrize("name", ["Level 2", "Phase 1", "Snug", "B12"])
def test_a_name_that_tells_a_place_is_a_word(name: str) -> None:
    assert language().naming([name]) is not language() or language().naming([name]).known(name.lower())


def test_an_empty_text_says_nothing() -> None:
    reading = read_text("")
    assert (reading.rules, reading.numbers, reading.diagnostics) == ((), (), ())


def test_a_question_quotes_its_sentence() -> None:
    [asked] = read_text("Walls: two (3) coats of primer.").diagnostics
    assert asked.severity is Severity.QUESTION
    assert "Walls: two (3) coats of primer." in asked.help
