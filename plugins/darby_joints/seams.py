"""Joints counted one by one, where the sheets and the sides of a surface are known: what the tape would run along."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from attrs import frozen

from darby.api import UNITS, Amount, Answer, Corner, Surface, pieces


@frozen(eq=False)
class Seams:
    """Lengths in base units: along the edges of courses, along the ends of sheets, and in angles."""

    edges: Fraction
    ends: Fraction
    angles: Fraction
    guessed: int = 0
    """Surfaces without sides, reckoned at half the perimeter of a sheet to each sheet of their area."""

    @property
    def all(self) -> Fraction:
        """All joints."""
        return self.edges + self.ends + self.angles

    def told(self, units: str, by_rate: Amount) -> str:
        """The count in a sentence, beside what the rate gives."""
        unit = UNITS["ft" if units == "us" else "m"]

        def said(size: Fraction) -> str:
            return f"{round(size / unit.factor):,}"

        share = round((self.all / by_rate.size - 1) * 100)
        than = f"{abs(share)} % {'more' if share > 0 else 'less'} than" if share else "as much as"
        guess = f"; {self.guessed} surfaces without sides at half the perimeter of a sheet" if self.guessed else ""
        return (
            f"Joint by joint, the tape is {said(self.all)} {unit.name}, {than} by the rate: {said(self.edges)} along sheets, "
            f"{said(self.ends)} at their ends, {said(self.angles)} in angles{guess}."
        )


def seams(boarded: Iterable[tuple[Surface, Answer | None]], corners: Sequence[Corner]) -> Seams | None:
    """The joints of surfaces, each with its sheet, and of inside corners; None where no sheet is known.

    Sheets lie along the longer side of a ceiling and along the length of a wall, the course that is left over cut. A wall
    meets the ceiling in an angle where its room has one; openings break no joint.
    """
    edges = ends = angles = Fraction(0)
    guessed = 0
    known = False
    faces = [(s, sheet) for s, sheet in boarded if sheet is not None and sheet.rule.by is not None]
    ceilings = {s.room for s, _ in faces if s.kind == "ceiling"}
    alike: dict[tuple[object, ...], tuple[Surface, Amount, Amount, int]] = {}  # rooms of one size are counted once
    for surface, sheet in faces:
        width, length = sheet.rule.amount, sheet.rule.by
        assert length is not None
        sides = (surface.length, surface.height)
        key = (
            surface.kind, surface.level, surface.room in ceilings, id(width), id(length), *_told(surface.faces),
            *(part for side in sides for part in ((None,) if side is None else _told(side))),
            *(_told(surface.area) if None in sides or not surface.level else ()),
        )  # fmt: skip
        alike[key] = (surface, width, length, alike[key][3] + 1 if key in alike else 1)
    for surface, width, length, many in alike.values():
        known = True
        times = many * int(surface.faces.value)
        if surface.length is None or surface.height is None or not surface.level:
            # Every joint has a sheet on either side, so a sheet brings half of its perimeter.
            guessed += many
            sheets = surface.area.size / (width.size * length.size)
            edges, ends = edges + times * sheets * length.size, ends + times * sheets * width.size
        else:
            along, across = surface.length, surface.height
            if surface.kind == "ceiling" and across > along:
                along, across = across, along
            edges += _size(along, times * (pieces(across, width) - 1))
            ends += _size(across, times * (pieces(along, length) - 1))
        if surface.kind == "wall" and surface.length is not None and surface.room in ceilings:
            angles += _size(surface.length, times)
    for corner in corners:
        if corner.kind == "inside":
            angles += corner.count.value * corner.height.size
    return Seams(edges, ends, angles, guessed) if known else None


def _size(length: Amount, times: int) -> Fraction:
    """A length so many times, in base units: whole numbers until the end, since a job has thousands of them."""
    factor = length.unit.factor
    return Fraction(length.value.numerator * times * factor.numerator, length.value.denominator * factor.denominator)


def _told(amount: Amount) -> tuple[int, int, str]:
    """A number and its unit, by which equal ones are known: fractions take longer to look up."""
    return amount.value.numerator, amount.value.denominator, amount.unit.name
