"""Rows of a job to measured surfaces: walls, gables, slopes, soffits, columns, rooms, doors and trim, each by its own sides."""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction
from math import isqrt
from typing import Any

from attrs import evolve, field, frozen

from darby.job.model import Corner, Surface
from darby.job.toml_row import Row, shown
from darby.quantities.amounts import Amount, Origin
from darby.text.diagnostics import Label
from darby.text.spans import Span

WALL = "name length height faces area room end_height peak other_face".split()
CEILING = "name length width area room rise".split()
CORNER = "kind count height room".split()
ROOM = "name length width height perimeter area outside_corners ceiling".split()
SOFFIT = "name length width drop sides ends room".split()
COLUMN = "name width depth height count room".split()
TRIM = "name length width count room".split()
DOOR = "name width height count sides room".split()

_FACES = "An outside wall has 1 face inside, a partition 2."
_NAME = 'Give it a name that appears once in the job: name = "..."'
_HALF = Fraction(1, 2)


@frozen(eq=False)
class Made:
    """What one row measures. A surface is None where it could not be measured; its name may be claimed all the same."""

    names: tuple[tuple[str, int, int], ...]
    """Each name that openings may use, with the first and the last of the surfaces it stands for."""
    surfaces: tuple[Surface | None, ...]
    twins: tuple[Surface | None, ...] = ()
    """The other face of the first surface, where it is finished differently."""
    corners: tuple[Corner, ...] = ()


