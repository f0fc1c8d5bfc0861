"""The specification while addenda are carried out: which rule stands where, which number of it is meant, what is gone."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.quantities.units import UNITS
from darby.reading.addenda.paragraphs import (
    Said,
    Standing,
    covers,
    numbers,
    overlap,
    part_of,
    plain,
    section_name,
    short,
)
from darby.rules.rule import SPECIFICATION, Rule, addendum
from darby.text.spans import Source
from kit import rule
from reads import language

SPACED = rule("spacing", "screw", "12 in", surface="wall")
RATE = rule("coverage", "primer", "350 sq ft", "1 gal")
SHEET = rule("sheet", "board", "4 ft")


def number(value: str, unit: str = "") -> Said:
    return Said(Source("a.txt", value).span(0, len(value)), Fraction(value), UNITS[unit] if unit else None, False)


@pytest.mark.parametrize(
    ("one", "said", "part"),
    [
        (SPACED, number("12"), "amount"),
        (SPACED, number("12", "in"), "amount"),
        (SPACED, number("1", "ft"), "amount"),
        (SPACED, number("12", "ft"), ""),
        (SPACED, number("12", "gal"), ""),
        (SPACED, number("8"), ""),
        (RATE, number("350"), "amount"),
        (RATE, number("1", "gal"), "per"),
        (SHEET, number("4", "ft"), "amount"),
    ],
)
def test_the_number_that_is_said_is_one_of_a_rules_own(one: Rule, said: Said, part: str) -> None:
    assert part_of(one, said) == part


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("12 inches on center", [("12", "in", False)]),
        ("12 inches (300 mm)", [("12", "in", False), ("300", "mm", True)]),
        ("(2) coats at 4", [("2", "", True), ("4", "", False)]),
        ("no number", []),
    ],
)
def test_numbers_have_the_unit_behind_them_and_know_whether_they_stand_in_brackets(
    text: str, found: list[tuple[str, str, bool]]
) -> None:
    source = Source("a.txt", f"x {text}")
    tags = language().lexicon.tags(text)
    told = list(numbers(source.span(2, len(source.text)), tags))
    assert [(n.span.text, n.unit.name if n.unit else "", n.aside) for n in told] == found


def test_a_rule_beats_another_wherever_that_one_holds_only_if_it_says_no_less() -> None:
    everywhere, walls = rule("spacing", "screw", "8 in"), rule("spacing", "screw", "8 in", surface="wall")
    assert covers(everywhere, SPACED)
    assert covers(walls, SPACED)
    assert not covers(rule("spacing", "screw", "8 in", surface="ceiling"), SPACED)
    assert not covers(SPACED, rule("spacing", "screw", "12 in"))
    assert not covers(rule("spacing", "nail", "8 in"), SPACED)
    assert not covers(rule("framing", "screw", "8 in"), SPACED)


def test_a_rule_stands_in_its_paragraph_and_all_that_hold_it_until_it_is_removed() -> None:
    standing = Standing()
    standing.put(SPACED, "092900", ("3", "2", "A"))
    (placed,) = standing._placed["3", "2"]
    assert standing._placed["3",] == standing._placed[()] == [placed]
    assert ("3", "2", "A", "1") not in standing._placed
    standing.remove([placed])
    assert {one.says() for one in standing.gone} == {"12 in"}
    assert not placed.holds


def test_with_a_removed_rule_goes_what_it_had_taken_the_place_of() -> None:
    standing = Standing()
    newer = rule("spacing", "screw", "8 in", surface="wall", layer=addendum(1))
    for one in (SPACED, newer):
        standing.put(one, "092900", ("3", "2", "A"))
    old, new = standing._placed["3", "2", "A"]
    old.holds = False
    standing.remove([new])
    assert {one.says() for one in standing.gone} == {"8 in", "12 in"}


def test_a_rule_is_narrowed_by_one_of_its_layer_that_speaks_of_a_part() -> None:
    standing = Standing()
    standing.put(rule("spacing", "screw", "12 in", surface="ceiling"), "092900", ("3",))
    assert standing.narrowed(rule("spacing", "screw", "16 in"), SPECIFICATION)
    assert not standing.narrowed(rule("spacing", "screw", "16 in"), addendum(1))
    assert not standing.narrowed(rule("spacing", "screw", "16 in", surface="ceiling"), SPECIFICATION)
    assert not standing.narrowed(rule("spacing", "nail", "16 in"), SPECIFICATION)


def test_stretches_overlap_where_they_share_a_letter_of_one_text() -> None:
    text = Source("a.txt", "0123456789")
    assert overlap(text.span(2, 5), text.span(4, 8))
    assert not overlap(text.span(2, 5), text.span(5, 8))
    assert not overlap(text.span(2, 5), Source("b.txt", "0123456789").span(2, 5))


def test_sections_and_words_are_written_for_reading() -> None:
    assert [section_name(s) for s in ("092900", "09290", "")] == ["09 29 00", "09290", ""]
    assert plain('Change  "Two" Coats') == "change two coats"
    long = Source("a.txt", "word " * 20)
    assert short(long.span(0, 100)) == ("word " * 20).strip()[:59] + "…"
    assert short(long.span(0, 60)) == ("word " * 12).strip()
