"""Of what a number is said: the nearest that can have it, and nobody where nothing in reach can."""

from __future__ import annotations

import pytest

from reads import found, left, read_text, said

FOUND = {
    "Walls: two coats of finish paint.": ["behind"],
    "Primer 300 sq ft per gallon.": ["ahead"],
    "Primer: 300 sq ft per gallon.": ["label"],
    "Screws 12 in. o.c. on ceilings, 16 in. o.c. on walls.": ["ahead", "phrase-before"],
    "Walls: two coats satin.": ["sheen"],
    "Second coat: flat finish paint on walls.\nFirst coat: primer on walls.": ["colon", "colon"],
    "Walls: second coat: eggshell.": ["colon-sheen"],
    "Level 4 at walls.": ["implied"],
    "PRIMER\nA. 300 sq ft per gallon.": ["heading"],
    "Screws:\n  1. 12 in. o.c. on ceilings.": ["lead-in"],
    "> 5) Primer?\n300 sq ft per gallon.": ["question"],
    "First layer: screws 24 in. o.c.; second layer: 12 in. o.c.": ["ahead", "sentence"],
}  # fmt: skip


@pytest.mark.parametrize("text", FOUND)
def test_a_subject_is_found_where_it_stands(text: str) -> None:
    assert found(text, "subject") == FOUND[text]


@pytest.mark.parametrize("text", ["Grobble: 300 sq ft per gallon.", "Grobble wax: two coats."])
def test_a_label_that_nobody_knows_takes_the_number_and_lets_nothing_around_it(text: str) -> None:
    assert said(f"PRIMER\nA. {text}") == []
    assert set(left(f"PRIMER\nA. {text}").values()) == {"nothing near it says what it is of"}


def test_counts_look_behind_and_rates_look_before() -> None:
    text = "Walls: primer, one coat of sealer, two coats of finish paint 350 sq ft per gallon."
    assert "coverage of finish paint (surface wall): 350 sq ft per 1 gal" in said(text)
    assert "coats of finish paint (surface wall): 2" in said(text)


def test_each_product_of_a_list_has_its_own_number() -> None:
    assert said("Primer 300 to 350 sq ft per gallon, finish paint 400 sq ft per gallon.") == [
        "coverage of primer: 300 sq ft to 350 sq ft per 1 gal",
        "coverage of finish paint: 400 sq ft per 1 gal",
    ]


def test_a_second_count_that_names_nothing_of_its_own_is_nobodys() -> None:
    text = "Walls: one coat primer, two coats."
    assert said(text) == ["coats of primer (surface wall): 1"]
    assert left(text) == {"two": "nothing near it says what it is of"}


@pytest.mark.parametrize(
    "text",
    [
        "Doors: alkyd semi-gloss, two coats over factory primer.",
        "Frames: semi-gloss, two coats over existing sound primer.",
        "Walls: finish, one coat, over new drywall primer.",
    ],
)
def test_coats_over_a_primer_in_some_state_are_of_the_finish(text: str) -> None:
    coats = {rule.subject for rule in read_text(text).rules if rule.kind.name == "coats"}
    assert coats == {"finish paint"}


def test_a_size_beside_a_type_is_of_the_sheets_that_have_it() -> None:
    text = "Gypsum board: ASTM C1396, in the longest lengths.\n1. Partitions: 5/8 inch, Type X.\n"
    (rule,) = [rule for rule in read_text(text).rules if rule.kind.name == "thickness"]
    assert rule.subject == "gypsum board"


def test_a_side_named_twice_over_keeps_the_numbers_behind_it() -> None:
    text = "Corridor side of guest room walls: two layers of 5/8 inch Type X; room side one layer."
    assert left(text) == {}


@pytest.mark.parametrize(
    "text",
    ["Den - primer + 2 coats", "Den: primer and 2 coats.", "Den, sealer plus two coats", "Den: undercoat + 2 coats"],
)
def test_what_a_bare_count_is_added_to_is_not_what_it_counts(text: str) -> None:
    assert said(text) == ["coats of finish paint (room den): 2"]


@pytest.mark.parametrize(
    "text", ["Den: primer, 2 coats", "Den: 2 coats of primer and 2 coats", "Den: primer and paint, 2 coats"]
)
def test_a_count_that_is_not_added_is_of_what_is_named(text: str) -> None:
    assert "coats of primer (room den): 2" in said(text)
