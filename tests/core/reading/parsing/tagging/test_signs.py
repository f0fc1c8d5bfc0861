"""Signs, and the numbers that begin with one."""

from __future__ import annotations

from fractions import Fraction

import pytest

from reads import language


def names(text: str) -> list[str]:
    return [tag.name for tag in language().lexicon.tags(text)]


@pytest.mark.parametrize(
    ("text", "signs"),
    [
        ("walls; ceilings: walls", ["surface", "SEMICOLON", "surface", "COLON", "surface"]),
        ("(walls)", ["OPEN", "surface", "CLOSE"]),
        ("[walls]", ["CHOICE", "surface", "CHOICE_END"]),
        ("walls/ceilings", ["surface", "PER", "surface"]),
        ("walls. Ceilings", ["surface", "STOP", "surface"]),
        ("walls & ceilings", ["surface", "AND", "surface"]),
        ("walls | ceilings", ["surface", "CELL", "surface"]),
        ("walls – ceilings", ["surface", "DASH", "surface"]),
        ("walls?", ["surface", "STOP"]),
        ("walls w.b. ceilings", ["surface", "surface"]),
    ],
)
def test_each_sign_is_told_apart(text: str, signs: list[str]) -> None:
    assert names(text) == signs


@pytest.mark.parametrize(("text", "number"), [("½ in.", "1/2"), (".75 in.", "3/4"), ("(.5 in.)", "1/2")])
def test_a_fraction_and_a_decimal_without_its_nought_are_numbers(text: str, number: str) -> None:
    assert [t.number for t in language().lexicon.tags(text) if t.name == "NUMBER"] == [Fraction(number)]


def test_a_stop_inside_an_abbreviation_or_a_name_ends_nothing() -> None:
    assert "STOP" not in names("screws 12 in. o.c. on walls")
    assert "STOP" not in names("walls.txt")


def test_a_hyphen_inside_a_word_is_no_dash_and_one_that_hangs_is_none() -> None:
    assert "DASH" not in names("semi-gloss walls")
    assert "DASH" not in names("1/4- to 1/2-inch walls")
