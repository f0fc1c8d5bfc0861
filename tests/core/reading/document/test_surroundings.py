"""What a clause stands under and beside: headings, lead-ins, questions, heads and keys of tables, footnotes."""

from __future__ import annotations

import pytest

from darby.rules.found_by import code_of
from reads import read_text, said


def stood_in(text: str) -> list[list[str]]:
    """For each rule by what its parts were found, with the text that it stood in."""
    return [[how for _, how in rule.bound_by if ":" in how] for rule in read_text(text).rules]


UNDER = {
    "Interior walls\nTwo coats satin finish paint.\nOne coat primer.": [["heading: Interior walls"]] * 2,
    "Screws:\n  1. Ceilings: 12 in. o.c.": [["lead-in: Screws:"]],
    "> 5) Primer?\n300 sq ft per gallon.": [["question: > 5) Primer?"]],
    "Room | Walls\nHall | two coats satin": [["column: Walls"]],
    "Product | Spread (sq ft/gal)\nPrimer | 300": [["key: Primer", "column: Spread (sq ft/gal)"]],
    "Room | Coats | Sheen\nHall | 2 | satin\nBath | 3 | gloss": [["row: satin"], ["row: gloss"]],
}


@pytest.mark.parametrize("text", UNDER)
def test_what_a_rule_stands_under_is_named(text: str) -> None:
    assert stood_in(text) == UNDER[text]


def test_a_member_without_a_fastener_of_its_own_goes_on_about_the_one_before() -> None:
    rules = read_text("3.02 FASTENING\nA. Screws:\n   1. Ceilings: 12 in. o.c.\n   2. Walls: 16 in. o.c.").rules
    assert [(r.subject, code_of(r.bound_by[0][1])) for r in rules] == [("screw", "lead-in"), ("screw", "clause-before")]


def test_a_question_goes_on_to_the_next_and_no_further() -> None:
    text = "> 4) Which sheen in the kitchen?\nSatin on the walls.\nTwo coats of finish paint.\n\n> 5) Primer?\n300 sq ft per gallon."
    assert said(text) == [
        "sheen of finish paint (room kitchen, surface wall): satin",
        "coats of finish paint (room kitchen): 2",
        "coverage of primer: 300 sq ft per 1 gal",
    ]


def test_cells_under_surfaces_are_each_of_their_own() -> None:
    assert said("Walls | Ceilings\n2 coats satin | 1 coat flat") == [
        "coats of finish paint (sheen satin, surface wall): 2",
        "coats of finish paint (sheen flat, surface ceiling): 1",
    ]


@pytest.mark.parametrize(
    ("remark", "facing"),
    [
        ("north wall only", ["north", ""]),
        ("north wall has a mural", ["", ""]),
        ("whiteboard fixed to north wall", ["", ""]),
        ("one coat sealer on north wall", ["", "", "north"]),
    ],
)
def test_a_remark_about_one_wall_limits_its_row_to_it_where_it_says_no_more(remark: str, facing: list[str]) -> None:
    text = f"ROOM | WALLS | CEILING | REMARKS\nHall | two coats satin | one coat flat | {remark}\nDen | two coats flat | one coat flat | -"
    assert [r.scope.get("facing", "") for r in read_text(text).rules if r.scope["room"] == "hall"] == facing


@pytest.mark.parametrize(
    ("heading", "surface"), [("FINISHES BY WALL", None), ("FINISHES BY ROOM", None), ("WALL FINISHES", "wall")]
)
def test_a_title_that_tells_how_a_list_is_sorted_is_of_no_surface(heading: str, surface: str | None) -> None:
    text = (
        f"ROOM FINISHES\n\n{heading}\nP-1: CEILINGS - FLAT, 2 COATS, WHITE\nP-4: EPOXY, SEMI-GLOSS, 3 COATS\n\nNOTES\n"
    )
    assert read_text(text).rules[-1].scope.get("surface") == surface
