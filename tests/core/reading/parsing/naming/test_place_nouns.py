"""Places that are called by a noun of places and plain words: what is said there is said of nothing wider."""

from __future__ import annotations

import pytest

from reads import read_text


def rooms(text: str) -> list[str]:
    return [rule.scope.get("room", "") for rule in read_text(text).rules]


@pytest.mark.parametrize(
    ("text", "room"),
    [
        ("Back of house: walls flat.", "back of house"),
        ("BOH walls: two coats semi-gloss.", "boh"),
        ("Common areas: two coats eggshell on walls.", "common area"),
        ("Walls in the shell space: two coats eggshell.", "shell space"),
        ("Main house: 5/8 in. board.", "main house"),
        ("Guest wing: walls flat.", "guest wing"),
        ("Plant areas walls: two coats semi-gloss.", "plant area"),
        ("Ceilings of the secure areas: flat, two coats.", "secure area"),
        ("Dry areas - walls two coats eggshell", "dry area"),
        ("Entrance: walls flat.", "entrance"),
        ("Storage: two coats eggshell.", "storage"),
    ],
)
def test_what_is_said_of_such_a_place_holds_there_alone(text: str, room: str) -> None:
    assert rooms(text) == [room]


@pytest.mark.parametrize(
    "text",
    [
        "All areas: walls two coats eggshell.",
        "Remaining spaces: walls two coats eggshell.",
        "Deduct openings over 32 sq ft from the wall area.",
        "Satin, two coats, to entrance doors.",
        "Walls: two coats eggshell over the whole area.",
        "Walls: 5/8 in. type X core board.",
    ],
)
def test_a_noun_that_is_only_counted_or_pointed_at_is_no_place(text: str) -> None:
    assert set(rooms(text)) == {""}
