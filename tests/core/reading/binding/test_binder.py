"""Every rule tells which rule of binding gave its subject and its surface, and what none reaches stays unread."""

from __future__ import annotations

import pytest

from darby.documents.words import found_words
from darby.rules.rule import DEFAULT
from reads import read_text


def bound(text: str) -> list[tuple[str, str, dict[str, str]]]:
    """Subject, surface and by what each was found, of every rule."""
    return [
        (r.subject, r.scope.get("surface", ""), {what: found_words(how) for what, how in r.bound_by})
        for r in read_text(text).rules
    ]


@pytest.mark.parametrize(
    ("text", "subject", "how"),
    [
        ("Two coats of primer on walls.", "primer", "the words behind the number"),
        ("Primer, walls: 300 sq ft per gallon.", "primer", "the label"),
        ("Primer covers 300 sq ft per gallon.", "primer", "the words before the number"),
        ("PRIMER\n\nTwo coats on walls.", "primer", "the heading “PRIMER”"),
        ("Primer:\n- Walls: two coats.", "primer", "the lead-in “Primer:”"),
        ("Two coats eggshell.", "finish paint", "its sheen"),
        ("1/2 in. thick on walls.", "gypsum board", "every one of its kind is of it"),
        ("Joints: three coats.", "joint compound", "the place it is said of"),
        ("| Product | Coats |\n|---|---|\n| Primer | 2 |\n", "primer", "the key of the row “Primer”"),
    ],
)
def test_a_subject_is_found_by_a_rule_that_is_told(text: str, subject: str, how: str) -> None:
    assert [(s, by["subject"]) for s, _, by in bound(text)] == [(subject, how)]


@pytest.mark.parametrize(
    ("text", "surface", "how"),
    [
        ("Two coats of primer on walls.", "wall", "the words of the phrase"),
        ("Walls: two coats of primer.", "wall", "the label"),
        ("WALLS\n\nTwo coats of primer.", "wall", "the heading “WALLS”"),
        ("Wall paint: two coats.", "wall", "the product's own name"),
        ("Primer:\n- Walls: two coats.", "wall", "the label"),
    ],
)
def test_a_surface_is_found_by_a_rule_that_is_told(text: str, surface: str, how: str) -> None:
    assert [(w, by["surface"]) for _, w, by in bound(text)] == [(surface, how)]


def test_the_second_number_of_a_list_goes_on_about_the_first_ones_subject() -> None:
    second = bound("Screws: 12 in. o.c. on ceilings, 16 in. o.c. on walls.")[1]
    assert second[0] == "screw"
    assert second[1] == "wall"


def test_a_bound_in_the_heads_of_a_table_is_told_too() -> None:
    [rule] = read_text("| Surface | Max. screw spacing (in.) |\n|---|---|\n| Walls | 16 |\n").rules
    assert rule.bound == "at most"
    assert "bound" in dict(rule.bound_by)


def test_what_nothing_reaches_is_unread_with_the_reason() -> None:
    reading = read_text("Two coats on walls.")
    assert reading.rules == ()
    assert [(n.became, n.why) for n in reading.numbers] == [("unread", "nothing near it says what it is of")]


def test_a_fact_of_two_surfaces_makes_a_rule_for_each_from_one_place() -> None:
    first, second = read_text("Two coats of primer on walls and ceilings.").rules
    assert (first.scope["surface"], second.scope["surface"]) == ("wall", "ceiling")
    assert (first.span.start, first.span.end) == (second.span.start, second.span.end)


def test_a_mark_on_a_surface_gives_subject_and_scope_where_the_text_names_none() -> None:
    [rule] = read_text("Two coats.", DEFAULT, subject="primer", scope={"surface": "wall"}).rules
    assert (rule.subject, dict(rule.scope)) == ("primer", {"surface": "wall"})
