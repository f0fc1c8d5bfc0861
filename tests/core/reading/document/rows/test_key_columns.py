"""The column that names what the rows of a table are of."""

from __future__ import annotations

import pytest

from reads import read_text

HEADS = {"with heads": "No. | Name | Walls\n", "under a head of places": "Ref | Room | Walls\n"}


@pytest.mark.parametrize("heads", HEADS)
def test_the_names_of_rooms_are_keys_and_their_numbers_are_not(heads: str) -> None:
    rules = read_text(HEADS[heads] + "101 | Sorting loft | eggshell\n102 | Foyer | satin\n").rules
    assert [(r.scope["room"], r.choice) for r in rules] == [("sorting loft", "eggshell"), ("foyer", "satin")]


def test_a_surface_before_the_names_is_no_number() -> None:
    rules = read_text("Surface | Room | Sheen\nWalls | Foyer | eggshell\nCeiling | Foyer | flat\n").rules
    assert [(r.scope["room"], r.scope["surface"], r.choice) for r in rules] == [
        ("foyer", "wall", "eggshell"),
        ("foyer", "ceiling", "flat"),
    ]
