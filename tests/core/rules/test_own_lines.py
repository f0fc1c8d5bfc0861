"""A rule said again as a plain line of one's own makes that very rule, or no line is offered."""

from __future__ import annotations

import pytest
from attrs import evolve

from darby.rules.own_lines import own_lines
from darby.rules.rule import OVERRIDE, Rule
from darby.text.diagnostics import is_error
from kit import rule
from reads import read_text


def own(line: str) -> tuple[Rule, ...]:
    reading = read_text(line, OVERRIDE, strict=True)
    return () if is_error(reading.diagnostics) else reading.rules


SPECIFIED = [
    "Walls: one coat primer, two coats eggshell finish paint.",
    "Kitchen walls: three coats finish paint.",
    "Primer: 250 sq ft per gallon.",
    "Joint compound: 14 lb per 100 sq ft.",
    "Gypsum board on ceilings: 5/8 in. thick.",
    "Gypsum board on walls: 4 ft by 12 ft.",
    "Screws: 12 in. on center on ceilings.",
    "Gypsum board on walls: Level 4.",
    "Kitchen ceilings: flat finish paint.",
    "Finish paint comes in 5 gal pails.",
    "Primer: 250 to 300 sq ft per gallon.",
]


@pytest.mark.parametrize("text", SPECIFIED)
def test_a_line_says_what_the_clause_was_read_as(text: str) -> None:
    for read in read_text(text).rules:
        (line,) = own_lines([read], own)
        (made,) = own(line)
        assert (made.kind.name, made.subject, made.scope, made.answer, made.bound) == (
            read.kind.name, read.subject, read.scope, read.answer, read.bound,
        )  # fmt: skip


def test_lines_are_plain() -> None:
    (coats,) = read_text("On all the walls everybody puts three coats of eggshell finish paint.").rules
    assert own_lines([coats], own) == ("Walls: 3 coats eggshell finish paint.",)


@pytest.mark.parametrize(
    ("clause", "line"),
    [
        ("Walls: one coat primer.", "Walls: 1 coat primer."),
        ("Walls: at least one coat primer.", "Walls: at least 1 coat primer."),
    ],
)
def test_one_is_said_in_the_singular(clause: str, line: str) -> None:
    assert own_lines(read_text(clause).rules, own) == (line,)


def test_a_reading_said_of_several_surfaces_has_a_line_for_each() -> None:
    rules = read_text("Walls and ceilings: two coats finish paint.").rules
    assert own_lines(rules, own) == ("Walls: 2 coats finish paint.", "Ceilings: 2 coats finish paint.")
    assert own_lines([*rules, *rules], own) == own_lines(rules, own)


def test_no_line_is_offered_that_would_say_something_else() -> None:
    coats = rule("coats", "finish paint", "2", surface="wall")
    assert own_lines([coats], own)
    assert own_lines([coats], lambda _: own("Walls: 3 coats finish paint.")) == ()
    assert own_lines([evolve(coats, scope={"room": "grumbly zone", "surface": "wall"})], own) == ()
    assert own_lines([coats, evolve(coats, subject="no such goods")], own) == ()


def test_a_reading_of_many_places_is_left_to_be_worded_by_hand() -> None:
    rooms = ("kitchen", "office", "foyer", "study", "den")
    rules = [rule("coats", "finish paint", "2", room=room, surface="wall") for room in rooms]
    assert len(own_lines(rules[:4], own)) == 4
    assert own_lines(rules, own) == ()


@pytest.mark.parametrize(
    ("line", "kind", "scope", "choice"),
    [
        ("Offices: eggshell.", "sheen", {"room": "office"}, "eggshell"),
        ("Kitchen walls: moisture resistant gypsum board.", "type", {"room": "kitchen", "surface": "wall"}, "moisture resistant"),
    ],
)  # fmt: skip
def test_a_choice_can_be_said_in_a_line_of_ones_own(line: str, kind: str, scope: dict[str, str], choice: str) -> None:
    assert [(r.kind.name, dict(r.scope), r.choice) for r in own(line)] == [(kind, scope, choice)]
