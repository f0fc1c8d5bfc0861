"""One row of what is measured: a table of the job file with lengths, areas, counts, contents and prices in it."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cached_property

from attrs import frozen

from darby.job.rows.sheet import shown
from darby.job.rows.toml_table import Table
from darby.quantities.amounts import Amount, Origin
from darby.quantities.numerals import value_of
from darby.quantities.units import AREA, LENGTH, MASS, UNITS, VOLUME, UnitError

_MANY = 1_000_000
FARTHEST = 10_000
"""Feet that no side of a thing is longer than; lengths added up before (`LONGEST_RUN`) may be."""
LONGEST_RUN = 1_000_000
_SURELY = 1_000
"""Of any unit that lengths and areas are given in, so many are within these bounds: a metre is the longest."""
_LONGEST = 120

_MEASURES = {LENGTH: "a length", AREA: "an area", VOLUME: "a volume", MASS: "a weight"}
_SAMPLE = {LENGTH: '"12 ft 6 in" or "3.81 m"', AREA: '"96 sq ft" or "8.9 m2"'}
_UNIT = {(LENGTH, "us"): "ft", (LENGTH, "metric"): "m", (AREA, "us"): "sq ft", (AREA, "metric"): "m2"}


@frozen(eq=False)
class Row(Table):
    """A table in which things are measured. Every amount knows its key, what stood there and where; None where it is wrong."""

    def content(self, key: str) -> Amount | None:
        """What a package holds: a volume, weight, length or count above zero."""
        value = self.value(key)
        if isinstance(value, int) and not isinstance(value, bool):
            return self.count(key)
        if value is None or not isinstance(value, str) or len(value) > _LONGEST:
            if value is not None:
                self.wrong(key, "what it holds in quotes", f'Write {key} = "5 gal".')
            return None
        try:
            amount = Amount.read(value, self._origin(key, value), key)
        except UnitError:
            amount = Amount.of(0, "each")
        if amount.value <= 0:
            self.sheet.say(
                "job-unreadable-amount", self.span(key), f'{key} of {self.what} cannot be read: "{shown(value)}"',
                f'Write what one package holds, as in {key} = "5 gal" or {key} = "25 kg".',
            )  # fmt: skip
            return None
        return amount

    def money(self, key: str) -> Amount | None:
        """A price above zero: a whole number, or a decimal one in quotes, since binary fractions are not exact."""
        value = self.value(key)
        if value is None:
            return None
        number = value_of(value.strip()) if isinstance(value, str) else value
        if isinstance(number, bool) or not isinstance(number, (int, Fraction)):
            self.wrong(key, "a price in quotes", f'Write {key} = "24.50".')
            return None
        if number <= 0:
            self.sheet.say(
                "job-out-of-range", self.span(key), f"{key} of {self.what} must be more than zero", "Or leave it out."
            )
            return None
        return Amount.of(Fraction(number), "each", self._origin(key, value), key)

    def count(self, key: str, most: int = _MANY, *, least: int = 1) -> Amount | None:
        """A whole number from `least` to `most`."""
        value = self.value(key)
        if value is None:
            return None
        if not isinstance(value, int) or isinstance(value, bool):
            self.wrong(key, "a whole number", f"Write {key} = 2, without quotes.")
            return None
        if not least <= value <= most:
            self.sheet.say(
                "job-out-of-range",
                self.span(key),
                f"{key} of {self.what} is {shown(self.span(key).text)}; it is a whole number from {least} to {most:,}",
                "Leave out what is not there at all." if value < least else f"Write {key} = {most} or less.",
            )
            return None
        return Amount.of(value, "each", self._origin(key, value), key)

    def length(self, key: str, most: int = FARTHEST) -> Amount | None:
        """A length above zero, of `most` feet at most."""
        return self._within(key, self._measure(key, LENGTH), most, "ft", "m")

    def area(self, key: str) -> Amount | None:
        """An area above zero, no larger than the longest side would make a square."""
        return self._within(key, self._measure(key, AREA), FARTHEST**2, "sq ft", "m2")

    def _within(self, key: str, amount: Amount | None, most: int, unit: str, metric: str) -> Amount | None:
        """The amount, unless it is beyond what anything measures."""
        if amount is None or amount.value < _SURELY or amount.size <= most * UNITS[unit].factor:
            return amount
        limit = Amount.of(most, unit)
        told = limit if self.sheet.units == "us" else limit.to(metric).round_up()
        self.sheet.say(
            "job-out-of-range", self.span(key), f"{key} of {self.what} is {shown(self.span(key).text)}; nothing measures more than {told}",
            "Look for a wrong unit, a lost point or a digit too many.",
        )  # fmt: skip
        return None

    @cached_property
    def _named(self) -> str:
        """The name of what the row measures, or what it is."""
        name = self.value("name")
        return shown(name) if isinstance(name, str) and name.strip() else self.what

    def _origin(self, key: str, value: object) -> Origin:
        return Origin(f"{self._named} {key}", str(value), self.span(key), "measured")

    def _measure(self, key: str, dimension: tuple[tuple[str, int], ...]) -> Amount | None:
        value = self.value(key)
        if value is None:
            return None
        amount = self._read(key, value)
        if amount is not None and amount.unit.dimension == dimension and amount.value > 0:
            return amount
        span, unit = self.span(key), _UNIT[dimension, self.sheet.units]
        bare = shown(value if isinstance(value, str) else span.text).strip()
        if (isinstance(value, (int, float)) and not isinstance(value, bool)) or value_of(bare) is not None:
            self.sheet.say(
                "job-no-unit", span, f"{key} of {self.what} is {bare} without a unit", f'Write {key} = "{bare} {unit}".'
            )
            return None
        if not isinstance(value, str):
            self.wrong(key, f"{_MEASURES[dimension]} in quotes", f"Write it as {_SAMPLE[dimension]}.")
            return None
        if amount is None:
            near = self._meant(value, dimension)
            self.sheet.say(
                "job-unreadable-amount",
                span,
                f'{key} of {self.what} cannot be read: "{bare}" is no {_MEASURES[dimension].split()[-1]}',
                (f"Did you mean {near}? " if near else "") + f"Write it as {_SAMPLE[dimension]}.",
            )
            return None
        if amount.unit.dimension != dimension:
            is_a = _MEASURES.get(amount.unit.dimension, "a count")
            self.sheet.say(
                "job-wrong-unit",
                span,
                f"{key} of {self.what} is {is_a} ({bare}); {_MEASURES[dimension]} is wanted",
                f"Write it as {_SAMPLE[dimension]}.",
            )
            return None
        self.sheet.say(
            "job-out-of-range",
            span,
            f"{key} of {self.what} is {bare}; it must be more than zero",
            "Leave out what is not there at all.",
        )
        return None

    def _read(self, key: str, value: object) -> Amount | None:
        """A text as an amount, whatever it measures; None where it spells none."""
        if not isinstance(value, str) or len(value) > _LONGEST:
            return None
        try:
            return Amount.read(value, self._origin(key, value), key)
        except UnitError:
            return None

    def _meant(self, text: str, dimension: tuple[tuple[str, int], ...]) -> str:
        """What a measure that cannot be read was meant to be: with a decimal point, or with the unit nearest to its letters."""
        point = re.sub(r"(?<=[0-9]),(?=[0-9])", ".", text[:_LONGEST])
        if point != text:
            try:
                Amount.read(point)
            except UnitError:
                pass
            else:
                return f'"{shown(point).strip()}", with a point'
        letters = "".join(c if c.isalpha() else " " for c in text[:_LONGEST]).strip()
        spelled = {s: u.name for u in UNITS.values() if u.dimension == dimension for s in (u.name, *u.spellings)}
        near = self.sheet.nearest(letters, list(spelled)) if letters and letters.casefold() not in spelled else ""
        return spelled[near] if near else ""
