"""From measured surfaces to faces that can be laid out, and what was laid: how many sheets of which size, and what only counts by area."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from math import lcm
from typing import Protocol

from attrs import frozen

from darby.api import Amount, Course, Deduct, Place, Side, Surface, comes_out
from darby_board.checks import hung_along
from darby_board.cutting.bounds import least
from darby_board.cutting.faces import Face, Hole
from darby_board.cutting.layout import Layout, lay

MOST = 5_000
"""Sheets on one face beyond which it counts by area: no wall is so large."""
_EIGHTH, _MILLIMETRE = Amount.read("1/8 in"), Amount.read("1 mm")
_DOOR = Amount.read("6 ft")
"""Openings at least so high stand on the floor; others lie halfway up."""


class Hangs(Protocol):
    """What is hung on the surfaces of one place: layers of one board."""

    @property
    def side(self) -> Side: ...  # noqa: D102

    @property
    def course(self) -> Course: ...  # noqa: D102

    @property
    def deduct(self) -> Deduct: ...  # noqa: D102

    @property
    def place(self) -> Place: ...  # noqa: D102

    @property
    def spacing(self) -> Amount | None: ...  # noqa: D102

    @property
    def offcuts(self) -> str: ...  # noqa: D102


@frozen(eq=False)
class Named:
    """A face with what it is called, and in the job."""

    face: Face
    surface: Surface
    copy: int
    """Which face of the surface it is, from 1; 0 where it has one."""
    layers: int
    run: int = 0
    """Which of the straight runs of a surface that goes around corners, from 1; 0 where it has one."""

    @property
    def room(self) -> str:
        """The room it is in, told from others that are alike; nothing where none is known."""
        surface = self.surface
        return f"{surface.room} ({surface.copy})" if surface.room and surface.copy > 1 else surface.room

    @property
    def name(self) -> str:
        """`corridor wall, face 2, layer 1`."""
        parts = [self.surface.name]
        parts += [f"run {self.run}"] if self.run else []
        parts += [f"face {self.copy}"] if self.copy else []
        parts += [f"layer {self.face.layer + 1}"] if self.layers > 1 else []
        return ", ".join(parts)


@frozen(eq=False)
class Part:
    """Faces that were laid together, in sheets of one width: those of one rule for offcuts."""

    faces: tuple[Named, ...]
    layout: Layout
    lengths: tuple[int, ...]
    offcuts: str


@frozen(eq=False)
class Laid:
    """What was laid, part by part, and the surfaces of which only the area is known."""

    parts: tuple[Part, ...]
    measure: int
    """Parts of the base unit of length of which every length is a whole number."""
    by_area: tuple[Surface, ...] = ()

    def size(self, length: int | Fraction) -> Fraction:
        """A length in base units."""
        return Fraction(length) / self.measure

    def whole(self, length: Amount) -> int:
        """A length in the measure."""
        return (length.size * self.measure).numerator

    def counts(self) -> dict[tuple[int, int], int]:
        """Sheets by their width and length, the longest first."""
        found: dict[tuple[int, int], int] = {}
        for part in self.parts:
            for length in part.layout.sheets:
                found[(part.layout.width, length)] = found.get((part.layout.width, length), 0) + 1
        return dict(sorted(found.items(), reverse=True))

    def by_surface(self) -> dict[tuple[int, int], dict[str, int]]:
        """Hundredths of sheets by their width and length, and by the name of the surface that they go on: what of a sheet is on none goes
        with what is, so that a size comes to whole sheets.
        """
        found: dict[tuple[int, int], dict[str, int]] = {}
        for part in self.parts:
            on: list[dict[str, int]] = [{} for _ in part.layout.sheets]
            for piece in part.layout.pieces:
                name = part.faces[piece.face].surface.name
                on[piece.cut.sheet][name] = on[piece.cut.sheet].get(name, 0) + piece.length * piece.width
            for length, areas in zip(part.layout.sheets, on, strict=True):
                sized = found.setdefault((part.layout.width, length), {})
                for name, many in zip(areas, _hundredths([*areas.values()]), strict=True):
                    sized[name] = sized.get(name, 0) + many
        return found

    @cached_property
    def least(self) -> int | None:
        """The sheets that no layout can do without; None where several sizes make up for each other."""
        sizes = {(part.layout.width, part.lengths) for part in self.parts}
        if len(sizes) != 1 or len(next(iter(sizes))[1]) > 1:
            return None
        return sum(
            least([n.face for n in p.faces], p.layout.width, p.lengths[0], p.offcuts) for p in self.parts
        )  # fmt: skip

    @property
    def in_line(self) -> int:
        """Places where ends of neighbouring courses meet in line."""
        return sum(part.layout.in_line for part in self.parts)


def laid(shares: Iterable[Hangs], sheets: Sequence[tuple[Amount, Amount]]) -> Laid:
    """Lay what some shares hang, in sheets of some sizes (width and length). Raises ValueError where there is no size."""
    shares = list(shares)
    spans = list(_spans(shares, sheets))
    measure = lcm(*{size.denominator for size in spans})
    maker = _Maker(measure, sheets)
    named = [(share.offcuts, one) for share in shares for one in maker.faces(share)]
    groups: dict[tuple[str, int], list[Named]] = {}
    named.sort(key=lambda pair: pair[1].face.room)
    for offcuts, one in named:
        groups.setdefault((offcuts, maker.width_for(one.face)), []).append(one)
    parts = []
    for (offcuts, width), members in groups.items():
        lengths = tuple(sorted(maker.lengths(width)))
        layout = lay(tuple(one.face for one in members), width, lengths, offcuts)
        parts.append(Part(tuple(members), layout, lengths, offcuts))
    return Laid(tuple(parts), measure, tuple(maker.by_area.values()))


def _spans(shares: Iterable[Hangs], sheets: Iterable[tuple[Amount, Amount]]) -> Iterator[Fraction]:
    """Every length that has to be a whole number of the measure."""
    sheets = list(sheets)
    yield from (side.size for sheet in sheets for side in sheet)
    yield _grain(sheets).size
    for share in shares:
        if share.spacing is not None:
            yield share.spacing.size
        for surface in share.place.surfaces:
            if surface.length is None or surface.height is None:
                continue
            yield surface.length.size / surface.runs
            yield surface.height.size
            if not surface.level:
                yield _low(surface)
            yield from (side.size for o in surface.openings for side in (o.width, o.height))


def _grain(sheets: Sequence[tuple[Amount, Amount]]) -> Amount:
    """What odd lengths are rounded to, in the units of the sheets."""
    return _EIGHTH if sheets[0][0].unit.system == "us" else _MILLIMETRE


def _low(surface: Surface) -> Fraction:
    """Height at the lower end of a raking top, or below both ends of a peak: the area over the length is the mean height."""
    assert surface.length is not None
    assert surface.height is not None
    return 2 * surface.area.size / surface.length.size - surface.height.size


class _Maker:
    """Makes faces of surfaces."""

    def __init__(self, measure: int, sheets: Sequence[tuple[Amount, Amount]]) -> None:
        self._measure = measure
        self._sheets = [(self._whole(width.size), self._whole(length.size)) for width, length in sheets]
        self._grain = self._whole(_grain(sheets).size)
        self._rooms: dict[tuple[str, int], int] = {}
        self.by_area: dict[int, Surface] = {}
        """Surfaces that cannot be laid, each once."""

    def _whole(self, size: Fraction) -> int:
        return (size * self._measure).numerator

    def lengths(self, width: int) -> set[int]:
        """Lengths in which sheets of a width are sold."""
        return {length for wide, length in self._sheets if wide == width}

    def width_for(self, face: Face) -> int:
        """The width of sheet that leaves least of the last course, of equals the one said first."""
        return min((wide for wide, _ in self._sheets), key=lambda wide: -face.across % wide)

    def faces(self, share: Hangs) -> Iterator[Named]:
        """The faces of a share, those of one surface together, layer by layer; what cannot be laid is kept in `by_area`."""
        below = _layers_below(share)
        many = int(share.course.many.value)
        layers = int(share.side.layers.amount.value)
        for surface in share.place.surfaces:
            if not self._can_lay(surface):
                self.by_area[id(surface)] = surface
                continue
            faces = int(surface.faces.value)
            for copy in range(1, faces + 1):
                side = copy if faces > 1 else surface.side
                for run in range(1, surface.runs + 1):
                    for layer in range(below, below + many):
                        face = self._face(surface, share, side, layer)
                        yield Named(face, surface, copy if faces > 1 else 0, layers, run if surface.runs > 1 else 0)

    def _can_lay(self, surface: Surface) -> bool:
        length, height = surface.length, surface.height
        if not length or not height or (not surface.level and (surface.kind != "wall" or _low(surface) < 0)):
            return False
        if surface.level and length.size * height.size != surface.area.size:
            return False
        wide, long = min(self._sheets)
        across, along = self._whole(height.size), self._whole(length.size)
        return (across // wide + 1) * (along // long + 1) <= MOST and (along // wide + 1) * (across // long + 1) <= MOST

    def _face(self, surface: Surface, share: Hangs, side: int, layer: int) -> Face:
        assert surface.length is not None
        assert surface.height is not None
        length, height = self._whole(surface.length.size / surface.runs), self._whole(surface.height.size)
        room = self._rooms.setdefault((surface.room, surface.copy), len(self._rooms))
        low = None if surface.level else self._whole(_low(surface))
        upright = hung_along(surface)
        holes = tuple(self._holes(surface, share.deduct, side, length, height)) if surface.runs == 1 else ()
        spacing = None if share.spacing is None or upright else self._whole(share.spacing.size)
        if surface.kind == "wall" and upright:
            holes = tuple((foot, top, start, end) for start, end, foot, top in holes)
            return Face(height, length, room, spacing, holes, layer, True, low, surface.peaked, self._grain)
        if surface.kind != "wall" and (length < height) != upright:
            length, height = height, length
        return Face(length, height, room, spacing, holes, layer, False, low, surface.peaked, self._grain)

    def _holes(self, surface: Surface, deduct: Deduct, side: int, length: int, height: int) -> Iterator[Hole]:
        """The openings that come out, evenly along a wall: doors on the floor, others halfway up. None where they have no room."""
        out = [o for o in surface.openings for _ in range(_few(o.count)) if comes_out(o, deduct, face=side)]
        wide = sum(self._whole(o.width.size) for o in out)
        if surface.kind != "wall" or not surface.level or not out or wide > length:
            return
        gap, at = (length - wide) // (len(out) + 1), 0
        for opening in out:
            at += gap
            high = min(self._whole(opening.height.size), height)
            foot = 0 if opening.height >= _DOOR else (height - high) // 2
            end = at + self._whole(opening.width.size)
            yield at, end, foot, foot + high
            at = end


def _hundredths(areas: Sequence[int]) -> list[int]:
    """A hundred, parted by some areas; what is left of it goes to the largest remainders, of equals to the first."""
    whole = sum(areas)
    parts = [area * 100 // whole for area in areas]
    short = sorted(range(len(areas)), key=lambda n: -(areas[n] * 100 % whole))
    for n in short[: 100 - sum(parts)]:
        parts[n] += 1
    return parts


def _few(count: Amount) -> int:
    """A count of openings in one wall; more than a hundred are not drawn one by one."""
    return min(int(count.value), 100)


def _layers_below(share: Hangs) -> int:
    """How many layers lie below those of a share on the same side."""
    below = 0
    for course in share.side.courses:
        if course is share.course:
            break
        below += int(course.many.value)
    return below
