"""What one item takes over from another: all that is said of its surface, and what it names itself in the place of that."""

from __future__ import annotations

import pytest

from reads import asked, read_text, said

FIRST = "A  NAVE\nA1  Walls: one coat primer, two coats eggshell, colour Oat.\n\nB  APSE\nB1  "


@pytest.mark.parametrize(
    ("words", "color", "sheen"),
    [("but colour Clay", "clay", "eggshell"), ("except satin", "oat", "satin"), ("in all respects", "oat", "eggshell")],
)
def test_what_an_item_names_itself_changes_what_it_takes_over(words: str, color: str, sheen: str) -> None:
    rules = said(f"{FIRST}Walls: as A1 {words}.")
    assert f"coats of finish paint (color {color}, room apse, sheen {sheen}, surface wall): 2" in rules
    assert "coats of primer (room apse, surface wall): 1" in rules


def test_an_amount_stands_in_the_place_of_the_one_taken_over() -> None:
    text = "A  NAVE\nA1  Ceiling: 15 mm plasterboard, one layer.\n\nB  APSE\nB1  Ceiling: as A1, but two layers."
    assert [one for one in said(text) if "apse" in one] == [
        "thickness of gypsum board (room apse, surface ceiling): 15 mm",
        "layers of gypsum board (room apse, surface ceiling): 2",
    ]


def test_a_product_limits_what_is_taken_over() -> None:
    text = "A  NAVE\nA1  Walls: 15 mm plasterboard. Two coats satin.\n\nB  APSE\nB1  Walls: plasterboard as A1."
    assert [one for one in said(text) if "apse" in one] == [
        "thickness of gypsum board (room apse, surface wall): 15 mm"
    ]


def test_what_could_not_be_read_beside_it_is_to_be_confirmed() -> None:
    reading = read_text(
        "A  NAVE\nA1  Ceiling: two coats matt emulsion.\n\nB  APSE\nB1  Ceiling: as A1 but three coats."
    )
    (rule,) = (rule for rule in reading.rules if rule.scope.get("room") == "apse")
    assert "could not be read" in rule.confirm


@pytest.mark.parametrize("other", ["as B1", "as C1"], ids=["itself", "each other"])
def test_items_that_refer_in_a_circle_are_asked_about(other: str) -> None:
    text = f"B  NAVE\nB1  Walls: {other}.\n\nC  APSE\nC1  Walls: as B1."
    assert not said(text)
    assert any("nothing could be taken over" in one for one in asked(text))


def test_both_clauses_are_the_source() -> None:
    rule = next(r for r in read_text(f"{FIRST}Walls: as A1.").rules if r.scope.get("room") == "apse")
    assert rule.span.line == 2
    assert rule.assigned is not None
    assert rule.assigned.line == 5
