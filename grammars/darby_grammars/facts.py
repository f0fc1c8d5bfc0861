"""What the trees of facts.lark mean."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from attrs import evolve

from darby.api import CONTAINERS, EACH, PERCENT, UNITS, Bound, Fact, Quantity, Refused, Tag
from darby_grammars.measures import Measures
from darby_grammars.parts import (
    BOUNDS,
    ONE,
    Parts,
    bound_of,
    bounded,
    contradiction,
    counted_fact,
    first_of,
    held,
    length_fact,
    number_in,
    per_nothing,
    range_of,
    times_of,
    unit_of,
)
from darby_grammars.sheets import Sheets


class Facts(Measures, Sheets):
    """One method for each rule of the grammar; each takes what its parts mean."""

    # rates

    def per_unit(self, parts: Parts) -> Quantity:
        """`per gallon`, and `per MSF`, a thousand."""
        return Quantity(times_of(parts[1]), unit_of(parts[1]))

    def per_amount(self, parts: Parts) -> Quantity:
        """`per 100 sq ft`."""
        quantity, _ = parts[1]
        return quantity  # type: ignore[no-any-return]

    def rate(self, parts: Parts) -> Fact:
        """An amount per another."""
        (amount, doubt), per = parts
        return Fact("", amount, per, doubt=doubt or per_nothing(per))

    def rate_of(self, parts: Parts) -> Fact:
        """`62 lb of compound per 1000 sq ft`."""
        (amount, doubt), _, subject, per = parts
        return Fact("", amount, per, subject=subject.value, doubt=doubt or per_nothing(per))

    def rate_to(self, parts: Parts) -> Fact:
        """`10 lb of compound to 100 sq ft`."""
        (amount, doubt), _, subject, _, (per, other) = parts
        return Fact("", amount, per, subject=subject.value, doubt=doubt or other or per_nothing(per))

    def twin_rate_bare(self, parts: Parts) -> Fact:
        """A rate said in both systems side by side."""
        (amount, doubt), per, (second, other), second_per = parts
        if amount.unit.system == second.unit.system:
            raise Refused
        return self.twin_rate([(amount, doubt), per, None, (second, other), second_per, None])

    def twin_rate(self, parts: Parts) -> Fact:
        """A rate said in both systems."""
        (amount, doubt), per, _, (second, _), second_per, _ = parts
        if not per.low or not second_per.low:
            return Fact("", amount, per, doubt="a rate per nothing")
        doubt = doubt or contradiction(amount.size / per.size, second.size / second_per.size)
        return Fact("", amount, per, twin=(second, second_per), doubt=doubt)

    def container_rate(self, parts: Parts) -> Fact:
        """`5 tubes per 1000 sq ft`."""
        (low, high, doubt), container, per = parts
        return Fact("", Quantity(low, unit_of(container), high), per, doubt=doubt or per_nothing(per))

    def count_rate(self, parts: Parts) -> Fact:
        """`1.1 screws per sq ft`."""
        (low, high, doubt), per = parts[0], parts[-1]
        if per.unit.name in CONTAINERS and per.unit.name != "sheet":
            return Fact("package", Quantity(low, EACH, high), per, doubt=doubt)
        if per.unit.name == "sheet":
            return Fact("", Quantity(low, EACH, high), per, doubt="the unit is missing")
        subject = parts[1].value if len(parts) == 3 and isinstance(parts[1], Tag) and parts[1].name == "subject" else ""
        return Fact("", Quantity(low, EACH, high), per, subject=subject, doubt=doubt or per_nothing(per))

    def thing(self, parts: Parts) -> Tag:
        """What is counted."""
        return parts[0]  # type: ignore[no-any-return]

    def coverage(self, parts: Parts) -> Fact:
        """Area per volume."""
        return bounded(parts, "coverage")

    def consumption(self, parts: Parts) -> Fact:
        """Amount per area or length."""
        return bounded(parts, "consumption")

    def covers(self, parts: Parts) -> Fact:
        """`a gallon covers 350 sq ft`."""
        per = Quantity(ONE, unit_of(parts[0])) if isinstance(parts[0], Tag) else parts[0][0]
        area, doubt = parts[-1]
        return Fact("coverage", area, per, bound=bound_of(parts), doubt=doubt or per_nothing(per))

    def does(self, parts: Parts) -> Fact:
        """`.. does about 85 ft`: of the package just named."""
        amount, doubt = parts[-1]
        return Fact("does", amount, bound=bound_of(parts), doubt=doubt)

    def container_does(self, parts: Parts) -> Fact:
        """`one pail finishes about 450 sq ft`."""
        (low, high, doubt), container = parts[0], parts[1]
        amount, other = parts[-1]
        return Fact(
            "consumption",
            Quantity(low, unit_of(container), high),
            amount,
            bound=bound_of(parts),
            doubt=doubt or other or per_nothing(amount),
        )

    # packages

    def holds(self, parts: Parts) -> Fact | None:
        """`a pail of joint compound holds 4.5 gal`."""
        amount, doubt = parts[-1]
        subject = next((p.value for p in parts if isinstance(p, Tag) and p.name == "subject"), "")
        return held(parts, amount, subject, doubt)

    def holds_pieces(self, parts: Parts) -> Fact | None:
        """`a box of screws holds about 1400`."""
        subject = next((p.value for p in parts if isinstance(p, Tag) and p.name == "subject"), "")
        low, high, doubt = [p for p in parts if isinstance(p, tuple)][-1]
        return held(parts, Quantity(low, EACH, high), subject, doubt)

    def contents(self, parts: Parts) -> Fact | None:
        """`64 lb pails`, `61 lb per pail`, `4.5 gal pail (17 L)`."""
        amounts = [p for p in parts if isinstance(p, tuple)]
        quantity, twin, doubt = amounts[0]
        one = Quantity(ONE, unit_of(first_of(parts, Tag, "CONTAINER")))
        if len(amounts) > 1:
            twin, _, other = amounts[1]
            if twin.unit.dimension != quantity.unit.dimension:
                return None
            doubt = doubt or other or contradiction(quantity.size, twin.size)
        return Fact("package", quantity, one, bound=bound_of(parts), twin=(twin, one) if twin else None, doubt=doubt)

    def contents_after(self, parts: Parts) -> Fact | None:
        """`pails of 4.5 gal`."""
        (quantity, twin, doubt), one = parts[-1], Quantity(ONE, unit_of(parts[0]))
        if one.unit.name == "sheet":
            return None
        return Fact("package", quantity, one, bound=bound_of(parts), twin=(twin, one) if twin else None, doubt=doubt)

    def pieces_after(self, parts: Parts) -> Fact:
        """`boxes of 50`."""
        return Fact("package of", Quantity(number_in(parts[2]), EACH), Quantity(ONE, unit_of(parts[0])))

    def lengths(self, parts: Parts) -> Fact:
        """`in 2.7 m lengths`: what one piece measures."""
        quantity, twin, doubt = parts[0]
        one = Quantity(ONE, UNITS["stick"])
        return Fact("package", quantity, one, twin=(twin, one) if twin else None, doubt=doubt)

    def loose_pieces(self, parts: Parts) -> Fact:
        """`about 5,500 pieces`, of a container named before it."""
        return Fact("pieces", Quantity(first_of(parts, tuple)[0], EACH), bound=bound_of(parts))

    # coats and layers

    def adjective(self, parts: Parts) -> dict[str, str]:
        """Words between the number and its noun, as in `two finish coats`."""
        return {part.name: part.value for part in parts}

    def coats(self, parts: Parts) -> Fact:
        """`two coats`."""
        return counted_fact(parts, "coats")

    def ordinal_coat(self, parts: Parts) -> Fact:
        """`second coat`: one coat, and which."""
        ordinal = first_of(parts, Tag, "ORDINAL")
        words: dict[str, str] = next((p for p in parts if isinstance(p, dict)), {})
        noun = next((p.value for p in parts if isinstance(p, Tag) and p.name == "COAT"), "")
        subject = words.get("subject", noun)
        return Fact("coats", Quantity(ONE, EACH), scope=(("coat", ordinal.value),), subject=subject)

    def ordinal_coats(self, parts: Parts) -> Fact:
        """`second and third coats`: two, and which."""
        return Fact("coats", Quantity(Fraction(2), EACH), scope=(("coat", f"{parts[0].value} and {parts[2].value}"),))

    def ordinal_row(self, parts: Parts) -> Fact:
        """`First`, alone: the key of a row of coats, or a word of running text."""
        return Fact("ordinal", Quantity(ONE, EACH), scope=(("coat", parts[0].value),))

    def a_coat(self, _parts: Parts) -> Fact:
        """`a coat of`."""
        return Fact("coats", Quantity(ONE, EACH))

    def a_layer(self, _parts: Parts) -> Fact:
        """`a single layer`."""
        return Fact("layers", Quantity(ONE, EACH))

    def layers(self, parts: Parts) -> Fact:
        """`two layers`."""
        return counted_fact(parts, "layers")

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

    def thickness(self, parts: Parts) -> Fact:
        """A length and `thick`."""
        return length_fact(parts, "thickness")

    def length_of(self, parts: Parts) -> Fact:
        """A length and `long`."""
        return length_fact(parts, "long")

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

    def level(self, parts: Parts) -> Fact | None:
        """`Level 4`."""
        return Fact("finish level", Quantity(number_in(parts[1]), EACH))

    # openings

    def compare(self, parts: Parts) -> str:
        """`over` or `under`."""
        return parts[0].name  # type: ignore[no-any-return]

    def deduct(self, parts: Parts) -> Fact:
        """`deduct openings over 32 sq ft`."""
        area, _, doubt = parts[-1] if isinstance(parts[-1], tuple) else first_of(parts, tuple)
        if "SMALLER_THAN" in parts:
            doubt = doubt or "small openings come out and large ones stay: is that meant?"
        return Fact("deduct openings over", area, doubt=doubt)

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

    # the rest

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
