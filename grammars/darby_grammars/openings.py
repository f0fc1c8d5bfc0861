"""Which openings come out of an area, by their size."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from darby.api import PERCENT, UNITS, Fact, Quantity
from darby_grammars.parts import Parts, first_of


class Openings:
    """One method for each rule of the grammar that speaks of openings."""

    def compare(self, parts: Parts) -> str:
        """`over` or `under`, which `below` is as well."""
        return "LARGER_THAN" if parts[0].name == "LARGER_THAN" else "SMALLER_THAN"

    def deduct(self, parts: Parts) -> Fact:
        """`deduct openings over 32 sq ft`."""
        area, _, doubt = parts[-1] if isinstance(parts[-1], tuple) else first_of(parts, tuple)
        if "SMALLER_THAN" in parts:
            doubt = doubt or "small openings come out and large ones stay: is that meant?"
        return Fact("deduct openings over", area, doubt=doubt)

    def deduct_between(self, _parts: Parts) -> Fact:
        """`openings exceeding 0.5 m2 and not exceeding 3 m2`: what holds between two sizes is no rule for all."""
        return Fact("", why="openings between two sizes, for which something else holds")

    def deduct_all(self, _parts: Parts) -> Fact:
        """Every opening comes out: over nothing."""
        return Fact("deduct openings over", Quantity(Fraction(0), UNITS["sq ft"]))

    def keep(self, parts: Parts) -> Fact:
        """`openings under 20 sq ft stay in`: larger ones come out."""
        area, _, doubt = first_of(parts, tuple)
        if "LARGER_THAN" in parts:
            doubt = doubt or "large openings stay in and small ones are not spoken of: is that meant?"
        return Fact("deduct openings over", area, doubt=doubt)

    def deduct_sized(self, parts: Parts) -> Fact | None:
        """`deduct openings larger than 4 ft by 8 ft`: than the area of one such."""
        return self._sized(parts, self.deduct)

    def keep_sized(self, parts: Parts) -> Fact | None:
        """`do not deduct openings smaller than 4 ft by 8 ft`."""
        return self._sized(parts, self.keep)

    @staticmethod
    def _sized(parts: Parts, make: Callable[[Parts], Fact]) -> Fact | None:
        size = next((p for p in parts if isinstance(p, Fact)), None)
        if size is None or size.amount is None or size.by is None:
            return None
        unit = UNITS["sq ft" if size.amount.unit.system == "us" else "m2"]
        area = Quantity(size.amount.size * size.by.size / unit.factor, unit)
        return make([(area, None, size.doubt) if part is size else part for part in parts])

    def keep_up_to(self, parts: Parts) -> Fact:
        """`openings not deducted: up to 35 sq ft`, `do not deduct openings of 35 sq ft or less`: larger ones come out."""
        area, _, doubt = first_of(parts, tuple)
        return Fact("deduct openings over", area, doubt=doubt)

    def keep_all(self, _parts: Parts) -> Fact:
        """No opening comes out: no share of any."""
        return Fact("deduct openings over", Quantity(Fraction(0), PERCENT))
