"""Marks of systems: a code that a document defines is one, and the number of a paragraph never is."""

from __future__ import annotations

import pytest

from reads import said

DEFINED = "PT-1: two coats eggshell finish paint.\nPT-2: one coat primer, two coats satin finish paint.\n\n"


def test_a_mark_is_defined_by_what_stands_behind_it_and_given_where_it_is_used() -> None:
    assert said(DEFINED + "Offices: walls PT-1, ceilings PT-2.") == [
        "coats of finish paint (mark PT-1, sheen eggshell): 2",
        "coats of primer (mark PT-2): 1",
        "coats of finish paint (mark PT-2, sheen satin): 2",
        "system of finish paint (room office, surface wall): PT-1",
        "system of finish paint (room office, surface ceiling): PT-2",
    ]


def test_a_single_letter_is_a_mark_only_where_it_is_used_elsewhere() -> None:
    assert said("A: two coats flat finish paint.\nB: two coats satin finish paint.\n\nWalls of halls: B.") == [
        "coats of finish paint (sheen flat): 2",
        "coats of finish paint (mark B, sheen satin): 2",
        "system of finish paint (room hall, surface wall): B",
    ]


def test_the_chapter_of_numbered_paragraphs_is_no_mark() -> None:
    assert said("C4.1 Primer: 300 sq ft per gallon.\nC4.2 Finish paint on walls C4: two coats.") == [
        "coverage of primer: 300 sq ft per 1 gal",
        "coats of finish paint (surface wall): 2",
    ]


@pytest.mark.parametrize("mark", ["PT-3", "PT-12", "XPT-1"])
def test_a_code_that_nothing_defines_gives_no_system(mark: str) -> None:
    assert not [rule for rule in said(f"{DEFINED}Offices: walls {mark}.") if rule.startswith("system")]


def test_a_code_whose_words_speak_of_no_goods_is_defined_by_none() -> None:
    assert said("PT-1: see sheet 4.\n\nOffices: walls PT-1.") == []
    assert said("PT-1: 4 pages.\n\nOffices: walls PT-1.") == []


def test_a_mark_may_end_in_a_letter_where_it_is_called_a_type() -> None:
    assert said("Wall type L-B: two layers of 1/2 inch gypsum board.\n\nCorridors: L-B.")[:1] == [
        "layers of gypsum board (mark L-B, surface wall): 2"
    ]


COLORS = "COLORS\nA. PT-1: Chalk.\nB. PT-2: Rust.\n\n"


@pytest.mark.parametrize("label", ["PT-1: ", "Walls, PT-1 and PT-2: ", "Stud walls, PT-1, PT-2: "])
def test_a_list_of_colors_does_not_keep_a_mark_from_being_a_system_further_on(label: str) -> None:
    found = said(
        f"{COLORS}SYSTEMS\nA. {label}one coat primer, two coats eggshell finish paint.\n\nOffices: walls PT-1."
    )
    assert found[-1] == "system of finish paint (room office, surface wall): PT-1"


def test_all_marks_at_the_end_of_a_label_are_of_what_it_says() -> None:
    found = said(f"{COLORS}SYSTEMS\nA. Stud walls, PT-1 and PT-2: two coats eggshell finish paint.\n")
    assert [one for one in found if one.startswith("coats")] == [
        f"coats of finish paint (mark {mark}, sheen eggshell, surface wall): 2" for mark in ("PT-1", "PT-2")
    ]


def test_a_code_at_the_end_of_a_label_that_nothing_else_defines_is_no_mark() -> None:
    assert not [one for one in said("Walls of Block B-2: two coats eggshell finish paint.") if "mark" in one]
