"""What a list says in turn, and of a place that is named last."""

from __future__ import annotations

import pytest

from reads import read_text


def _coats(text: str) -> set[tuple[str, str, int]]:
    return {
        (r.scope.get("room", ""), r.scope.get("surface", ""), int(r.amount.value))
        for r in read_text(text).rules
        if r.kind.name == "coats" and r.amount is not None
    }


@pytest.mark.parametrize(
    "text",
    [
        "Walls in the attic and foyer: three and two coats eggshell respectively.",
        "The walls of the attic and the foyer receive three and two coats of eggshell respectively.",
        "Three and two coats of eggshell on attic and foyer walls, in that order.",
        "Three coats of eggshell to attic walls while foyer walls get two.",
        "Attic walls receive three coats of eggshell. Those in the foyer receive two.",
        "In the attic walls get three coats of eggshell. In the foyer they get two.",
        "Attic: three coats eggshell on walls. Foyer: two.",
    ],
)
def test_each_place_has_its_own(text: str) -> None:
    assert _coats(text) == {("attic", "wall", 3), ("foyer", "wall", 2)}


def test_not_as_many_of_one_as_of_the_other_is_asked() -> None:
    reading = read_text("Attic, foyer and nave walls: three and two coats eggshell respectively.")
    assert not [r for r in reading.rules if r.kind.name == "coats"]
    assert any("in turn" in d.message for d in reading.diagnostics)


def test_distances_in_turn() -> None:
    rules = read_text("Screws 12 in. and 16 in. o.c. on ceilings and walls respectively.").rules
    assert [(r.scope["surface"], int(r.amount.value)) for r in rules] == [("ceiling", 12), ("wall", 16)]


def test_a_number_alone_is_confirmed_and_counts_nothing_else() -> None:
    rules = read_text("Attic walls receive three coats of eggshell. Those in the foyer receive two.").rules
    assert [bool(r.confirm) for r in rules] == [False, True]
    for other in ("The foyer has two doors.", "Foyer: two radiators.", "There are two foyers."):
        assert len(read_text(f"Attic walls receive three coats of eggshell. {other}").rules) == 1


def test_a_place_behind_the_last_of_two_may_be_of_both() -> None:
    text = "Two coats eggshell to walls and one coat flat to ceiling in the attic."
    assert _coats(text) == {("attic", "wall", 2), ("attic", "ceiling", 1)}
    assert [bool(r.confirm) for r in read_text(text).rules] == [True, False]


@pytest.mark.parametrize(
    "but", [", satin in the attic", ", but satin in the attic", " (satin in attic)", "; attic satin"]
)
def test_a_look_of_a_place_leaves_the_count_where_it_is(but: str) -> None:
    text = f"Walls: two coats eggshell{but}."
    assert _coats(text) == {("", "wall", 2)}
    assert [(r.choice, r.scope.get("room")) for r in read_text(text).rules if r.choice] == [("satin", "attic")]


@pytest.mark.parametrize(
    "same",
    [", and so do the foyer walls.", "; likewise the foyer walls.", ". Foyer walls: same.", ". Foyer to match attic."],
)
def test_what_is_taken_over_is_asked_about(same: str) -> None:
    reading = read_text(f"Attic walls get three coats of eggshell{same}")
    assert _coats(f"Attic walls get three coats of eggshell{same}") == {("attic", "wall", 3)}
    assert any("taken over" in d.message for d in reading.diagnostics)


@pytest.mark.parametrize(
    "text",
    [
        "Two coats of eggshell for all walls with three in the attic.",
        "Two coats eggshell on walls but three in the attic.",
    ],
)
def test_two_counts_that_nothing_parts_have_their_own_places(text: str) -> None:
    assert _coats(text) == {("", "wall", 2), ("attic", "wall", 3)}


@pytest.mark.parametrize("behind", ["Location: attic walls.", "This applies to attic walls."])
def test_a_sentence_behind_says_where(behind: str) -> None:
    assert _coats(f"Apply two coats of eggshell. {behind}") == {("attic", "wall", 2)}


def test_rooms_that_follow_are_those_that_are_listed() -> None:
    text = "Paint walls two coats eggshell in the following rooms: attic and foyer."
    assert _coats(text) == {("attic", "wall", 2), ("foyer", "wall", 2)}


def test_a_window_wall_is_one_wall() -> None:
    rules = read_text("Level 5 on the window wall, 4 on the rest.").rules
    assert [(dict(r.scope), int(r.amount.value)) for r in rules] == [
        ({"facing": "window", "surface": "wall"}, 5),
        ({}, 4),
    ]


def test_a_bracket_says_which_surface_of_the_room_before_it() -> None:
    rules = read_text("Level 5: foyer walls, attics (ceilings only).").rules
    assert {(r.scope.get("room"), r.scope.get("surface")) for r in rules} == {("foyer", "wall"), ("attic", "ceiling")}


def test_the_look_of_one_wall_is_no_place_of_a_count() -> None:
    rules = read_text("Attics: walls eggshell two coats, teaching wall satin.").rules
    assert [r.scope.get("facing") for r in rules if r.kind.name == "coats"] == [None]
    assert [r.scope.get("facing") for r in rules if r.choice == "satin"] == ["teaching"]


def test_a_storey_is_no_level_of_finish() -> None:
    reading = read_text("Corridors on levels 1 and 3 get two coats of eggshell, level 4 gets three.")
    assert not [r for r in reading.rules if r.kind.name == "finish level"]
    assert any("a storey" in d.message for d in reading.diagnostics)


def test_more_than_elsewhere_is_no_count() -> None:
    assert not read_text("Suites get one coat more than guest rooms on ceilings.").rules


def test_what_a_later_sentence_leaves_out_is_not_of_the_label() -> None:
    rules = read_text("Trim: two coats semi-gloss, doors included. Windows are vinyl, no paint.").rules
    assert not [r for r in rules if r.kind.name == "replaced"]
