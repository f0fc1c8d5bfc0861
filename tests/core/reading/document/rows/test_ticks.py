"""Ticks in a matrix of places and systems."""

from __future__ import annotations

import pytest

from reads import read_text

PAINTS = "PT-1: two coats eggshell.\nPT-2: three coats satin.\n\n"


def systems(text: str) -> set[tuple[str, str, str]]:
    return {
        (r.choice, r.scope.get("room", ""), r.scope.get("surface", ""))
        for r in read_text(PAINTS + text).rules
        if r.kind.name == "system"
    }


@pytest.mark.parametrize("sign", ["x", "X", "(x)", "✓", "•", "Yes"])
def test_a_tick_gives_what_stands_over_it_to_the_place_of_its_row(sign: str) -> None:
    rows = f"Room | PT-1 walls | PT-2 walls\nFoyer | {sign} | -\nArchive | | {sign}\n"
    assert systems(rows) == {("PT-1", "foyer", "wall"), ("PT-2", "archive", "wall")}


def test_a_tick_under_words_gives_nothing() -> None:
    assert systems("Room | By owner | Existing\nFoyer | x | -\nArchive | | x\n") == set()


def test_a_tick_under_two_marks_gives_neither() -> None:
    assert systems("Room | PT-1 or PT-2 | Notes\nFoyer | x | -\nArchive | x | x\n") == set()
