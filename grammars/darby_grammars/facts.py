"""What the trees of facts.lark mean."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from attrs import evolve

from darby.api import EACH, PERCENT, UNITS, Bound, Fact, Quantity, Refused, Tag
from darby_grammars.counts import Counts
from darby_grammars.measures import Measures
from darby_grammars.openings import Openings
from darby_grammars.packages import Packages
from darby_grammars.parts import (
    BOUNDS,
    RATED_BY,
    Parts,
    bound_of,
    contradiction,
    first_of,
    length_fact,
    number_in,
    range_of,
    unit_of,
)
from darby_grammars.rates import Rates
from darby_grammars.sheets import Sheets


class Facts(Measures, Sheets, Rates, Packages, Counts, Openings):
    """One method for each rule of the grammar; each takes what its parts mean."""

    # lengths

    def bound(self, parts: Parts) -> Bound:
        """What a word makes of the number beside it."""
        return next(BOUNDS[p.name] for p in parts if p.name in BOUNDS)

    def before(self, parts: Parts) -> Parts:
        """Words before an amount."""
        return parts

    def after(self, parts: Parts) -> Any:
        """Words behind a rate."""
        return parts[0]

    def spacing(self, parts: Parts) -> Fact:
        """A length and `on center`."""
        return length_fact(parts, "spacing")

    def spacing_both_ways(self, parts: Parts) -> Fact:
        """`48 in. by 24 in. centers`."""
        doubt = "two distances: which of them runs along the support is not said"
        quantity, _ = first_of(parts, tuple)
        return Fact("spacing", quantity, doubt=doubt)

    def spacing_twin(self, parts: Parts) -> Fact:
        """`16 in. o.c. (400 mm)`."""
        return _with_twin(self.spacing, parts)

    def thickness_twin(self, parts: Parts) -> Fact:
        """`5/8 in. thick (16 mm)`."""
        return _with_twin(self.thickness, parts)

    def length_twin(self, parts: Parts) -> Fact:
        """`1-1/4 in. long (32 mm)`."""
        return _with_twin(self.length_of, parts)

    def film_twin(self, parts: Parts) -> Fact:
        """`1.5 mils dry (38 um)`."""
        return _with_twin(self.film, parts)

    def thickness(self, parts: Parts) -> Fact:
        """A length and `thick`."""
        return length_fact(parts, "thickness")

    def long_at_least(self, parts: Parts) -> Fact:
        """`no shorter than 35 mm`."""
        return evolve(length_fact(parts, "long"), bound="at least")

    def thick_at_least(self, parts: Parts) -> Fact:
        """`no thinner than 12.5 mm`."""
        return evolve(length_fact(parts, "thickness"), bound="at least")

    def sizes_listed(self, parts: Parts) -> Fact | None:
        """`8, 10 and 12.5 mm thick`: several sizes of one thing."""
        lengths = [p for p in parts if isinstance(p, tuple)]
        quantity, _, doubt = lengths[0]
        numbers = [number_in(p) for p in parts if isinstance(p, Fraction)]
        if any(q.unit is not quantity.unit for q, _, _ in lengths) or any(n > quantity.low * 4 for n in numbers):
            return None
        least = evolve(quantity, low=min(quantity.low, *numbers)) if numbers else quantity
        return Fact("thickness", least, doubt=doubt or "several sizes of one thing: where each goes is not said")

    def length_of(self, parts: Parts) -> Fact:
        """A length and `long`."""
        return length_fact(parts, "long")

    def fastener(self, parts: Parts) -> list[Fact]:
        """`#6 x 1-1/4 in.`, `6g x 32 mm`: a gauge, and how long."""
        sizes = [p for p in parts if isinstance(p, tuple) and isinstance(p[0], Quantity)]
        gauge = any(isinstance(p, Tag) and p.value == "a gauge" for p in parts)
        if not (gauge or sizes[0][0].unit.name == "g"):
            raise Refused
        quantity, doubt = sizes[-1]
        if quantity.high is not None:
            raise Refused
        said = 1 if quantity.unit is UNITS["ft"] and quantity.low.denominator > 1 else 2
        if parts[0] is sizes[-1]:
            return [Fact("long", quantity, doubt=doubt, end=said), Fact("", why="a gauge", start=said)]
        return [Fact("", why="a gauge", end=-said), Fact("long", quantity, doubt=doubt, start=-said)]

    def sheet_width(self, parts: Parts) -> Fact:
        """A length and `wide`."""
        return length_fact(parts, "wide")

    def same(self, parts: Parts) -> Any:
        """A rule that only names another."""
        return parts[0]

    def film(self, parts: Parts) -> Fact:
        """Mils or microns, wet or dry."""
        fact = length_fact(parts, "film")
        state = next((p.name.lower() for p in parts if isinstance(p, Tag) and p.name in ("WET", "DRY")), "")
        return evolve(fact, scope=(("film", state),)) if state else fact

    def film_after(self, parts: Parts) -> Fact:
        """`DFT 2 mils`."""
        return self.film(parts)

    def film_between(self, parts: Parts) -> Fact:
        """`4.3 wet mils`."""
        (low, high, doubt), state, unit = parts
        scope = (("film", state.name.lower()),)
        return Fact("film", Quantity(low, unit_of(unit), high), scope=scope, doubt=doubt)

    # shares, levels

    def share(self, parts: Parts) -> Fact:
        """A percentage, and what of, where a word says it."""
        low, high, doubt = first_of(parts, tuple)
        kind = next((p.name.lower() for p in parts if isinstance(p, Tag) and p.name in ("SOLIDS", "WASTE")), "")
        return Fact(kind, Quantity(low, PERCENT, high), bound=bound_of(parts), doubt=doubt)

    def share_range(self, parts: Parts) -> Fact:
        """`5 % to 10 % waste`."""
        (low, high, doubt), (second, beyond, other) = (p for p in parts if isinstance(p, tuple))
        if high is not None or beyond is not None:
            raise Refused
        kind = next((p.name.lower() for p in parts if isinstance(p, Tag) and p.name in ("SOLIDS", "WASTE")), "")
        low, high, crossed = range_of(low, second)
        return Fact(kind, Quantity(low, PERCENT, high), bound=bound_of(parts), doubt=doubt or other or crossed)

    def share_after(self, parts: Parts) -> Fact:
        """`waste 10 %`."""
        return self.share(parts)

    def share_by_weight(self, _parts: Parts) -> Fact:
        """`53 % by weight`."""
        return Fact("", why="a share of something else")

    def level(self, parts: Parts) -> Fact | None:
        """`Level 4`."""
        return Fact("finish level", Quantity(number_in(parts[1]), EACH))

    def rating(self, parts: Parts) -> Fact:
        """`surface abrasion, Level 2`, `ASTM C1629 Level 2`: how much something withstands."""
        standard = next((v for p in parts if p.name == "CODE" for k, v in p.also if k == "standard"), "")
        if not any(p.name == "RATED" for p in parts) and not any(code in standard for code in RATED_BY):
            raise Refused
        return Fact("", why="a rating")

    # the rest

    def property(self, parts: Parts) -> Fact:
        """`Flash point: 38`, `density 1.3 kg/L`."""
        return Fact(
            "", why=next((p.value for p in parts if isinstance(p, Tag) and p.name == "FOREIGN"), "a test value")
        )

    def widths_listed(self, parts: Parts) -> Fact | None:
        """`widths of 100 mm, 200 mm and 300 mm`."""
        quantity, _, doubt = next(p for p in parts if isinstance(p, tuple))
        return Fact("", quantity, doubt=doubt or "several widths: where each goes is not said")

    def fractions(self, parts: Parts) -> Fact | None:
        """`3/8, 1/2, 5/8`: sizes in a row, of a column that is lost."""
        numbers = [p for p in parts if isinstance(p, Fraction)]
        if any(n.denominator == 1 for n in numbers) or len(numbers) < len(parts) / 2:
            return None
        return Fact("", Quantity(numbers[0], EACH), doubt="several sizes in a row: what each is of is not said")

    def density(self, _parts: Parts) -> Fact:
        """`10.9 lb per gal`."""
        return Fact("", why="a density")

    def mixing(self, _parts: Parts) -> Fact:
        """`30 % water`, `0.6 L per kg`."""
        return Fact("", why="mixing or thinning")

    def aside(self, parts: Parts) -> Fact:
        """A number that measures something else."""
        return Fact("", why=parts[1].value)

    def tolerance_alone(self, _parts: Parts) -> Fact:
        """`(± 2)`."""
        return Fact("", why="a tolerance")

    def bare(self, parts: Parts) -> Fact:
        """A measure of which only the words around it tell what it is."""
        quantity, twin, doubt = first_of(parts, tuple)
        return Fact("", quantity, bound=bound_of(parts), twin=(twin, None) if twin else None, doubt=doubt)

    def bare_count(self, parts: Parts) -> Fact:
        """`4 pails`: how many, not how large."""
        low, high, doubt = parts[0]
        return Fact("", Quantity(low, unit_of(parts[1]), high), doubt=doubt)

    def bare_number(self, parts: Parts) -> Fact:
        """A number without a unit."""
        low, high, doubt = parts[0]
        return Fact("", Quantity(low, EACH, high), doubt=doubt)


def _with_twin(make: Callable[[Parts], Fact], parts: Parts) -> Fact:
    """A length with its word, and the same in the other units in brackets behind it."""
    (first, twin, doubt), (second, other) = (p for p in parts if isinstance(p, tuple))
    if twin is not None or first.unit.system == second.unit.system:
        raise Refused
    said = doubt or other or contradiction(first.size, second.size)
    return make([(first, second, said), *(p for p in parts if not isinstance(p, tuple))])
