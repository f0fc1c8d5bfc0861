"""Units behind numbers: inches, feet with their inches, units grown together with a number."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.reading.parsing.tagging.tag import Tag
from reads import language


def tags(text: str) -> list[Tag]:
    return language().lexicon.tags(text)


def names(text: str) -> list[str]:
    return [t.name for t in tags(text)]


@pytest.mark.parametrize(
    ("text", "feet"),
    [
        ("8'-0 1/2\"", Fraction(193, 24)),
        ("12 ft 6 in.", Fraction(25, 2)),
        ("8'-0\"", Fraction(8)),
        ("9' 3\"", Fraction(37, 4)),
    ],
)
def test_feet_and_their_inches_are_one_length(text: str, feet: Fraction) -> None:
    [tag] = tags(text)
    assert (tag.name, tag.number, tag.end) == ("FEET_INCHES", feet, len(text))


def test_in_is_an_inch_behind_a_number_and_else_a_preposition() -> None:
    assert "LENGTH_UNIT" not in names("in the wall")
    assert names("12 in wide") == ["NUMBER", "LENGTH_UNIT", "WIDE"]
    assert "LENGTH_UNIT" not in names("2 in each room")


def test_a_unit_glued_to_its_number_is_found() -> None:
    assert names("12m2/L") == ["NUMBER", "AREA_UNIT", "PER", "VOLUME_UNIT"]
    assert names("450mm") == ["NUMBER", "LENGTH_UNIT"]


@pytest.mark.parametrize(
    ("text", "feet"),
    [
        ("8'-6\"", "17/2"),
        ("8 ft 6 in", "17/2"),
        ("8 ft - 6 in", "17/2"),
        ("8 ft 14 in", ""),
        ("8 ft, 6 in", ""),
        ("8 ft wall 6 in", ""),
        ("8 ft             6 in", ""),
    ],
)
def test_feet_and_the_inches_right_behind_them_are_one_length(text: str, feet: str) -> None:
    joined = [str(t.number) for t in language().lexicon.tags(text) if t.name == "FEET_INCHES"]
    assert joined == ([feet] if feet else [])
