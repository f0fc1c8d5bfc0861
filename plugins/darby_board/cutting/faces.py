"""What is to be laid: faces as rectangles in whole numbers, their boards along one axis, with the openings left out of them."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from attrs import frozen

Hole = tuple[int, int, int, int]
"""Where an opening is: from and to along the boards, from and to across them."""


class Span(NamedTuple):
    """A stretch along the boards, from one place to another."""

    start: int
    end: int


@frozen
class Face:
    """One layer on one face of a surface, by its measures alone: what it is called changes nothing.

    Boards lie along its first side, courses follow each other across it, counted from the foot of a wall. `spacing` is that of the
    supports which cross the boards, with one at either end of the face; None where none does, or nobody says.
    """

    along: int
    across: int
    room: int = 0
    """Faces of one number are in one room."""
    spacing: int | None = None
    holes: tuple[Hole, ...] = ()
    layer: int = 0
    """From 0; where there are several, of each second one the long edges lie between those of the one below."""
    upright: bool = False
    """Whether boards stand on end: then `along` is the height."""
    low: int | None = None
    """Height at the lower end of a top that rakes, or at both ends below a peak; None where the top is level."""
    peaked: bool = False
    grain: int = 1
    """What lengths under a raking top are rounded to, outwards: an eighth of an inch or a millimetre."""

    def extent(self, start: int, end: int) -> Span:
        """The stretch along the boards that a course between two places across them has to reach over."""
        if self.low is None:
            return Span(0, self.along)
        if self.upright:
            return Span(0, min(self.along, self._up(self._height(start, end))))
        reach = self._width(start)
        return Span(reach.start // self.grain * self.grain, min(self.along, self._up(reach.end)))

    def _up(self, length: int) -> int:
        return -(-length // self.grain) * self.grain

    def _height(self, start: int, end: int) -> int:
        """The greatest height of a raking top between two places along the foot, rounded up to the measure."""
        assert self.low is not None
        if not self.peaked:
            return self.low + -(-(self.along - self.low) * end // self.across)
        middle = Fraction(self.across, 2)
        if start <= middle <= end:
            return self.along
        from_foot = end if end < middle else self.across - start
        return self.low + -(-2 * (self.along - self.low) * from_foot // self.across)

    def _width(self, height: int) -> Span:
        """How far a wall with a raking top reaches at a height, rounded outwards to the measure. The high end is the far one."""
        assert self.low is not None
        if height <= self.low:
            return Span(0, self.along)
        climbed, climb = height - self.low, self.across - self.low
        if not self.peaked:
            return Span(self.along * climbed // climb, self.along)
        start = self.along * climbed // (2 * climb)
        return Span(start, self.along - start)

    @property
    def area(self) -> Fraction:
        """Area that has to be covered, in the measure squared: without the openings that are left out."""
        whole = Fraction(self.along * self.across)
        if self.low is not None:
            foot, top = (self.across, self.along) if self.upright else (self.along, self.across)
            whole = Fraction(foot * (top + self.low), 2)
        return whole - sum((h[1] - h[0]) * (h[3] - h[2]) for h in self.holes)
