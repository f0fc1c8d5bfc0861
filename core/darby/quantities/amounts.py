"""Amounts: exact rationals with a unit and the tree of steps that made them.

A trade writes ordinary arithmetic, `area * coats / coverage`, and the working comes with the answer. Binary floats are
refused everywhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import total_ordering

from attrs import field, frozen

from darby.quantities import numerals
from darby.quantities.plurals import plural_of
from darby.quantities.units import EACH, UNITS, Unit, UnitError, joined, parse, preferred, times
from darby.text.spans import Span


@frozen(cache_hash=True)
class Origin:
    """Where a number was first said. `key` names the rule or the measured row it belongs to, `text` how it was said."""

    key: str = ""
    text: str = ""
    place: Span | None = None
    note: str = ""
    """Which layer or hand it came from, as in `trade default, common practice` or `measured`."""

    def __str__(self) -> str:
        return f"{self.note + ' ' if self.note else ''}{self.place or self.key}".strip()


HERE = Origin(note="arithmetic")
SETTLED = Origin(note="settled")
"""Of a number that came of other numbers by a decision and no arithmetic, as how many pieces a length gives."""


@frozen(eq=False)
class Step:
    """How an amount came about: `given` for a leaf, else the operation and what it was done to."""

    op: str
    of: tuple[Amount, ...] = ()
    label: str = ""
    origin: Origin = HERE


@total_ordering
@frozen(eq=False)
class Amount:
    """An exact value in a unit, with its working. Equal when of one dimension and size, whatever the unit or working.

    Amounts are added, taken from each other, multiplied, divided and compared; what they are multiplied with or divided by
    may be a fraction or a whole number too. UnitError is raised where the units do not go together and for a division by
    nothing, TypeError for a float.
    """

    value: Fraction
    """How many of its unit."""
    unit: Unit
    """Plain (`sq ft`), or made of others by arithmetic (`lb/pail`)."""
    step: Step = field(repr=False)
    """How it came about, down to the numbers that somebody said."""

    @classmethod
    def of(cls, value: Fraction | int, unit: Unit | str = EACH, origin: Origin = HERE, label: str = "") -> Amount:
        """A number that somebody said. Raises TypeError for a float."""
        return cls(_whole(value), UNITS[unit] if isinstance(unit, str) else unit, Step("given", (), label, origin))

    @classmethod
    def settled(cls, value: Fraction | int, unit: Unit | str = EACH, *, label: str) -> Amount:
        """A number that was decided from others, as how many pieces a length gives: a change of these does not reach it.

        A formula that repeats the working cannot follow, and says so. Raises TypeError for a float.
        """
        return cls.of(value, unit, SETTLED, label)

    @classmethod
    def read(cls, text: str, origin: Origin | None = None, label: str = "") -> Amount:
        """An amount spelled in any usual way (see `units.parse`). Raises UnitError."""
        value, unit = parse(text)
        return cls.of(value, unit, origin or Origin(text=text), label)

    @property
    def label(self) -> str:
        """What the amount is called in the working, or nothing."""
        return self.step.label

    @property
    def size(self) -> Fraction:
        """Size in base units."""
        return self.value * self.unit.factor

    def named(self, label: str) -> Amount:
        """The same amount, called `label` in the working."""
        step = self.step
        return Amount(self.value, self.unit, Step(step.op, step.of, label, step.origin))

    def to(self, unit: Unit | str) -> Amount:
        """The same amount in another unit of its dimension. Raises UnitError."""
        unit = UNITS[unit] if isinstance(unit, str) else unit
        if unit is self.unit:
            return self
        if unit.dimension != self.unit.dimension:
            raise UnitError(f"{_told(self)} cannot be said in {unit.name}")
        return Amount(self.value * times(self.unit, unit), unit, Step("to", (self,), self.label))

    def in_system(self, system: str) -> Amount:
        """The same amount in the usual unit of `us` or `metric`; as it is where there is none, or it is of that system."""
        usual = None if self.unit.system in ("", system) else preferred(self.unit.dimension, system)
        return self.to(usual) if usual else self

    def __add__(self, other: Amount) -> Amount:
        return self._sum(other, "+", 1)

    def __sub__(self, other: Amount) -> Amount:
        return self._sum(other, "-", -1)

    def _sum(self, other: Amount, op: str, sign: int) -> Amount:
        if not isinstance(other, Amount):
            return NotImplemented
        _same(self, other, {"+": "added to", "-": "taken from"}[op])
        other = other.to(self.unit)
        return Amount(self.value + sign * other.value, self.unit, Step(op, (self, other)))

    def __mul__(self, other: Amount | Fraction | int) -> Amount:
        return self._product(_amount(other), "*", 1)

    def __rmul__(self, other: Fraction | int) -> Amount:
        return _amount(other)._product(self, "*", 1)

    def __truediv__(self, other: Amount | Fraction | int) -> Amount:
        other = _amount(other)
        if not other.value:
            raise UnitError(f"{_told(self)} cannot be divided by {_told(other)}")
        return self._product(other, "/", -1)

    def _product(self, other: Amount, op: str, sign: int) -> Amount:
        unit, scale = joined(self.unit, other.unit, sign)
        value = self.value * other.value if sign == 1 else self.value / other.value
        return Amount(value if scale is None else value * scale, unit, Step(op, (self, other)))

    def round_up(self) -> Amount:
        """The next whole number of the unit, itself where it is whole. Done once, at the package."""
        return Amount(
            Fraction(-(-self.value.numerator // self.value.denominator)), self.unit, Step("round up", (self,))
        )

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Amount):
            return NotImplemented
        if self.unit is other.unit:
            return self.value == other.value
        return self.unit.dimension == other.unit.dimension and self.size == other.size

    def __lt__(self, other: Amount) -> bool:
        if self.unit is other.unit:
            return self.value < other.value
        _same(self, other, "compared with")
        return self.size < other.size

    def __hash__(self) -> int:
        return hash((self.unit.dimension, self.size))

    def __bool__(self) -> bool:
        return bool(self.value)

    def __str__(self) -> str:
        """For the eye, rounded to two decimals."""
        return _spell(self.unit, numerals.rounded(self.value), self.value)

    def exact(self) -> str:
        """Exact spelling, which `Amount.read` reads back to the same amount."""
        if self.unit.name == "ft" and self.value.denominator != 1 and self.value > 0:
            feet, rest = divmod(self.value, 1)
            inches = rest * 12
            if 64 % inches.denominator == 0:
                return f"{feet} ft {numerals.mixed(inches)} in" if feet else f"{numerals.mixed(inches)} in"
        if self.unit.name == "in" and 64 % self.value.denominator == 0:
            return f"{numerals.mixed(self.value)} in"
        return _spell(self.unit, numerals.exact(self.value), self.value)


def total(amounts: Iterable[Amount], label: str = "") -> Amount:
    """The sum of one or more amounts as a single step, in the unit of the first, called `label`.

    Raises UnitError where they do not go together or there is none.
    """
    parts = tuple(amounts)
    if not parts:
        raise UnitError("nothing to add up")
    if len(parts) == 1:
        return parts[0].named(label) if label else parts[0]
    first = parts[0]
    for part in parts[1:]:
        _same(first, part, "added to")
    unit = first.unit
    same = tuple([part.to(unit) for part in parts])
    return Amount(_sum(p.value for p in same), unit, Step("sum", same, label))


def _sum(values: Iterable[Fraction]) -> Fraction:
    """Added up by denominator: there are few of them, and whole numbers add many times as fast as fractions."""
    above: dict[int, int] = {}
    for value in values:
        below = value.denominator
        above[below] = above.get(below, 0) + value.numerator
    return sum((Fraction(top, below) for below, top in above.items()), Fraction(0))


def leaves(amount: Amount) -> tuple[Amount, ...]:
    """The numbers that somebody said, from which the amount was made, each once, in order of first use."""
    seen: set[int] = set()
    found: list[Amount] = []
    stack = [amount]
    while stack:  # as `walk` goes, without the way back up
        node = stack.pop()
        step = node.step
        key = id(step)
        if key not in seen:
            seen.add(key)
            if step.of:
                stack.extend(step.of[::-1])
            elif step.op == "given":
                found.append(node)
    return tuple(found)


def walk(amount: Amount) -> Iterator[Amount]:
    """Every amount in the working, what a step is made of before the step, each once."""
    seen: set[int] = set()
    stack: list[tuple[Amount, bool]] = [(amount, False)]
    while stack:
        node, ready = stack.pop()
        if ready:
            yield node
            continue
        step = node.step
        if id(step) in seen:
            continue
        seen.add(id(step))
        if step.of:
            stack.append((node, True))
            stack.extend([(part, False) for part in reversed(step.of)])
        else:
            yield node


def _whole(value: Fraction | int) -> Fraction:
    if isinstance(value, float):
        raise TypeError(f"{value!r} is a binary float; amounts are exact: give an int, a Fraction or a string")
    return value if type(value) is Fraction else Fraction(value)


def _amount(value: Amount | Fraction | int) -> Amount:
    return value if isinstance(value, Amount) else Amount.of(value)


def _told(amount: Amount) -> str:
    origin = amount.step.origin
    name = f"{amount.label} " if amount.label else ""
    return f"{name}{amount}" + (f" ({origin.place})" if origin.place else "")


def _same(first: Amount, second: Amount, what: str) -> None:
    if first.unit.dimension != second.unit.dimension:
        raise UnitError(f"{_told(second)} cannot be {what} {_told(first)}: their units measure different things")


def _spell(unit: Unit, number: str, value: Fraction) -> str:
    if unit is EACH:
        return number
    if unit.name == "%":
        return f"{number} %"
    return f"{number} {unit.name if value == 1 else plural_of(unit)}"
