"""The unit table and the spelling of amounts. Factors: NIST Special Publication 811, Appendix B.8."""

from __future__ import annotations

import itertools
import pickle
from fractions import Fraction

import pint
import pytest
import scipy.constants
from hypothesis import given
from hypothesis import strategies as st

from darby.quantities import units
from darby.quantities.units import EACH, UNITS, UnitError, combine, parse, preferred, unit_named

_MEASURES = (units.LENGTH, units.AREA, units.VOLUME, units.MASS)
_TABLE = [u for u in UNITS.values() if u.dimension in _MEASURES]

# What the other libraries call our units. pint reads `mil` as an angle, so the thousandth of an inch is its `thou`.
_IN_PINT = {
    "in": "inch", "ft": "foot", "yd": "yard", "mil": "thou", "mm": "millimeter", "cm": "centimeter", "m": "meter",
    "um": "micrometer", "sq ft": "foot**2", "sq yd": "yard**2", "m2": "meter**2", "lb": "pound", "oz": "ounce",
    "kg": "kilogram", "g": "gram", "gal": "gallon", "qt": "quart", "pt": "pint", "fl oz": "fluid_ounce", "L": "liter", "mL": "milliliter",
}  # fmt: skip


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry(non_int_type=Fraction)


def test_every_pair_of_units_converts_as_pint_converts_it(registry: pint.UnitRegistry) -> None:
    pairs = [(a, b) for a, b in itertools.permutations(_TABLE, 2) if a.dimension == b.dimension]
    assert len(pairs) > 80
    for a, b in pairs:
        theirs = registry.Quantity(Fraction(1), _IN_PINT[a.name]).to(_IN_PINT[b.name]).magnitude
        assert a.factor / b.factor == pytest.approx(theirs, rel=1e-12), (a.name, b.name)


@pytest.mark.parametrize(
    ("name", "constant", "base"),
    [
        ("in", "inch", "m"), ("ft", "foot", "m"), ("yd", "yard", "m"), ("mil", "mil", "m"), ("um", "micron", "m"),
        ("lb", "pound", "kg"), ("oz", "ounce", "kg"), ("g", "gram", "kg"),
    ],
)  # fmt: skip
def test_lengths_and_masses_agree_with_scipy(name: str, constant: str, base: str) -> None:
    size = UNITS[name].factor / UNITS[base].factor
    assert float(size) == pytest.approx(getattr(scipy.constants, constant), rel=1e-15)


def test_gallon_and_litre_agree_with_scipy() -> None:
    cubic_metre = UNITS["m"].factor ** 3
    assert float(UNITS["gal"].factor / cubic_metre) == pytest.approx(scipy.constants.gallon, rel=1e-15)
    assert float(UNITS["L"].factor / cubic_metre) == pytest.approx(scipy.constants.liter, rel=1e-15)


@pytest.mark.parametrize(
    ("one", "is_exactly"),
    [
        ("1 in", "25.4 mm"), ("1 ft", "0.3048 m"), ("1 yd", "0.9144 m"), ("1 mil", "25.4 um"), ("1 lb", "453.59237 g"),
        ("1 oz", "28.349523125 g"), ("1 gal", "3785.411784 mL"), ("1 sq ft", "0.09290304 m2"), ("1 sq yd", "0.83612736 m2"),
        ("1 gal", "4 qt"), ("1 qt", "2 pt"), ("1 lb", "16 oz"),
    ],
)  # fmt: skip
def test_factors_are_the_exact_ones_of_nist_sp_811(one: str, is_exactly: str) -> None:
    (a, unit), (b, other) = parse(one), parse(is_exactly)
    assert a * unit.factor == b * other.factor


def test_a_spread_a_film_and_a_volume_fit_together() -> None:
    # 1 gal spread 1 mil thick covers 231 / 0.001 / 144 = 1604 1/6 sq ft.
    volume, film = UNITS["gal"], UNITS["mil"]
    area = combine(volume, film, -1)
    assert area is UNITS["sq ft"]
    assert volume.factor / film.factor / area.factor == Fraction(231_000, 144)


