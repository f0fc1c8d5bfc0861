"""What is usual for a kind and a product, and what is said of a value outside."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.quantities.units import AREA, MASS, NUMBER_ONLY, UNITS, VOLUME
from darby.reading.parsing.fact_parser import Quantity
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.vocabulary import Vocabulary
from darby.rules.usual import ranges_of, unusual
from darby.text.spans import Source
from reads import language, read_text

TABLE = {
    "usage": {
        "wax": ["3 lb per 100 sq ft", "20 lb per 100 sq ft", "a guild's list"],
        "wax / volume": ["1 gal per 1000 sq ft", "1 gal per 100 sq ft", "a guild's list"],
    },
    "depth": {"slab": ["6 mm", "20 mm", "a guild's list"], "slab / heavy": ["25 mm", "1 in", "a guild's list"]},
}


def amount(value: str, unit: str) -> Quantity:
    return Quantity(Fraction(value), UNITS[unit])


@pytest.fixture(scope="module")
def words() -> Lexicon:
    text = (
        '[ranges.usage]\nwax = ["3 lb per 100 sq ft", "20 lb per 100 sq ft", "a guild\'s list"]\n'
        '[ranges.package]\nwax = ["1 lb", "10 lb", "a guild\'s list"]\n'
    )
    return Lexicon.of([Vocabulary("guild", Source("guild", text))])


def test_a_rate_is_held_against_a_rate_in_any_unit(words: Lexicon) -> None:
    # 3 lb over 100 sq ft is 0.1465 kg over a square metre, 20 lb is 0.9765 (1 lb = 0.45359237 kg, 1 sq ft = 0.09290304 m2)
    assert words.unusual("usage", "wax", amount("1/2", "kg"), amount("1", "m2")) == ""
    assert "3 lb per 100 sq ft to 20 lb" in words.unusual("usage", "wax", amount("1/10", "kg"), amount("1", "m2"))
    assert "a guild's list" in words.unusual("usage", "wax", amount("99/100", "kg"), amount("1", "m2"))


def test_both_ends_are_usual(words: Lexicon) -> None:
    assert words.unusual("usage", "wax", amount("3", "lb"), amount("100", "sq ft")) == ""
    assert words.unusual("usage", "wax", amount("20", "lb"), amount("100", "sq ft")) == ""
    assert words.unusual("usage", "wax", amount("2001/100", "lb"), amount("100", "sq ft")) != ""


def test_a_package_is_held_by_its_content(words: Lexicon) -> None:
    assert words.unusual("package", "wax", amount("5", "lb"), amount("1", "pail")) == ""
    assert words.unusual("package", "wax", amount("11", "lb"), amount("1", "bag")) != ""


def test_what_no_table_speaks_of_is_never_unusual(words: Lexicon) -> None:
    assert words.unusual("usage", "soap", amount("900", "lb"), amount("1", "sq ft")) == ""
    assert words.unusual("depth", "wax", amount("900", "ft")) == ""


def test_another_way_of_measuring_is_unusual_unless_it_is_listed() -> None:
    usual = ranges_of([TABLE])
    by_volume = amount("5", "gal").size / amount("1000", "sq ft").size
    assert unusual(usual["usage", "wax"], by_volume, (VOLUME, AREA)) == ""
    assert unusual(usual["usage", "wax"][:1], by_volume, (VOLUME, AREA)) == "it is not usually measured so"
    assert unusual(usual["usage", "wax"][:1], by_volume, (MASS, NUMBER_ONLY)) == "it is not usually measured so"


def test_a_type_has_a_range_of_its_own() -> None:
    usual = ranges_of([TABLE])["depth", "slab"]
    length = usual[0].measure
    assert unusual(usual, amount("25", "mm").size, length, "heavy") == ""
    assert unusual(usual, amount("25", "mm").size, length) != ""
    assert unusual(usual, amount("12", "mm").size, length, "heavy") != ""


@pytest.mark.parametrize("ends", [["3 lb", "20 sq ft", "x"], ["20 lb", "3 lb", "x"], ["some", "20 lb", "x"]])
def test_what_is_no_range_is_refused(ends: list[str]) -> None:
    with pytest.raises(ValueError, match=r"range|amount"):
        ranges_of([{"usage": {"wax": ends}}])


def test_every_range_of_the_trades_names_a_kind_its_subject_can_have() -> None:
    words = language().lexicon
    assert [key for key in words.ranges if key[0] not in words.kinds[key[1]]] == []
    assert [u.said for some in words.ranges.values() for u in some if not u.source] == []


@pytest.mark.parametrize(
    ("text", "unusual"),
    [
        ("Gypsum board: 5/8 in. thick.", False), ("Gypsum board: 1 in. thick.", True), ("Shaft liner: 1 in. thick.", False),
        ("Finish paint: 350 sq ft per gallon.", False), ("Finish paint: 1400 sq ft per gallon.", True),
        ("Finish paint: 0.5 kg/m2.", True), ("Joint compound: 0.5 kg/m2.", False), ("Joint compound: 5 kg/m2.", True),
        ("Screws 12 in. o.c.", False), ("Screws 36 in. o.c.", True), ("Walls: five coats of finish paint.", True),
    ],
)  # fmt: skip
def test_a_rule_outside_what_is_usual_waits_to_be_confirmed(text: str, unusual: bool) -> None:
    [rule] = read_text(text).rules
    assert ("ordinary" in rule.confirm) is unusual
