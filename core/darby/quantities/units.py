"""The unit table with exact factors, and how lengths, areas, volumes and masses are spelled.

Factors: NIST Special Publication 811, Appendix B, and NIST Handbook 44, Appendix C. The gallon is the US gallon of 231
cubic inches; the imperial gallon is no unit here. Base units are the nanometre and the nanogram, in which every factor
is a whole number; a volume is a length to the third power, so that spread, film and volume fit together.
"""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any

from attrs import field, frozen

from darby.quantities.numerals import MINUS, NUMBER, value_of

Dimension = tuple[tuple[str, int], ...]
"""Powers of the base quantities, sorted, none of them zero. The empty one is a bare number."""

LENGTH: Dimension = (("length", 1),)
"""Of lengths: feet, metres, mils of a film."""
AREA: Dimension = (("length", 2),)
"""Of areas: square feet, square metres."""
VOLUME: Dimension = (("length", 3),)
"""Of volumes: gallons, litres; an area times a film is one."""
MASS: Dimension = (("mass", 1),)
"""Of weights: pounds, kilograms."""
NUMBER_ONLY: Dimension = ()
"""Of bare numbers: counts and shares."""


class UnitError(ValueError):
    """Units that do not go together, or a text that spells no amount."""


@frozen(eq=False)
class Unit:
    """A unit, plain or made of others. `factor` is its size in base units."""

    name: str
    """Its canonical spelling: `sq ft`, `lb/pail`."""
    dimension: Dimension
    """What it measures; units of one dimension go together."""
    factor: Fraction
    """Exact: of a length in nanometres, of a weight in nanograms; 1 for what is counted."""
    system: str = ""
    """`us` or `metric`; nothing where it is of both."""
    spellings: tuple[str, ...] = field(default=(), repr=False)
    """How it is written, in small letters."""
    over: tuple[Unit, ...] = field(default=(), repr=False)
    """Of a unit made of others, the plain ones above the line; empty where it is plain."""
    under: tuple[Unit, ...] = field(default=(), repr=False)
    """Those below the line: a rate of 64 lb/pail has the pail here."""

    @property
    def over_parts(self) -> tuple[Unit, ...]:
        """The plain units above the line."""
        return self.over or (() if self.under else (self,))

    def __str__(self) -> str:
        return self.name

    def __reduce__(self) -> tuple[object, ...]:
        """In another process it is that one's own unit too: units are told apart by which they are."""
        return _the, (self.name, self.dimension, self.factor, self.system, (), self.over, self.under)


_once = cache(Unit)


def _the(name: str, *made: Any) -> Unit:
    """The one unit that is plain or made of others in this way; a plain one may have become known since it was last asked for."""
    return UNITS.get(name) or _once(name, *made)


NM = 1
_INCH = 25_400_000
_SQ_FT = (12 * _INCH) ** 2
_GALLON = 231 * _INCH**3
_POUND = 453_592_370_000
_M = 10**9
_LITRE = 10**24

