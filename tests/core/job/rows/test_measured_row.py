"""Measures of one row: what was written, where it stood, and where the line is drawn between right and wrong."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import Sheet
from darby.quantities.amounts import Amount
from darby.text.spans import Source
from darby.text.toml_places import read_toml


def row(text: str, what: str = "wall 1") -> Row:
    data, places, mistakes = read_toml(Source("job.toml", text))
    assert data is not None, mistakes
    return Row.of(Sheet(places), (), data, what=what, keys=tuple(data))


def codes(of: Row) -> list[str]:
    return [d.code for d in of.sheet.found]


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ('name = "north"\n', "north length"),
        ('name = " "\n', "wall 1 length"),
        ("name = 3\n", "wall 1 length"),
        ("", "wall 1 length"),
    ],
)
def test_a_measure_knows_whose_it_is_what_was_written_and_where(name: str, key: str) -> None:
    one = row(name + 'length = "12\'-6\\""\n')
    length = one.length("length")
    assert length == Amount.read("12.5 ft")
    origin = length.step.origin
    assert (origin.key, origin.text, origin.note, length.label) == (key, "12'-6\"", "measured", "length")
    assert origin.place is not None
    assert origin.place.text == "12'-6\\\""


@pytest.mark.parametrize(
    ("value", "read", "code"),
    [
        ("1", 1, ""),
        ("20", 20, ""),
        ("0", None, "job-out-of-range"),
        ("21", None, "job-out-of-range"),
        ("-1", None, "job-out-of-range"),
        ("2.0", None, "job-wrong-type"),
        ("true", None, "job-wrong-type"),
        ('"2"', None, "job-wrong-type"),
    ],
)
def test_a_count_is_a_whole_number_from_the_least_to_the_most(value: str, read: int | None, code: str) -> None:
    one = row(f"count = {value}\n")
    found = one.count("count", 20)
    assert (found.value if found else None) == read
    assert codes(one) == ([code] if code else [])
    assert row("a = 0\n").count("a", least=0) == Amount.of(0)
    assert row("a = 1000000\n").count("a") == Amount.of(10**6)
    assert row("a = 1000001\n").count("a") is None
    assert row("a = 1\n").count("b") is None


@pytest.mark.parametrize(
    ("value", "price"),
    [
        ("24", Fraction(24)),
        ('"24.50"', Fraction(49, 2)),
        ('" 1/3 "', Fraction(1, 3)),
        ("0", None),
        ("-2", None),
        ('"0"', None),
        ("9.99", None),
        ("true", None),
        ('"dear"', None),
    ],
)
def test_a_price_is_exact_and_above_zero(value: str, price: Fraction | None) -> None:
    one = row(f"price = {value}\n")
    found = one.money("price")
    assert (found.value if found else None) == price
    assert len(codes(one)) == (price is None)
    assert row("a = 1\n").money("price") is None


@pytest.mark.parametrize(
    ("value", "content", "code"),
    [
        ('"5 gal"', Amount.read("5 gal"), ""),
        ('"25 kg"', Amount.read("25 kg"), ""),
        ('"250 ft"', Amount.read("250 ft"), ""),
        ("500", Amount.of(500), ""),
        ('"500"', None, "job-unreadable-amount"),
        ('"0 gal"', None, "job-unreadable-amount"),
        ("0", None, "job-out-of-range"),
        ("true", None, "job-wrong-type"),
        ("2.5", None, "job-wrong-type"),
        ('"' + "5" * 200 + ' gal"', None, "job-wrong-type"),
    ],
)
def test_a_package_holds_a_measure_or_a_count_above_zero(value: str, content: Amount | None, code: str) -> None:
    one = row(f"package = {value}\n")
    assert one.content("package") == content
    assert codes(one) == ([code] if code else [])
    assert row("a = 1\n").content("package") is None


def test_a_length_or_an_area_is_above_zero_and_of_its_own_kind() -> None:
    one = row('a = "8 ft"\nb = "96 sq ft"\nc = "0 m"\nd = "2 gal"\n')
    assert one.length("a") == Amount.read("8 ft")
    assert one.area("b") == Amount.read("96 sq ft")
    assert one.length("e") is None
    assert codes(one) == []
    assert (one.length("b"), one.area("a"), one.length("c"), one.length("d")) == (None,) * 4
    assert codes(one) == ["job-wrong-unit", "job-wrong-unit", "job-out-of-range", "job-wrong-unit"]
    assert "a volume" in one.sheet.found[3].message


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("10,5 ft", '"10.5 ft"'),
        ("3,2 metres", '"3.2 metres"'),
        ("10 fet", "ft"),
        ("10 incs", "in"),
        ("10 elephants", ""),
        ("ft", ""),
        ("10,5 elephants", ""),
    ],
)
def test_what_was_meant_by_a_measure_is_guessed_from_its_comma_or_its_letters(written: str, meant: str) -> None:
    one = row(f'length = "{written}"\n')
    assert one.length("length") is None
    (found,) = one.sheet.found
    assert found.help.startswith(f"Did you mean {meant}" if meant else "Write it as")
