"""Readers: the longest fact at each place, over no word that nobody knows, and with tables that are only a saving of time."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import pytest
from attrs import evolve

from darby.quantities.units import UNITS
from darby.reading.parsing.fact_parser import Fact, Quantity, Reader, Refused, tables_of
from darby.reading.parsing.tagging.tag import Tag

GRAMMAR = """
start: pair | one | three
pair: NUMBER NUMBER
one: NUMBER
three: NUMBER COMMA NUMBER NUMBER
%declare NUMBER COMMA
"""


class Meaning:
    """One number or two; nothing below nought, and no pair of a number with itself."""

    def one(self, parts: Sequence[Tag]) -> Fact | None:
        (tag,) = parts
        assert tag.number is not None
        return Fact("one", Quantity(tag.number, UNITS["each"])) if tag.number >= 0 else None

    def pair(self, parts: Sequence[Tag]) -> Any:
        if parts[0].number == parts[1].number:
            raise Refused
        return Fact("pair")

    def three(self, parts: Sequence[Tag]) -> list[Fact]:
        return [Fact("first", start=0, end=1), Fact("last", start=-1, end=0)]


READER = Reader("numbers", (), GRAMMAR, Meaning())


def read(text: str, reader: Reader = READER) -> list[tuple[str, str]]:
    """The kinds of facts, and the text of each."""
    tags, at = [], 0
    for word in text.split(" "):
        if word == "," or word.lstrip("-").isdigit():
            name, number = ("COMMA", None) if word == "," else ("NUMBER", Fraction(word))
            tags.append(Tag(at, at + len(word), name, word, number))
        at += len(word) + 1
    return [(fact.kind, text[fact.place : fact.over]) for fact in reader.facts(tags, text)]


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("7", [("one", "7")]),
        ("7 8", [("pair", "7 8")]),
        ("7 8 9", [("pair", "7 8"), ("one", "9")]),
        ("7 7", [("one", "7"), ("one", "7")]),
        ("-7 8", [("pair", "-7 8")]),
        ("-7", []),
        (", 7", [("one", "7")]),
        ("7 grobbles 8", [("one", "7"), ("one", "8")]),
        ("7 the 8", [("pair", "7 the 8")]),
        ("7 , 8 9", [("first", "7"), ("last", "9")]),
        ("7 , 8", [("one", "7"), ("one", "8")]),
        ("", []),
    ],
)
def test_the_longest_run_that_means_something_is_taken(text: str, facts: list[tuple[str, str]]) -> None:
    assert read(text) == facts


def test_a_fact_knows_its_tags() -> None:
    tags = [Tag(0, 1, "COMMA", ","), Tag(2, 3, "NUMBER", "7", Fraction(7)), Tag(4, 5, "NUMBER", "8", Fraction(8))]
    (fact,) = READER.facts(tags, ", 7 8")
    assert (fact.start, fact.end, fact.place, fact.over) == (1, 3, 2, 5)


def test_tables_of_the_grammar_read_the_same_and_those_of_another_are_left_unused() -> None:
    for tables in (tables_of(GRAMMAR), tables_of(GRAMMAR.replace("pair | ", "")), b"", b"lark 0.0.0 00000000\nx"):
        assert read("7 8 9", evolve(READER, tables=tables)) == read("7 8 9")


def test_a_fact_can_begin_only_with_what_the_grammar_begins_with() -> None:
    assert {name for name in READER.begins if name.isupper()} == {"NUMBER"}


def test_a_quantitys_size_is_in_base_units() -> None:
    assert Quantity(Fraction(2), UNITS["ft"]).size == 24 * Quantity(Fraction(1), UNITS["in"]).size
