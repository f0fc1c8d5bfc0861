"""What numbers and amounts mean: the measures that every fact of facts.lark is made of."""

from __future__ import annotations

from fractions import Fraction

from darby.api import UNITS, Quantity, Refused
from darby_grammars.parts import Number, Parts, contradiction, number_in, range_of, times_of, unit_of


class Measures:
    """One method for each rule of the grammar that is a number or an amount."""

    # numbers

    def single(self, parts: Parts) -> Fraction:
        """A number alone."""
        return number_in(parts[0])

    def restated(self, parts: Parts) -> Fraction | None:
        """`two (2)`: one number said twice, or two that contradict each other."""
        first, second = number_in(parts[0]), number_in(parts[2])
        return first if first == second else None

    def bracketed(self, parts: Parts) -> Fraction:
        """`(2)`."""
        return number_in(parts[1])

    def one(self, parts: Parts) -> Number:
        """A single number."""
        return (parts[0], None, "") if parts[0] is not None else (Fraction(0), None, "the word and the digit differ")

    def range(self, parts: Parts) -> Number:
        """Two ends."""
        return range_of(parts[0], parts[2])

    def between(self, parts: Parts) -> Number:
        """`between 8 and 10`."""
        return range_of(parts[1], parts[3])

    def choice(self, parts: Parts) -> Number:
        """`two or three`: nobody has chosen."""
        low, high, doubt = range_of(parts[0], parts[2])
        return low, high, doubt if low is None else "a choice that nobody has made"

    def tolerance(self, parts: Parts) -> Number:
        """`38 ± 2`: the second number is how far the first may be off."""
        return (number_in(parts[0]), None, "")

    # amounts

    def amount(self, parts: Parts) -> tuple[Quantity, str]:
        """A number and a unit."""
        (low, high, doubt), unit = parts
        return Quantity(low * times_of(unit), unit_of(unit), None if high is None else high * times_of(unit)), doubt

    def feet_inches(self, parts: Parts) -> tuple[Quantity, str]:
        """`8'-0"`, joined by the tagger."""
        return Quantity(number_in(parts[0]), UNITS["ft"]), ""

    def long_range(self, parts: Parts) -> tuple[Quantity, Quantity | None, str]:
        """`2" to 2-1/2"`."""
        (first, doubt), _, (second, _) = parts
        if first.unit is not second.unit or first.high is not None or second.high is not None:
            raise Refused
        low, high, crossed = range_of(first.low, second.low)
        return Quantity(low, first.unit, high), None, doubt or crossed

    def plain(self, parts: Parts) -> tuple[Quantity, Quantity | None, str]:
        """An amount said once."""
        quantity, doubt = parts[0]
        return quantity, None, doubt

    def twin(self, parts: Parts) -> tuple[Quantity, Quantity | None, str]:
        """An amount said in both systems."""
        (first, doubt), (second, other) = (p for p in parts if isinstance(p, tuple))
        if first.unit.system == second.unit.system:
            same = first.size == second.size and first.high is None and second.high is None
            if len(parts) == 2:
                raise Refused  # `8 in. 10 ft`: two things side by side
            return first, None, doubt or ("" if same else "two values for one thing")
        return first, second, doubt or other or contradiction(first.size, second.size)

    def twin_range(self, parts: Parts) -> tuple[Quantity, Quantity | None, str]:
        """`160 to 185 mm (6-1/4" to 7-1/4")`."""
        first, low, sign, high = (parts[n] for n in (0, 2, 3, 4))
        second, _, doubt = self.long_range([low, sign, high])
        return self.twin([first, (second, doubt), None])

    def proven(self, parts: Parts) -> tuple[Quantity, Quantity | None, str]:
        """`69 (152 mm)`: a scanner read the inch mark as a 9, and the twin proves it."""
        number, (second, doubt) = number_in(parts[0]), parts[2]
        inches = Quantity(Fraction(int(number) // 10), UNITS["in"])
        agrees = (
            number.denominator == 1 and number % 10 == 9 and number > 10 and not contradiction(inches.size, second.size)
        )
        if agrees and abs(inches.size / second.size - 1) < Fraction(1, 20):
            return inches, second, doubt
        return second, None, "a number without a unit stands before its twin and does not agree with it"
