"""The account below a reading: what is to be confirmed comes first, and everything that is open is counted in the last line."""

from __future__ import annotations

from attrs import evolve

import made
from darby.documents.terminal import reading as reading_terminal
from darby.documents.terminal.parts import plain, written
from darby.reading.account.statements import Statement
from darby.reading.read import Reading
from darby.rules.rule import SPECIFICATION
from darby.text.spans import Source

WHY = "what it is said of stands far from it"


def shown(*readings: Reading, width: int = 100) -> str:
    console, stream = plain(width)
    reading_terminal.show(readings, console)
    return written(stream)


def doubted(why: str = WHY, surface: str = "wall") -> Reading:
    reading = made.reading()
    spread, coats = reading.rules
    return evolve(reading, rules=(spread, evolve(coats, confirm=why, scope={"surface": surface})))


def test_a_rule_to_confirm_is_marked_in_place_with_its_reason_below() -> None:
    lines = shown(doubted()).splitlines()
    at = lines.index("  5 │ A. Walls: one coat primer.")
    assert lines[at + 1] == "    │    ^^^^^^^^^^^^^^^^^^^^^^  ? primer coats, wall: 1"
    assert lines[at + 2].strip() == f"to confirm: {WHY}"
    sure = lines.index("  2 │ A. Primer: 250 sq ft per gallon.")
    assert "?" not in lines[sure + 1]


def test_what_is_to_be_confirmed_is_listed_before_all_that_is_open_and_counted() -> None:
    text = shown(doubted())
    block = text.partition("To confirm\n")[2]
    assert block.splitlines()[0] == f"  section.txt:5  primer coats, wall: 1. {WHY.capitalize()}."
    assert text.index("To confirm\n") < text.index("Not read") < text.index("Questions")
    assert "plain line of your own under rules in the job file" in " ".join(block.split())
    assert text.splitlines()[-1].endswith(" 2 rules, 1 to confirm, 1 question.")


def test_where_nothing_is_to_be_confirmed_nothing_is_said_of_it() -> None:
    text = shown(made.reading())
    assert "confirm" not in text
    assert text.splitlines()[-1].endswith(" 2 rules, 1 question.")


def test_rules_of_one_stretch_are_told_together() -> None:
    reading = doubted()
    both = (*reading.rules, evolve(reading.rules[1], scope={"surface": "ceiling"}))
    text = shown(evolve(reading, rules=both))
    assert "section.txt:5 primer coats, wall: 1; primer coats, ceiling: 1. What it" in " ".join(text.split())
    assert "3 rules, 2 to confirm" in text


def test_the_list_to_confirm_stays_short() -> None:
    source = Source("s.txt", "one coat\n" * 30)
    (_, coats) = made.reading().rules
    rules = tuple(evolve(coats, span=source.span(9 * n, 9 * n + 8), confirm=WHY) for n in range(30))
    block = shown(Reading(source, SPECIFICATION, rules, (), ())).partition("To confirm\n")[2]
    assert block.count("primer coats") == 20
    assert "and 10 more, with a question mark in the text above" in block
    assert "30 rules, 30 to confirm, 0 questions." in block


def statements(gives: int, names: int) -> Reading:
    source = Source("s.txt", "Foyer walls to receive PT-3.\n" * (gives + names))
    spans = [source.span(29 * n, 29 * n + 27) for n in range(gives + names)]
    said = tuple(Statement(span, f"no rule was made of number {n}", gives=n < gives) for n, span in enumerate(spans))
    return Reading(source, SPECIFICATION, (), (), (), (), said)


def test_statements_are_quoted_with_their_place_and_counted() -> None:
    text = shown(statements(1, 0))
    assert "  s.txt:1  “Foyer walls to receive PT-3”: no rule was made of number 0" in text.splitlines()
    assert text.splitlines()[-1].endswith("0 rules, 0 questions, 1 statement not read.")
    assert "--format json" not in text


def test_of_many_statements_twelve_are_shown_and_the_others_counted() -> None:
    text = shown(statements(15, 4))
    assert text.count("no rule was made of number") == 12
    assert "and 3 more and 4 clauses that only name goods; --format json lists all" in text
    assert text.splitlines()[-1].endswith("0 questions, 15 statements not read.")


def test_clauses_that_only_name_goods_are_one_line() -> None:
    text = shown(statements(0, 1))
    assert "  1 clause that only names goods; --format json lists all" in text.splitlines()
    assert "statement" not in text.splitlines()[-1]
    assert "Said and not read" not in shown(statements(0, 0))


def test_no_sentence_of_the_account_is_wider_than_the_terminal() -> None:
    for width in (40, 60, 100):
        assert max(map(len, shown(doubted(), statements(15, 4), width=width).splitlines()[:-1])) <= width
