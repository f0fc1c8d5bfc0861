"""What a package holds, in each order of number, container and verb."""

from __future__ import annotations

from attrs import evolve

from darby.api import EACH, UNITS, Fact, Quantity, Tag
from darby_grammars.parts import ONE, Parts, bound_of, contradiction, first_of, held, number_in, unit_of


class Packages:
    """One method for each rule of the grammar that is a package."""

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

    def contents(self, parts: Parts) -> Fact | list[Fact] | None:
        """`64 lb pails`, `61 lb per pail`, `4.5 gal pail (17 L)`."""
        amounts = [p for p in parts if isinstance(p, tuple)]
        quantity, twin, doubt = amounts[0]
        one = Quantity(ONE, unit_of(first_of(parts, Tag, "CONTAINER")))
        if len(amounts) > 1:
            twin, _, other = amounts[1]
            if twin.unit.dimension != quantity.unit.dimension:
                package = Fact("package", quantity, one, bound=bound_of(parts), doubt=doubt, end=-4)
                return [package, Fact("", why="the same package by another measure", start=-4)]
            doubt = doubt or other or contradiction(quantity.size, twin.size)
        return Fact("package", quantity, one, bound=bound_of(parts), twin=(twin, one) if twin else None, doubt=doubt)

    def contents_between(self, parts: Parts) -> list[Fact] | None:
        """`62 lb (4.5 gal) pail`."""
        (quantity, doubt), (other, _) = (p for p in parts if isinstance(p, tuple))
        if other.high is not None:
            return None
        one = Quantity(ONE, unit_of(parts[-1]))
        package = Fact("package", quantity, one, doubt=doubt, end=-5)
        return [package, Fact("", why="the same package by another measure", start=-5)]

    def rolled(self, parts: Parts) -> list[Fact] | None:
        """`52 mm x 150 m rolls`, `50 mm wide, 75 m rolls`: how wide what is rolled is, and how long."""
        wide, long = [p for p in parts if isinstance(p, tuple)]
        container = first_of(parts, Tag, "CONTAINER")
        if container.value != "roll" or wide[0].high is not None or long[0].high is not None:
            return None
        package = Fact("package", long[0], Quantity(ONE, unit_of(container)), doubt=wide[-1] or long[-1])
        if parts[0] is container:
            return [Fact("", why="a width", end=3), evolve(package, start=3)]
        return [Fact("", why="a width", end=2), evolve(package, start=2)]

    def contents_after(self, parts: Parts) -> Fact | None:
        """`pails of 4.5 gal`."""
        (quantity, twin, doubt), one = parts[-1], Quantity(ONE, unit_of(parts[0]))
        if one.unit.name == "sheet":
            return None
        return Fact("package", quantity, one, bound=bound_of(parts), twin=(twin, one) if twin else None, doubt=doubt)

    def pack_sizes(self, parts: Parts) -> Fact | None:
        """`Pack size: 20 L`, `Packaging: 5 L, 10 L and 20 L`: what it comes in, or what there is to choose from."""
        sizes = [p for p in parts if isinstance(p, tuple)]
        container = next((p for p in parts if isinstance(p, Tag) and p.name == "CONTAINER"), None)
        one = Quantity(ONE, unit_of(container)) if container is not None else None
        if len({quantity.unit.dimension for quantity, _, _ in sizes}) > 1:
            return None
        quantity, twin, doubt = sizes[0]
        if len(sizes) > 1:
            doubt = "sizes on offer: none is chosen"
        elif one is None:
            doubt = doubt or "so much in a package: in what it comes is not said"
        return Fact("package", quantity, one, twin=(twin, one) if twin else None, doubt=doubt)

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
