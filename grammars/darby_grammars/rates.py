"""What a rate means: an area per volume, an amount per area, and the sentences that say either."""

from __future__ import annotations

from attrs import evolve

from darby.api import CONTAINERS, EACH, Fact, Quantity, Refused, Tag
from darby_grammars.parts import (
    ONE,
    Parts,
    bound_of,
    bounded,
    contradiction,
    first_of,
    rate_fact,
    times_of,
    unit_of,
)


class Rates:
    """One method for each rule of the grammar that is a rate."""

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
        return rate_fact(amount, per, doubt)

    def rate_of(self, parts: Parts) -> Fact:
        """`62 lb of compound per 1000 sq ft`."""
        (amount, doubt), *_, of, per = parts
        if of.name == "type":  # `65 lb of powder per 1000 sq ft`: which sort of what is spoken of
            return evolve(rate_fact(amount, per, doubt), scope=(("type", of.value),))
        return rate_fact(amount, per, doubt, subject=of.value)

    def two_rates(self, parts: Parts) -> list[Fact] | None:
        """`138 lb of this and 370 ft of that per 1,000 sq ft`."""
        per = parts[-1]
        join = next(n for n, p in enumerate(parts) if isinstance(p, Tag) and p.name == "AND")
        (first, one), (second, two) = parts[0], parts[join + 1]
        if first.high is not None or second.high is not None:
            return None
        subjects = [p.value for p in parts if isinstance(p, Tag) and p.name == "subject"]
        over = join + 1  # an amount is two tags, the other parts one each
        return [
            evolve(rate_fact(first, per, one, "consumption", subjects[0]), end=over),
            evolve(rate_fact(second, per, two, "consumption", subjects[1]), start=over + 1),
        ]

    def rate_to(self, parts: Parts) -> Fact:
        """`10 lb of compound to 100 sq ft`."""
        (amount, doubt), _, subject, _, (per, _) = parts
        return rate_fact(amount, per, doubt, subject=subject.value)

    def area_rate(self, parts: Parts) -> Fact:
        """`3 m2 per kg`, `40 m2 per bag`: so much is used over so much."""
        (area, doubt), _, used = parts
        amount, other = used if isinstance(used, tuple) else (Quantity(ONE, unit_of(used)), "")
        return rate_fact(amount, area, doubt or other, "consumption")

    def does_rate(self, parts: Parts) -> Fact:
        """`covers 2 m2 per kg`."""
        return evolve(self.area_rate(parts[-3:]), bound=bound_of(parts))

    def area_per_package(self, parts: Parts) -> list[Fact]:
        """`40 m2/25 kg bag`: what is used, and what it comes in."""
        fact = self.area_rate(parts[:3])
        held = Fact("package", parts[2][0], Quantity(ONE, unit_of(parts[3])), doubt=parts[2][1], start=-3)
        return [evolve(fact, end=-3), held]

    def rate_said_twice(self, parts: Parts) -> Fact:
        """`350 sq ft (32.5 m2) per gallon (3.79 L)`: the area, the volume or both are said in the other system as well."""
        per: Quantity = first_of(parts, Quantity)
        at = next(n for n, p in enumerate(parts) if p is per)
        (amount, doubt), *others = [p for p in parts[:at] if isinstance(p, tuple)]
        twins = [(amount, other) for other, _ in others]
        twins += [(per, other) for other, _ in (p for p in parts[at:] if isinstance(p, tuple))]
        for one, other in twins:
            if one.unit.system == other.unit.system:
                raise Refused
            doubt = doubt or contradiction(one.size, other.size)
        return rate_fact(amount, per, doubt)

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
        return evolve(rate_fact(amount, per, doubt), twin=(second, second_per))

    def container_rate(self, parts: Parts) -> Fact:
        """`5 tubes per 1000 sq ft`."""
        (low, high, doubt), container, *of, per = parts
        subject = next((p.value for p in of if p.name == "subject"), "")
        sort = next((p.value for p in of if p.name == "type"), "")
        fact = rate_fact(Quantity(low, unit_of(container), high), per, doubt, subject=subject)
        return evolve(fact, scope=(("type", sort),)) if sort else fact

    def count_rate(self, parts: Parts) -> Fact:
        """`1.1 screws per sq ft`."""
        (low, high, doubt), per = parts[0], parts[-1]
        if per.unit.name in CONTAINERS and per.unit.name != "sheet":
            return Fact("package", Quantity(low, EACH, high), per, doubt=doubt)
        if per.unit.name == "sheet":
            return Fact("", Quantity(low, EACH, high), per, doubt="the unit is missing")
        subject = parts[1].value if len(parts) == 3 and isinstance(parts[1], Tag) and parts[1].name == "subject" else ""
        return rate_fact(Quantity(low, EACH, high), per, doubt, subject=subject)

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
        return evolve(rate_fact(area, per, doubt, "coverage"), bound=bound_of(parts))

    def does(self, parts: Parts) -> Fact:
        """`.. does about 85 ft`: of the package just named."""
        amount, doubt = parts[-1]
        return Fact("does", amount, bound=bound_of(parts), doubt=doubt)

    def container_does(self, parts: Parts) -> Fact:
        """`one pail finishes about 450 sq ft`."""
        low, high, doubt = parts[0] if isinstance(parts[0], tuple) else (ONE, None, "")
        used = Quantity(low, unit_of(first_of(parts, Tag, "CONTAINER")), high)
        subject = next((p.value for p in parts if isinstance(p, Tag) and p.name == "subject"), "")
        amount, other = parts[-1]
        fact = rate_fact(used, amount, doubt or other, "consumption", subject)
        return evolve(fact, bound=bound_of(parts))
