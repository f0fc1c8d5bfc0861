"""What may be said of some of a kind alone waits to be confirmed; what names one in words that are read does not."""

from __future__ import annotations

import pytest

from reads import read_text

SOME = {
    "Type A walls: two coats eggshell.": "of one sort alone",
    "Ceiling grade B: two coats flat.": "of one sort alone",
    "Apply two coats gloss to doors class 2.": "of one sort alone",
    "Partitions of type D: two layers gypsum board.": "of one sort alone",
    "Walls that are not tiled: two coats eggshell.": "it may be said of some of them alone",
    "Doors which are painted: three coats gloss.": "it may be said of some of them alone",
    "Meter cupboard: two coats flat.": "its label may say where it holds",
    "Lobby: two coats flat. Shell: one coat flat.": "its label may say where it holds",
    "Walls get two coats of matte in Pond Moss.": "may be a color instead",
    "Green board on walls that aren't tiled.": "it may be said of some of them alone",
    "112 walls: two coats eggshell.": "a number beside what it is said of",
    "Walls or ceilings: two coats eggshell.": "it is said of one or the other",
    "Kitchen or bathroom walls: two coats eggshell.": "it is said of one or the other",
}


@pytest.mark.parametrize("text", SOME)
def test_words_that_may_tell_some_from_others_are_confirmed(text: str) -> None:
    rules = read_text(text).rules
    assert rules
    assert SOME[text] in rules[-1].confirm


ALL = (
    "Type X gypsum board on walls: two layers.",
    "Walls: two coats eggshell, type as selected.",
    "Walls that shall receive paint: two coats eggshell.",
    "Walls, which are smooth, get two coats eggshell.",
    "Ceilings: Level 4.",
    "Note: two coats flat on walls.",
    "Application: two coats flat on walls.",
)


@pytest.mark.parametrize("text", ALL)
def test_words_that_tell_nothing_apart_are_not(text: str) -> None:
    assert [rule.confirm for rule in read_text(text).rules if rule.confirm] == []


def test_a_sort_that_the_document_defines_is_a_mark_and_waits_for_nobody() -> None:
    rules = read_text("Type A: one layer 5/8 in. gypsum board each side.\nLobby walls: Type A.").rules
    assert any(rule.scope.get("mark") or rule.choice for rule in rules)
    assert not any("sort alone" in rule.confirm for rule in rules)


def test_what_stands_behind_an_opening_exception_is_confirmed() -> None:
    (rule,) = read_text("Except in baths, walls receive two coats eggshell.").rules
    assert rule.confirm.startswith("an exception stands before it")
    assert not read_text("Unless a sheet says otherwise: walls two coats satin.").rules[0].confirm


def test_floors_of_which_there_are_two_may_be_storeys() -> None:
    assert "storeys" in read_text("Paint both floors two coats eggshell.").rules[0].confirm
    assert not read_text("Floors: two coats epoxy floor paint.").rules[0].confirm


BACK = "it points back to a place that was not read"


@pytest.mark.parametrize(
    "text",
    [
        "The other walls there: two coats satin.",
        "Its ceiling gets two coats flat.",
        "Everything in there gets two coats satin.",
        "Walls there: one layer of 5/8 in. board.",
        "Ceilings up there get Level 5.",
        "Their walls get two coats eggshell.",
    ],
)
def test_what_points_back_to_a_place_that_was_not_read_is_confirmed(text: str) -> None:
    rules = read_text(f"Kim wants the kiln corner done.\n\n{text}\n").rules
    assert rules
    assert {rule.confirm for rule in rules} == {BACK}


@pytest.mark.parametrize(
    "text",
    [
        "There are two coats of flat on all ceilings.",
        "There shall be two coats satin on walls.",
        "Doors and their frames: two coats gloss.",
        "Hall: two coats satin on its walls.",
        "Paint covers 350 sq ft per gallon there.",
    ],
)
def test_what_holds_by_itself_points_back_to_nothing(text: str) -> None:
    assert BACK not in {rule.confirm for rule in read_text(f"PAINTING\n\n{text}\n").rules}