@pytest.mark.parametrize("unit", UNITS.values(), ids=str)
def test_every_spelling_of_a_unit_names_it_and_reads(unit: units.Unit) -> None:
    for spelling in (unit.name, *unit.spellings):
        assert unit_named(spelling) is unit, spelling
        assert parse(f"3 {spelling}") == (3, unit), spelling
        if spelling.isascii():
            assert unit_named(spelling.upper()) is unit, spelling
            assert parse(f"3 {spelling.upper()}") == (3, unit), spelling


def test_no_spelling_belongs_to_two_units() -> None:
    said = [s for unit in UNITS.values() for s in {unit.name.lower(), *unit.spellings}]
    assert len(said) == len(set(said))


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("12 ft 6 in", "25/2", "ft"),
        ("12'-6\"", "25/2", "ft"),
        ("8'-0 1/2\"", "193/24", "ft"),
        ("8’ 6”", "17/2", "ft"),
        ("8′-6″", "17/2", "ft"),
        ("8 ft, 3 in.", "33/4", "ft"),
        ("8 ft and 3 in", "33/4", "ft"),
        ("8-ft", "8", "ft"),
        ("5/8\"", "5/8", "in"),
        ("⅝ inch", "5/8", "in"),
        ("1-1/8 in", "9/8", "in"),
        ("1 1⁄8 in", "9/8", "in"),
        ("3.81 m", "381/100", "m"),
        ("12\u00a0ft", "12", "ft"),
        ("1,200 sq. ft.", "1200", "sq ft"),
        (".5 gal", "1/2", "gal"),
        ("5 %", "5", "%"),
        ("62 lb 8 oz", "125/2", "lb"),
        ("2 pails", "2", "pail"),
        ("-5 ft 6 in", "-11/2", "ft"),
    ],
)  # fmt: skip
def test_amounts_read_in_their_usual_spellings(text: str, value: str, unit: str) -> None:
    assert parse(text) == (Fraction(value), UNITS[unit])


@pytest.mark.parametrize(
    "text",
    [
        "", "   ", "12", "twelve", "ft", "12 fett", "12 ft 6", "6 in 12 ft", "12 ft 3 gal", "12 ft 3 ft", "12 ft 14 in", "12 ft 12 in", "- 5 ft", "and 5 ft",
        "--5 ft", "1/0 ft", "12 ft x", "٣ ft", "5 ſq ft", "5 K", "1" * 5000 + " ft", "1 ft" + " " * 5000 + "x",
    ],
)  # fmt: skip
def test_what_is_no_amount_is_a_unit_error(text: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse(text)
    assert len(str(caught.value)) < 300


@given(st.text(alphabet=" 0123456789./-,'\"½¼ftinmlbsqgaLKſ\u00a0", max_size=40))
def test_any_text_reads_or_is_a_unit_error(text: str) -> None:
    try:
        _, unit = parse(text)
    except UnitError:
        return
    assert unit in UNITS.values()


@given(st.sampled_from(list(UNITS.values())), st.sampled_from(list(UNITS.values())))
def test_a_product_divided_by_one_side_gives_the_other(a: units.Unit, b: units.Unit) -> None:
    back = combine(combine(a, b, 1), b, -1)
    assert back.dimension == a.dimension
    product, quotient = combine(a, b, 1), combine(a, b, -1)
    assert combine(b, a, 1).dimension == product.dimension
    assert combine(product, quotient, 1).dimension == combine(a, a, 1).dimension


def test_equal_units_cancel() -> None:
    assert combine(UNITS["ft"], UNITS["ft"], -1) is EACH
    assert combine(UNITS["ft"], UNITS["m"], -1) is EACH
    per_pail = combine(UNITS["lb"], UNITS["pail"], -1)
    assert combine(UNITS["lb"], per_pail, -1) is UNITS["pail"]


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("dimension", _MEASURES)
def test_each_measure_has_a_usual_unit_of_its_system(system: str, dimension: units.Dimension) -> None:
    unit = preferred(dimension, system)
    assert unit is not None
    assert (unit.dimension, unit.system) == (dimension, system)


def test_a_unit_is_itself_again_in_another_process() -> None:
    made = combine(UNITS["lb"], UNITS["pail"], -1)
    for unit in (*UNITS.values(), made, combine(made, UNITS["sq ft"], -1)):
        assert pickle.loads(pickle.dumps(unit)) is unit