_TABLE: tuple[tuple[str, Dimension, int, str, str], ...] = (
    ("in", LENGTH, _INCH, "us", "in|in.|inch|inches|inche|ins|ins."),
    ("ft", LENGTH, 12 * _INCH, "us", "ft|ft.|foot|feet|lf|l.f.|lin ft|lin. ft.|lineal feet|linear feet|lineal foot|linear foot"),
    ("yd", LENGTH, 36 * _INCH, "us", "yd|yd.|yard|yards|yds"),
    ("mil", LENGTH, _INCH // 1000, "us", "mil|mils"),
    ("mm", LENGTH, 10**6, "metric", "mm|mm.|millimetre|millimetres|millimeter|millimeters"),
    ("cm", LENGTH, 10**7, "metric", "cm|centimetre|centimetres|centimeter|centimeters"),
    ("m", LENGTH, _M, "metric", "m|metre|metres|meter|meters|lm|lin m|running metre|running metres|lineal metres|linear metres"),
    ("um", LENGTH, 1000, "metric", "um|µm|μm|micron|microns|micrometre|micrometres|micrometer|micrometers"),
    ("sq ft", AREA, _SQ_FT, "us", "sq ft|sq. ft.|sq.ft.|sq. ft|sq ft.|sqft|sft|s.ft|s.ft.|sf|s.f.|sq feet|sq. feet|sq foot|sq. foot|square feet|square foot|ft2|ft²"),
    ("sq yd", AREA, 9 * _SQ_FT, "us", "sq yd|sq. yd.|sq yds|square yard|square yards|yd2|yd²|sy"),
    ("m2", AREA, _M**2, "metric", "m2|m²|sq m|sq. m|sq. m.|sq.m|sq.m.|sqm|sqm.|sq mt|sq. mt.|sq mtr|sq. mtr.|sqmt|sq metre|sq. metre|sq metres|sq. metres|sq meter|sq. meter|sq meters|sq. meters|square metre|square metres|square meter|square meters"),
    ("lb", MASS, _POUND, "us", "lb|lb.|lbs|lbs.|pound|pounds"),
    ("oz", MASS, _POUND // 16, "us", "oz|oz.|ounce|ounces"),
    ("kg", MASS, 10**12, "metric", "kg|kg.|kgs|kgs.|kilogram|kilograms|kilogramme|kilogrammes"),
    ("g", MASS, 10**9, "metric", "g|gram|grams|gramme|grammes"),
    ("gal", VOLUME, _GALLON, "us", "gal|gal.|gals|gallon|gallons|us gal|us gal.|us gallon|us gallons|u.s. gal|u.s. gal.|u.s. gallon|u.s. gallons"),
    ("qt", VOLUME, _GALLON // 4, "us", "qt|qt.|qts|quart|quarts"),
    ("pt", VOLUME, _GALLON // 8, "us", "pt|pt.|pts|pint|pints"),
    ("fl oz", VOLUME, _GALLON // 128, "us", "fl oz|fl. oz.|fl. oz|fl.oz.|fl oz.|floz|fluid oz|fluid ounce|fluid ounces|us fl oz"),
    ("L", VOLUME, _LITRE, "metric", "l|litre|litres|liter|liters|ltr|ltr.|ltrs|ltrs."),
    ("mL", VOLUME, _LITRE // 1000, "metric", "ml|millilitre|millilitres|milliliter|milliliters"),
)  # fmt: skip

UNITS: dict[str, Unit] = {
    name: Unit(name, dimension, Fraction(factor), system, tuple(spellings.split("|")))
    for name, dimension, factor, system, spellings in _TABLE
}
"""Every plain unit by its canonical name, containers included: `UNITS["sq ft"]`."""
EACH = UNITS["each"] = Unit("each", NUMBER_ONLY, Fraction(1))
"""The unit of what is counted."""
PERCENT = UNITS["%"] = Unit("%", NUMBER_ONLY, Fraction(1, 100), "", ("%", "percent", "per cent", "pct"))
"""The hundredth; a share is a bare number, so 10 % of an area is an area."""

CONTAINERS: dict[str, str] = {
    "sheet": "sheet|sheets",
    "roll": "roll|rolls",
    "bag": "bag|bags|sack|sacks",
    "pail": "pail|pails|bucket|buckets|tub|tubs|drum|drums",
    "box": "box|boxes|carton|cartons|ctn",
    "can": "can|cans|tin|tins",
    "tube": "tube|tubes|cartridge|cartridges",
    "stick": "stick|sticks",
}
"""What goods come in, with spellings; each is a unit of its own kind, so that pails never add to rolls."""
for _name, _spellings in CONTAINERS.items():
    UNITS[_name] = Unit(_name, ((_name, 1),), Fraction(1), "", tuple(_spellings.split("|")))

STANDARD = tuple(UNITS.values())
"""The units that are known anyway; `own_units` adds those of plugins."""
_PREFERRED = {
    ("us", LENGTH): "ft", ("us", AREA): "sq ft", ("us", VOLUME): "gal", ("us", MASS): "lb",
    ("metric", LENGTH): "m", ("metric", AREA): "m2", ("metric", VOLUME): "L", ("metric", MASS): "kg",
}  # fmt: skip

_BY_SPELLING = {spelling: unit for unit in STANDARD for spelling in (unit.name.lower(), *unit.spellings)}


def preferred(dimension: Dimension, system: str) -> Unit | None:
    """The unit in which a quantity of a dimension is usually said, or None where there is no such custom."""
    name = _PREFERRED.get((system, dimension))
    if name is None and len(dimension) == 1 and dimension[0][1] == 1 and dimension[0][0] in CONTAINERS:
        name = dimension[0][0]  # 10 gal in pails of 15 L are so many pails, and no gal·pail/L
    return UNITS[name] if name else None


def bought_in(unit: Unit) -> Unit:
    """The unit in which a quantity is ordered that is used in `unit`: litres where the rate was in mL, feet where in inches.

    The unit itself where there is no usual one, as for what is counted.
    """
    return preferred(unit.dimension, unit.system) or unit


def unit_named(text: str) -> Unit | None:
    """The unit a spelling stands for, or None."""
    return _BY_SPELLING.get(_plain(text))


def _plain(text: str) -> str:
    return re.sub(r"\s+", " ", text.strip().lower())


@cache
def combine(first: Unit, second: Unit, sign: int) -> Unit:
    """The unit of a product (`sign` 1) or a quotient (`sign` -1); equal units cancel, known dimensions get their usual unit."""
    if second.dimension == NUMBER_ONLY and not second.under:
        return first
    if first.dimension == NUMBER_ONLY and not first.under and sign == 1:
        return second
    over = Counter(first.over_parts)
    under = Counter(first.under)
    over.update(second.over_parts if sign == 1 else second.under)
    under.update(second.under if sign == 1 else second.over_parts)
    over, under = over - under, under - over
    ups = tuple(u for u in over.elements() if u.dimension)
    downs = tuple(u for u in under.elements() if u.dimension)
    if not downs and len(ups) == 1:
        return ups[0]
    power: Counter[str] = Counter()
    for units, way in ((ups, 1), (downs, -1)):
        for unit in units:
            for base, n in unit.dimension:
                power[base] += way * n
    dimension = tuple(sorted((b, n) for b, n in power.items() if n))
    if dimension == NUMBER_ONLY:
        return EACH
    usual = preferred(dimension, first.system or second.system)
    if usual is not None:
        return usual
    factor = Fraction(1)
    for unit in ups:
        factor *= unit.factor
    for unit in downs:
        factor /= unit.factor
    name = "·".join(u.name for u in ups) or "1"
    if downs:
        name += "/" + "·".join(u.name for u in downs)
    return _the(name, dimension, factor, first.system or second.system, (), ups, downs)


@cache
def joined(first: Unit, second: Unit, sign: int) -> tuple[Unit, Fraction | None]:
    """The unit of a product or quotient (see `combine`), and what the values' own is times in it; None for once."""
    unit = combine(first, second, sign)
    size = first.factor * second.factor if sign == 1 else first.factor / second.factor
    return unit, None if size == unit.factor else size / unit.factor


@cache
def times(unit: Unit, other: Unit) -> Fraction:
    """How many of another unit of its dimension one of a unit is. Raises UnitError where it is of another dimension."""
    if unit.dimension != other.dimension:
        raise UnitError(f"{unit.name} and {other.name} measure different things")
    return unit.factor / other.factor


MARKS = {
    '"': "in", "”": "in", "“": "in", "″": "in", "''": "in", "’’": "in", "'": "ft", "’": "ft", "‘": "ft", "′": "ft"
}  # fmt: skip


_SPACES = "[ \t\n\u00a0\u2009\u202f]{1,4}"

# What `numerals.exact` prints and nobody writes: fractions and whole numbers of many digits.
_PRINTED = r"(?:[0-9]{1,60} )?[0-9]{1,60}/[0-9]{1,60}(?![0-9/])|[0-9]{16,60}(?![0-9])(?:\.[0-9]{1,9}(?![0-9]))?"


_NUMBER = re.compile(rf"\s{{0,4}}(?P<joint>(?:[-–,]|(?ai:and\b))\s{{0,4}})?(?P<number>{_PRINTED}|{NUMBER})[\s-]{{0,3}}")
# Only a to z are letters here: Python would also let the long s or the kelvin sign stand for s and k.
_WORDS = re.compile(rf"[A-Za-zµμ%][A-Za-z0-9².µμ]{{0,15}}(?:{_SPACES}[A-Za-z][A-Za-z0-9².]{{0,9}}){{0,2}}")


def _unit_at(text: str, at: int) -> tuple[Unit, int] | None:
    """The unit that is spelled at a place, by its longest spelling, and where it ends."""
    for mark in (text[at : at + 2], text[at : at + 1]):
        if mark in MARKS:
            return UNITS[MARKS[mark]], at + len(mark)
    words = _WORDS.match(text, at)
    for end in range(words.end() if words else at, at, -1):
        unit = _BY_SPELLING.get(_plain(text[at:end]))
        if (
            unit is not None
            and not (text[end - 1].isalpha() and text[end : end + 1].isalpha())
            and not text[end - 1].isspace()
        ):
            return unit, end
    return None


@lru_cache(4096)
def parse(text: str) -> tuple[Fraction, Unit]:
    """Value and unit of an amount in any usual spelling: `12 ft 6 in`, `8'-0 1/2"`, `3.81 m`, `5/8 in`.

    Several parts must be of one dimension, each less than one unit of the part before (14 inches are no part of a foot);
    the result is in the first part's unit.
    A minus sign right before the first number makes the whole amount negative.
    Raises UnitError, whose text says what could not be read.
    """
    at = 0
    parts: list[tuple[Fraction, Unit]] = []
    stripped = text.strip()
    sign = 1
    if MINUS.match(stripped):
        sign, stripped = -1, stripped[1:]
    while at < len(stripped):
        match = _NUMBER.match(stripped, at)
        found = _unit_at(stripped, match.end()) if match else None
        if match is None or found is None or (match["joint"] and not parts):
            raise UnitError(
                f'{_quoted(text)} is no amount: a number and a unit are wanted, as in "12 ft 6 in" or "3.81 m"'
            )
        unit, end = found
        value = value_of(match["number"])
        if value is None:
            raise UnitError(f"{match['number']!r} is no number")
        if parts and (unit.dimension != parts[0][1].dimension or unit.factor >= parts[-1][1].factor):
            raise UnitError(
                f"{_quoted(text)} does not read as one amount: {unit.name} cannot follow {parts[-1][1].name}"
            )
        if parts and value * unit.factor >= parts[-1][1].factor:
            raise UnitError(
                f"{_quoted(text)} does not read as one amount: so many {unit.name} are no part of one {parts[-1][1].name}"
            )
        parts.append((value, unit))
        at = end
    if not parts:
        raise UnitError('an amount is wanted, as in "12 ft 6 in" or "3.81 m", and nothing is there')
    first = parts[0][1]
    return sign * sum((v * u.factor for v, u in parts), Fraction(0)) / first.factor, first


def _quoted(text: str) -> str:
    return repr(text if len(text) <= 60 else text[:60] + "...")
