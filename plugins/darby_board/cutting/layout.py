"""A whole layout: faces to pieces, pieces to sheets; a few ways are tried, and the one with fewest sheets is kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import islice, product
from typing import NamedTuple

from attrs import evolve, frozen

from darby_board.cutting.courses import Course, apart, courses, joints
from darby_board.cutting.faces import Face, Span
from darby_board.cutting.sheets import Cut, Stock

ROOM, JOB, NONE = "in the same room", "anywhere in the job", "not used again"
"""Where offcuts are used again, in the words of a rule."""
_TRIES = 600
"""Faces, times the ways that are tried for them: a bound on the search. One way is always tried."""


class Piece(NamedTuple):
    """A piece in its place on a face (number in the list), and the sheet that it is cut from."""

    face: int
    along: Span
    across: Span
    cut: Cut

    @property
    def length(self) -> int:
        """Along the boards."""
        return self.along.end - self.along.start

    @property
    def width(self) -> int:
        """Across them."""
        return self.across.end - self.across.start


@frozen(eq=False)
class Layout:
    """Every piece of some faces, in the order of the faces, and the length of each sheet that was opened."""

    faces: tuple[Face, ...]
    width: int
    pieces: tuple[Piece, ...]
    sheets: tuple[int, ...]
    in_line: int = 0
    """Places where ends of neighbouring courses meet in line, since no support lets them be apart."""

    @property
    def area(self) -> int:
        """Area of all sheets."""
        return self.width * sum(self.sheets)


@frozen(eq=False)
class _Parted:
    """A stretch of a course with the places where its pieces meet."""

    face: int
    across: Span
    stretch: Span
    ends: tuple[int, ...]

    def pieces(self) -> Iterator[Span]:
        edges = (self.stretch.start, *self.ends, self.stretch.end)
        return map(Span, edges, edges[1:])


@lru_cache(maxsize=8)
def lay(faces: tuple[Face, ...], width: int, lengths: tuple[int, ...], offcuts: str = ROOM) -> Layout:
    """Lay faces in sheets of one width. Offcuts are used again in the room of a face, anywhere in the job, or not at all.

    Remembered, since an estimate asks the same again for each reading that it leaves out.
    """
    groups: dict[int, list[int]] = {}
    for number, face in enumerate(faces):
        groups.setdefault(face.room if offcuts == ROOM else 0, []).append(number)
    pieces: list[Piece] = []
    sheets: list[int] = []
    in_line = 0
    ways = max(1, _TRIES // len(faces)) if faces else 1
    for members in groups.values():
        alike = tuple([evolve(faces[n], room=0) for n in members])
        some, opened, met = _best(alike, width, lengths, again=offcuts != NONE, ways=ways)
        pieces += (p._replace(face=members[p.face], cut=p.cut._replace(sheet=p.cut.sheet + len(sheets))) for p in some)
        sheets += opened
        in_line += met
    return _renumbered(Layout(faces, width, tuple(pieces), tuple(sheets), in_line))


def _renumbered(layout: Layout) -> Layout:
    """The same with pieces in the order of the faces, and sheets numbered in the order in which they are first needed."""
    pieces = sorted(layout.pieces, key=lambda p: p.face)
    order = {old: new for new, old in enumerate(dict.fromkeys(p.cut.sheet for p in pieces))}
    sheets = [0] * len(order)
    for old, new in order.items():
        sheets[new] = layout.sheets[old]
    moved = tuple(p._replace(cut=p.cut._replace(sheet=order[p.cut.sheet])) for p in pieces)
    return Layout(layout.faces, layout.width, moved, tuple(sheets), layout.in_line)


_Made = tuple[list[Piece], list[int], int]

_Divided = tuple[int, tuple[Course, ...]]
"""A face by its number, with its courses."""


@lru_cache(maxsize=1024)
def _best(faces: tuple[Face, ...], width: int, lengths: tuple[int, ...], *, again: bool, ways: int) -> _Made:
    """The way with the least area of sheets, an end joint counted with them; so many `ways` are tried.

    Remembered: rooms of a job are often alike, and stay as they are while another one is measured.
    """
    walls = _stacks([(n, tuple(courses(face, width))) for n, face in enumerate(faces)], faces)
    longest_first = sorted(walls, key=lambda one: -_longest(one[0][1]))
    orders = (longest_first, walls, longest_first[::-1])
    tried = islice(product((1, 0), orders), ways)
    found = (_way(faces, order, width, lengths, again=again, more=more) for more, order in tried)
    joint = _joint(width, lengths)
    return min(found, key=lambda made: (sum(made[1]) * width + len(made[0]) * joint, sum(made[1])))


def _stacks(divided: Iterable[_Divided], faces: Sequence[Face]) -> list[list[_Divided]]:
    """Faces with the layers that lie on them, from the innermost out."""
    found: list[list[_Divided]] = []
    for one in divided:
        if found and faces[one[0]].layer > faces[found[-1][-1][0]].layer:
            found[-1].append(one)
        else:
            found.append([one])
    return found


def _joint(width: int, lengths: Sequence[int]) -> int:
    """What one end joint more may save at the least: an eighth of a sheet. Our own weighing, no source."""
    return width * max(lengths) // 8


def _longest(some: Iterable[Course]) -> int:
    return max((s.end - s.start for c in some for s in c.stretches), default=0)


def _way(
    faces: Sequence[Face], order: Sequence[Sequence[_Divided]], width: int, lengths: Sequence[int], *, again: bool, more: int
) -> _Made:  # fmt: skip
    """One way: full courses part by part, the cheapest way of each; their cut pieces afresh, the longest first; then strips."""
    sketch = Stock(width, lengths, again=again)
    parted: list[_Parted] = []
    in_line = 0
    for stack in order:
        below: list[tuple[Course, set[int]]] = []
        for number, divided in stack:
            met, below = _part(number, faces[number], divided, below, sketch, parted, more)
            in_line += met
    stock = Stock(width, lengths, again=again)
    spans = [(p, span, p.across.end - p.across.start) for p in parted for span in p.pieces()]
    spans.sort(key=lambda one: (-one[2], one[1].start - one[1].end))
    pieces = [Piece(p.face, span, p.across, stock.cut(wide, span.end - span.start)) for p, span, wide in spans]
    return pieces, stock.opened, in_line


def _part(
    number: int, face: Face, divided: Sequence[Course], below: Sequence[tuple[Course, set[int]]], stock: Stock, parted: list[_Parted],
    more: int,
) -> tuple[int, list[tuple[Course, set[int]]]]:  # fmt: skip
    """Part the courses of a face, each stretch so that it costs least, its ends apart from those of the course before and below.

    Gives how many stretches had no such way, and the ends of each course.
    """
    in_line = 0
    done: list[tuple[Course, set[int]]] = []
    longest_first = stock.lengths[::-1]
    for course in divided:
        before = set(done[-1][1]) if done else set()
        for under, ends in below:
            if under.start < course.end and course.start < under.end:
                before |= ends
        here: set[int] = set()
        for stretch in course.stretches:
            ways = joints(stretch, longest_first, face.spacing, more=1)
            free = apart(ways, before)
            if not free:
                in_line += 1
                free = ways
            fewest = len(free[0]) + more
            free = [way for way in free if len(way) <= fewest]
            across = Span(course.start, course.end)
            one = _Parted(number, across, stretch, free[0])
            if len(free) > 1:
                one = min((_Parted(number, across, stretch, way) for way in free), key=lambda p: _cost(p, stock))
            parted.append(one)
            if course.width == stock.width:
                for span in one.pieces():
                    stock.cut(stock.width, span.end - span.start)
            here.update(one.ends)
        done.append((course, here))
    return in_line, done


def _cost(parted: _Parted, stock: Stock) -> int:
    return len(parted.ends) * _joint(stock.width, stock.lengths) + sum(
        stock.cost(span.end - span.start) for span in parted.pieces()
    )
