"""The joints of a layout: between boards of neighbouring courses, and where two boards of one course meet."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from darby_board.cutting.faces import Hole, Span
from darby_board.cutting.layout import Piece


class Seams(NamedTuple):
    """Joints of one face, in the measure of its layout."""

    edges: int
    """Length of the joints along boards."""
    ends: int
    """Length of the joints between ends of boards."""
    many: int
    """How many ends meet."""


def seams_of(pieces: Sequence[Piece], holes: Iterable[Hole] = ()) -> Seams:
    """The joints between the pieces of a face; none lies in an opening that is cut out of a board."""
    holes = list(holes)
    edges = _meeting(pieces, lambda p: p.across, lambda p: p.along, [(h[2], h[3], h[0], h[1]) for h in holes])
    ends = _meeting(pieces, lambda p: p.along, lambda p: p.across, holes)
    return Seams(sum(edges), sum(ends), len(ends))


def _meeting(
    pieces: Sequence[Piece], to: Callable[[Piece], Span], beside: Callable[[Piece], Span], holes: Sequence[Hole]
) -> list[int]:
    """The lengths over which pieces meet that follow one another in one direction; `beside` is their extent in the other."""
    next_: dict[int, list[Piece]] = {}
    for piece in pieces:
        next_.setdefault(to(piece).start, []).append(piece)
    found = []
    for piece in pieces:
        at = to(piece).end
        for other in next_.get(at, ()):
            start, end = (
                max(beside(piece).start, beside(other).start),
                min(beside(piece).end, beside(other).end),
            )
            open_ = sum(max(0, min(end, hole[3]) - max(start, hole[2])) for hole in holes if hole[0] < at < hole[1])
            if end - start > open_:
                found.append(end - start - open_)
    return found
