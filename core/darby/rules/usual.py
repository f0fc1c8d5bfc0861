"""What is usual for a kind and a product: narrower than what is possible, and with the source that says so.

A value outside is read all the same, and waits to be confirmed. In a vocabulary:

    [ranges.consumption]
    varnish = ["3 lb per 100 sq ft", "20 lb per 100 sq ft", "common practice"]
    "varnish / volume" = ["0.2 gal per 100 sq ft", "1.8 gal per 100 sq ft", "common practice"]

What stands behind a slash only tells several ranges of one product apart: how it is measured, or its type.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from attrs import frozen

from darby.quantities.numerals import value_of
from darby.quantities.units import NUMBER_ONLY, Dimension, parse

Key = tuple[str, str]
"""Kind and subject."""


@frozen
class Usual:
    """A range of sizes in base units, of one way of measuring; `said` is the range as its source line has it."""

    low: Fraction
    high: Fraction
    measure: tuple[Dimension, Dimension]
    """The dimension of the amount, and of what it is per."""
    said: str
    source: str
    type: str = ""


def ranges_of(tables: Iterable[Mapping[str, object]]) -> dict[Key, tuple[Usual, ...]]:
    """Every range of some `[ranges]` tables, by kind and subject. Raises ValueError or UnitError where one cannot be read."""
    out: dict[Key, tuple[Usual, ...]] = {}
    for table in tables:
        for kind, subjects in table.items():
            if not isinstance(subjects, dict):
                continue
            for name, ends in subjects.items():
                subject, _, apart = name.partition(" / ")
                low, high, source = (str(end) for end in ends)
                out[kind, subject] = (*out.get((kind, subject), ()), _usual(low, high, source, apart))
    return out


def unusual(usual: Iterable[Usual], size: Fraction, measure: tuple[Dimension, Dimension], type_: str = "") -> str:
    """Why a size (a rate's, of the amount over what it is per) is out of the ordinary, in a few words, or nothing."""
    every = list(usual)
    typed = [u for u in every if u.type and u.type == type_]
    fits = typed or [u for u in every if u.measure == measure and not u.type]
    if not every or any(u.low <= size <= u.high for u in fits):
        return ""
    if not fits:
        return "it is not usually measured so"
    return f"usual is {fits[0].said} ({fits[0].source})"


def _usual(low: str, high: str, source: str, apart: str) -> Usual:
    least, measure = _size(low)
    most, other = _size(high)
    if measure != other or least > most:
        raise ValueError(f"{low!r} and {high!r} are no range")
    told = "" if apart.partition(" ")[0] in _MEASURED else apart
    return Usual(least, most, measure, f"{low} to {high}", source, told)


_MEASURED = ("", "volume", "mass", "length", "count", "packages")
"""Words behind a slash that tell how something is measured; anything else is a type."""


def _size(text: str) -> tuple[Fraction, tuple[Dimension, Dimension]]:
    amount, _, per = text.partition(" per ")
    value, dimension = _amount(amount)
    if not per:
        return value, (dimension, NUMBER_ONLY)
    over, below = _amount(per)
    return value / over, (dimension, below)


def _amount(text: str) -> tuple[Fraction, Dimension]:
    number = value_of(text)
    if number is not None:
        return number, NUMBER_ONLY
    value, unit = parse(text)
    return value * unit.factor, unit.dimension
