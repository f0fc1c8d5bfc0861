"""Numbers in digits, as specifications and scanners write them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.reading.parsing.tagging.numbers import number_at
from reads import language


def at(text: str, start: int = 0, *, glued: bool = False) -> tuple[str, str, Fraction | None, int]:
    tag, end = number_at(text, start, lambda _: glued)
    return (tag.name, tag.value, tag.number, end) if tag is not None else ("", "", None, end)


@pytest.mark.parametrize(
    ("text", "number", "end"),
    [
        ("12 mm", "12", 2),
        ("2.5 in", "5/2", 3),
        ("1,200 sq ft", "1200", 5),
        ("2 1/2 in", "5/2", 5),
        ("5/8 in", "5/8", 3),
        ("11/2 in", "3/2", 4),
        ("12,5 mm", "25/2", 4),
        ("0,35 kg", "7/20", 4),
        ("12,5 to 15 mm", "25/2", 4),
    ],
)
def test_a_number_and_where_it_ends(text: str, number: str, end: int) -> None:
    assert at(text)[0] == "NUMBER"
    assert at(text)[2:] == (Fraction(number), end)


@pytest.mark.parametrize(("text", "which"), [("1st coat", "first"), ("2nd", "second"), ("3 rd coat", "third")])
def test_an_ordinal_is_one(text: str, which: str) -> None:
    assert at(text)[:2] == ("ORDINAL", which)


def test_a_comma_before_three_digits_parts_thousands_and_none_before_inches_is_a_point() -> None:
    assert at("2,400 mm")[2] == 2400
    assert at("12,5 in")[2] == 12


@pytest.mark.parametrize(("text", "name"), [("12lO", "DAMAGED"), ("12A", "CODE"), ("3Q7", "CODE")])
def test_letters_grown_into_a_number_make_a_mark_or_damage_of_it(text: str, name: str) -> None:
    assert at(text, glued=True)[0] == name


def test_digits_inside_a_word_or_behind_a_point_are_no_number() -> None:
    assert at("A12", 1)[:1] == ("",)
    assert at("x.5 mm", 2)[:1] == ("",)


def test_digits_of_another_script_are_damage() -> None:
    assert at("١٢ mm")[:2] == ("DAMAGED", "١٢")


def test_a_size_with_an_x_is_two_numbers() -> None:
    numbers = [t.number for t in language().lexicon.tags("4x8 ft") if t.name == "NUMBER"]
    assert numbers == [4, 8]