@frozen(eq=False)
class Shapes:
    """Reads rows; `marks` are the keys that trades let a surface carry."""

    marks: Collection[str] = field(factory=tuple)

    def wall(self, row: Row) -> Made:
        """A wall by its sides, by its area, under a gable or with a raking top; one face, two alike, or two that differ."""
        name, room = row.text("name", _NAME), row.text("room")
        other = row.table("other_face")
        if "faces" not in row and not room and "area" not in row and other is None:
            row.missing("faces", f"Write faces = 1 or faces = 2. {_FACES}")
        faces = self._faces(row, name, differ=other is not None)
        area, length, height, level = self._wall_sides(row)
        kept, span = self._marks(row), row.span("name")
        surface = None
        if area is not None and faces is not None:
            surface = Surface(name, "wall", area, faces, span, room, length, height, level=level, **kept)
        twin = None
        if other is not None:
            way = row.way("other_face")
            side = Row.of(row.sheet, way, other, what=f"other_face of {row.what}", keys=["room", *self.marks])
            theirs = self._marks(side)
            marks, at = {**kept["marks"], **theirs["marks"]}, {**kept["mark_places"], **theirs["mark_places"]}
            if surface is not None:
                of = side.text("room") or room
                twin = evolve(
                    surface, name=f"{name} other face", room=of, marks=marks, mark_places=at, side=2,
                    span=side.span() if side.data else span,
                )  # fmt: skip
            else:
                side.text("room")
        return Made(((name, 0, 0),), (surface,), (twin,) if twin else ())

    def _wall_sides(self, row: Row) -> tuple[Amount | None, Amount | None, Amount | None, bool]:
        tops = [key for key in ("end_height", "peak") if key in row]
        if not tops:
            return (*_sides(row, "length", "height"), True)
        if len(tops) == 2:
            row.sheet.say(
                "job-area-and-sides", row.span("peak"), f"{row.what} has a peak and also an end_height",
                "Keep peak for a gable, or end_height for a top that rakes from one end to the other.",
            )  # fmt: skip
        if "length" not in row:
            row.missing("length", 'Write length = "...", as in "8 ft" or "2.4 m".')
        if "height" not in row and "peak" not in row:
            row.missing("height", 'Write height = "...", the height at the other end.')
        if "area" in row:
            row.sheet.say(
                "job-area-and-sides", row.span("area"), f"{row.what} has an area and also a {tops[0]}",
                f"Keep length and {tops[0]}, or keep the area alone.",
            )  # fmt: skip
        length, low, high = row.length("length"), row.length("height"), row.length(tops[0])
        if high is None or length is None or ("height" in row and low is None):
            return None, None, None, False
        if low is None:
            mean = (high * _HALF).named("mean height of the gable")
            return length * mean, length, high, False
        if tops[0] == "peak" and high <= low:
            row.sheet.say(
                "job-out-of-range", row.span("peak"), f"peak of {row.what} is no higher than its height",
                "peak is the height at the top of the gable, from the floor; height that at the eaves.",
            )  # fmt: skip
            return None, None, None, False
        mean = ((low + high) * _HALF).named("mean height")
        return length * mean, length, max(low, high), False

    def ceiling(self, row: Row) -> Made:
        """A ceiling by its sides, by its area, or sloped: then its width is that on plan and `rise` how far it climbs."""
        name, room = row.text("name", _NAME), row.text("room")
        area, length, width = _sides(row, "length", "width")
        kept = self._marks(row)
        if "rise" in row:
            rise = row.length("rise")
            if "area" in row:
                row.sheet.say(
                    "job-area-and-sides", row.span("rise"), f"{row.what} has an area and also a rise",
                    "Keep length, width and rise, or keep the area alone, measured along the slope.",
                )  # fmt: skip
            if rise is None or width is None or length is None:
                return Made(((name, 0, 0),), (None,))
            width = _along_slope(width, rise, f"{name} width along the slope", row.span("rise"))
            area = length * width
        surface = None
        if area is not None:
            surface = Surface(name, "ceiling", area, _one(name, row), row.span("name"), room, length, width, **kept)
        return Made(((name, 0, 0),), (surface,))

    def room(self, row: Row) -> Made:
        """Walls, ceiling and inside corners of a room: four walls by length and width, or one all around by perimeter."""
        around = "perimeter" in row or ("area" in row and "length" not in row)
        name = row.text("name", _NAME)
        wanted = ("perimeter", "height") if around else ("length", "width", "height")
        for key in wanted:
            if key not in row:
                row.missing(key, f'Write {key} = "...", as in "12 ft" or "3.6 m".')
        for key in ("length", "width") if around else ("area", "outside_corners"):
            if key in row:
                row.sheet.say(
                    "job-area-and-sides", row.span(key), f"{row.what} has {' and '.join(wanted[:-1])} and also {key}",
                    "Give a room its length, width and height; or its perimeter, area and height.",
                )  # fmt: skip
        kept, span, height = self._marks(row), row.span("name"), row.length("height")
        with_ceiling = row.flag("ceiling", default=True)
        if around:
            return self._around(row, name, span, height, kept, with_ceiling=with_ceiling)
        length, width = row.length("length"), row.length("width")
        surfaces: list[Surface | None] = [None] * (4 + with_ceiling)
        corners: tuple[Corner, ...] = ()
        if length is not None and width is not None and height is not None:
            one = _one(name, row)
            for number in range(4):
                side = (length, width)[number % 2]
                surfaces[number] = Surface(
                    f"{name} wall {number + 1}", "wall", side * height, one, span, name, side, height, **kept
                )
            if with_ceiling:
                surfaces[4] = Surface(
                    f"{name} ceiling", "ceiling", length * width, one, span, name, length, width, **kept
                )
            corners = (Corner("inside", _few(4, f"{name} corners", row), height, span, name),)
        each = tuple((f"{name} wall {number + 1}", number, number) for number in range(4))
        above = ((f"{name} ceiling", 4, 4),) if with_ceiling else ()
        return Made(((name, 0, 3), *each, *above) if name else (), tuple(surfaces), corners=corners)

    def _around(
        self, row: Row, name: str, span: Span, height: Amount | None, kept: dict[str, Any], *, with_ceiling: bool
    ) -> Made:
        perimeter, area = row.length("perimeter"), row.area("area")
        outside = row.count("outside_corners", least=0) if "outside_corners" in row else None
        if with_ceiling and "area" not in row:
            row.missing("area", 'Write area = "...", the area of its ceiling, or ceiling = false.')
        walls = ceiling = None
        corners: list[Corner] = []
        if perimeter is not None and height is not None:
            one = _one(name, row)
            # Going once around, the turns to one side are four more than those to the other.
            inside = 4 + (int(outside.value) if outside else 0)
            runs = 2 * inside - 4
            area_of_walls = perimeter * height
            walls = Surface(
                f"{name} walls", "wall", area_of_walls, one, span, name, perimeter, height, runs=runs, **kept
            )
            corners.append(Corner("inside", _few(inside, f"{name} inside corners", row), height, span, name))
            if outside:
                corners.append(Corner("outside", outside, height, span, name))
        if with_ceiling and area is not None:
            ceiling = Surface(f"{name} ceiling", "ceiling", area, _one(name, row), span, name, **kept)
        names = ((name, 0, 0), (f"{name} walls", 0, 0), *(((f"{name} ceiling", 1, 1),) if with_ceiling else ()))
        return Made(names if name else (), (walls, ceiling) if with_ceiling else (walls,), corners=tuple(corners))

    def soffit(self, row: Row) -> Made:
        """A dropped soffit or bulkhead: an underside of the kind `ceiling`, faces of the kind `wall`, and its outside corners."""
        name, room = row.text("name", _NAME), row.text("room")
        _needs(row, "length", "width", "drop")
        length, width, drop = row.length("length"), row.length("width"), row.length("drop")
        sides = row.count("sides", 2) if "sides" in row else _few(1, f"{name} sides", row)
        ends = row.count("ends", 2, least=0) if "ends" in row else _few(0, f"{name} ends", row)
        kept, span, one = self._marks(row), row.span("name"), _one(name, row)
        names = ((name, 0, 0), (f"{name} underside", 0, 0), (f"{name} faces", 1, 1)) if name else ()
        if length is None or width is None or drop is None or sides is None or ends is None:
            return Made(names, (None, None))
        under = Surface(f"{name} underside", "ceiling", length * width, one, span, room, length, width, **kept)
        around = (length * sides + width * ends).named(f"length around {name}") if ends else length * sides
        runs = int(sides.value + ends.value)
        faces = Surface(f"{name} faces", "wall", around * drop, one, span, room, around, drop, runs=runs, **kept)
        corners = [Corner("outside", sides, length, span, room)]
        if ends:
            corners += [Corner("outside", ends, width, span, room), Corner("outside", sides * ends, drop, span, room)]
        return Made(names, (under, faces), corners=tuple(corners))

    def column(self, row: Row) -> Made:
        """Free-standing columns, finished all around: faces of the kind `wall`, four outside corners each."""
        name, room = row.text("name", _NAME), row.text("room")
        _needs(row, "width", "depth", "height")
        width, depth, height = row.length("width"), row.length("depth"), row.length("height")
        count, kept, span = self._count(row, name), self._marks(row), row.span("name")
        if width is None or depth is None or height is None or count is None:
            return Made(((name, 0, 0),), (None,))
        girth = ((width + depth) * 2).named("girth")
        area = girth * height * count
        surface = Surface(name, "wall", area, _one(name, row), span, room, None, None, level=False, **kept)
        corner = Corner("outside", (count * 4).named("corners"), height, span, room)
        return Made(((name, 0, 0),), (surface,), corners=(corner,))

    def trim(self, row: Row) -> Made:
        """Trim by its length and the width around its profile, of the kind `trim`."""
        return self._pieces(row, "trim", "length", "width", None)

    def door(self, row: Row) -> Made:
        """Door leaves by width, height and count, of the kind `door`; both sides where nothing else is said."""
        sides = row.count("sides", 2) if "sides" in row else _few(2, f"{row.text('name')} sides", row)
        return self._pieces(row, "door", "width", "height", sides)

    def _pieces(self, row: Row, kind: str, first: str, second: str, sides: Amount | None) -> Made:
        name, room = row.text("name", _NAME), row.text("room")
        _needs(row, first, second)
        one, other, count = row.length(first), row.length(second), self._count(row, name)
        kept, span = self._marks(row), row.span("name")
        if one is None or other is None or count is None or (kind == "door" and sides is None):
            return Made(((name, 0, 0),), (None,))
        area = one * other if count.value == 1 else one * other * count
        faces = sides if sides is not None else _one(name, row)
        return Made(((name, 0, 0),), (Surface(name, kind, area, faces, span, room, level=False, **kept),))

    def corner(self, row: Row) -> Made:
        """Corners that are typed, since no room gives them."""
        kind = row.text("kind", 'Write kind = "inside" or kind = "outside".')
        if kind and kind not in ("inside", "outside"):
            near = row.sheet.nearest(kind, ["inside", "outside"])
            row.sheet.say(
                "job-corner-kind",
                row.span("kind"),
                f'{row.what} is of the kind "{shown(kind)}"; a corner is inside or outside',
                (f"Did you mean {near}? " if near else "") + 'Write kind = "inside" or kind = "outside".',
            )
        for key, sample in (("count", "4"), ("height", '"8 ft"')):
            if key not in row:
                row.missing(key, f"Write {key} = {sample}.")
        count, height, room = row.count("count"), row.length("height"), row.text("room")
        made = ()
        if kind and count is not None and height is not None:
            made = (Corner(kind, count, height, row.span("kind"), room),)  # type: ignore[assignment]
        return Made((), (), corners=made)

    def _marks(self, row: Row) -> dict[str, Any]:
        kept = {mark: row.text(mark, f"Say what it is, or leave {mark} out.") for mark in self.marks if mark in row}
        kept = {mark: text for mark, text in kept.items() if text}
        return {"marks": kept, "mark_places": {mark: row.span(mark) for mark in kept}}

    @staticmethod
    def _count(row: Row, name: str) -> Amount | None:
        return row.count("count") if "count" in row else _few(1, f"{name} count", row)

    def _faces(self, row: Row, name: str, *, differ: bool) -> Amount | None:
        if "faces" not in row:
            return _few(1, f"{name} faces", row, "faces", "one face")
        value = row.value("faces")
        if value is None:
            return None
        if not isinstance(value, int) or isinstance(value, bool) or value not in (1, 2):
            row.sheet.say(
                "job-faces",
                row.span("faces"),
                f"faces of {row.what} is {shown(row.span('faces').text)}; it is 1 or 2",
                f"{_FACES} Write faces = 1 or faces = 2, without quotes.",
            )
            return None
        if differ:
            if value == 1:
                row.sheet.say(
                    "job-faces", row.span("faces"), f"faces of {row.what} is 1, and it has an other_face",
                    "Write faces = 2, or leave other_face out.",
                )  # fmt: skip
            return _few(1, f"{name} faces", row, "faces", "one face")
        return row.count("faces")


