"""A face divided: courses as wide as a sheet, stretches between openings, and the places where ends of pieces may meet."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import NamedTuple

from darby_board.cutting.faces import Face, Hole, Span

_PLACES = 64
"""Supports under a sheet on which ends may meet; where there are more, some of them: a bound on the search."""


class Course(NamedTuple):
    """A strip of a face, between two places across it, and the stretches of it that take board."""

    start: int
    end: int
    stretches: tuple[Span, ...]

    @property
    def width(self) -> int:
        """How wide it is: a sheet's width, or less where boards are ripped."""
        return self.end - self.start


def courses(face: Face, width: int) -> Iterator[Course]:
    """The courses of a face from the top of a wall down, or from one side of a ceiling; what is left over is the last, ripped.

    In every second layer the first course is half a sheet wide, so that long edges of two layers do not meet.
    """
    top = face.across
    step = width // 2 if face.layer % 2 and face.across > width else width
    while top > 0:
        foot = max(0, top - step)
        yield Course(foot, top, tuple(_stretches(face, foot, top)))
        top, step = foot, width


def _stretches(face: Face, start: int, end: int) -> Iterator[Span]:
    """The parts of a course that no opening takes out from edge to edge."""
    reach = face.extent(start, end)
    at = reach.start
    for hole in sorted(h for h in face.holes if h[2] <= start and h[3] >= end):
        if hole[0] > at:
            yield Span(at, min(hole[0], reach.end))
        at = max(at, hole[1])
    if at < reach.end:
        yield Span(at, reach.end)


def cut_out(holes: Sequence[Hole], across: Span, along: Span) -> int:
    """Area that openings take out of a piece."""
    return sum(
        max(0, min(along.end, h[1]) - max(along.start, h[0])) * max(0, min(across.end, h[3]) - max(across.start, h[2]))
        for h in holes
    )


def joints(stretch: Span, lengths: Sequence[int], spacing: int | None, *, more: int = 0) -> list[tuple[int, ...]]:
    """Ways to part a stretch into pieces: the places of their ends inside it, each on a support; the fewest pieces first.

    `lengths` are those of the sheets, the longest first. A stretch that one sheet reaches over is one piece. Between the first and
    the last piece sheets are whole. Ways with up to `more` pieces beyond the fewest are given too. Where no support is near enough the
    ends meet anywhere. A piece shorter than from support to support is given only where there is no other way.
    """
    longest = lengths[0]
    whole = stretch.end - stretch.start
    if whole <= longest:
        return [()]
    step = spacing if spacing is not None and spacing <= longest else _anywhere(longest)
    step *= -(-longest // (step * _PLACES))
    full = longest // step * step
    found: dict[tuple[int, ...], None] = {}
    first = stretch.start // step * step + step
    for at in range(first, stretch.start + longest + 1, step):
        ends = [at]
        while stretch.end - ends[-1] > longest:
            ends.append(ends[-1] + full)
        found[tuple(ends)] = None
    for length in lengths[1:]:  # ends with a sheet that is shorter, whole
        last = (stretch.end - length) // step * step
        ends = [last]
        while ends[0] - stretch.start > longest:
            ends.insert(0, ends[0] - full)
        if stretch.end - last <= longest:
            found[tuple(ends)] = None
    fewest = min(map(len, found))
    some = sorted((one for one in found if len(one) <= fewest + more), key=len)
    sound = [one for one in some if one[0] - stretch.start >= step and stretch.end - one[-1] >= step]
    return sound or some


def _anywhere(longest: int) -> int:
    """How far apart ends may be where no support says: a quarter of the longest sheet."""
    return max(1, longest // 4)


def apart(ways: list[tuple[int, ...]], others: Collection[int]) -> list[tuple[int, ...]]:
    """The ways of which no end meets in line with one of the neighbours; all of them where there is none such."""
    return [way for way in ways if others.isdisjoint(way)] if others else ways  # type: ignore[attr-defined]