def _sides(row: Row, first: str, second: str) -> tuple[Amount | None, Amount | None, Amount | None]:
    """Area, length and the other side; the area is None where something is wrong with it."""
    has = [key for key in (first, second) if key in row]
    if "area" in row:
        area = row.area("area")
        for key in has:
            row.length(key)
        if has:
            row.sheet.say(
                "job-area-and-sides",
                row.span("area"),
                f"{row.what} has an area and also a {' and a '.join(has)}",
                f"Keep {first} and {second}, or keep the area alone.",
                [Label(row.span(key), key) for key in has],
            )
        return area, None, None
    if not has:
        row.missing(f"{first} and {second}", f'Write {first} = "..." and {second} = "...", or area = "..." alone.')
    elif len(has) == 1:
        lacking = second if has == [first] else first
        row.missing(lacking, f'Write {lacking} = "...", as in "8 ft" or "2.4 m".')
    one, other = row.length(first), row.length(second)
    return (one * other if one is not None and other is not None else None), one, other


def _needs(row: Row, *keys: str) -> None:
    for key in keys:
        if key not in row:
            row.missing(key, f'Write {key} = "...", as in "8 ft" or "2.4 m".')


def _one(name: str, row: Row) -> Amount:
    return _few(1, f"{name} faces", row, "faces", "one face")


def _few(number: int, key: str, row: Row, label: str = "count", note: str = "") -> Amount:
    return Amount.of(number, "each", Origin(key, "", row.span(), note), label)


def _along_slope(run: Amount, rise: Amount, label: str, span: Span) -> Amount:
    """Length of a slope, rounded up to a sixty-fourth of an inch or to a millimetre, since a root is no fraction."""
    steps_to_unit = 64 * 12 if run.unit.system == "us" else 1000
    unit = "ft" if run.unit.system == "us" else "m"
    across, up = run.to(unit).value * steps_to_unit, rise.to(unit).value * steps_to_unit
    square = across**2 + up**2
    root = isqrt(-(-square.numerator // square.denominator))
    while root**2 < square:
        root += 1
    text = f"from {run.exact()} on plan and a rise of {rise.exact()}"
    return Amount.of(
        Fraction(root, steps_to_unit), unit, Origin(label, text, span, "measured along the slope"), "width"
    )
