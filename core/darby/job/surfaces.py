"""Rows that measure one surface: walls, gables, slopes, columns, trim and doors, each by its own sides."""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction
from math import isqrt

from attrs import evolve

from darby.job.model import Corner, Surface
from darby.job.rows.measured_row import FARTHEST, LONGEST_RUN, Row
from darby.job.rows.sheet import shown
from darby.job.shape import NAME, Made, Shape, alike, counted, few, marks_of, needs, one_face, sides_of
from darby.job.where import OTHER_FACE, TYPE, two_rooms
from darby.quantities.amounts import Amount, Origin
from darby.text.spans import Span

_FACES = "An outside wall has 1 face inside, a partition 2."
_HALF = Fraction(1, 2)


def wall(row: Row, marks: Collection[str]) -> Made:
    """A wall by its sides, by its area, under a gable or with a raking top; one face, two alike, or two that differ."""
    name, room = row.text("name", NAME), row.text("room")
    other, between = row.table("other_face"), two_rooms(row)
    if not any(key in row for key in ("faces", "room", "area", "other_face", "between")):
        row.missing("faces", f"Write faces = 1 or faces = 2. {_FACES}")
    faces = _faces(row, name, differ=other is not None or bool(between))
    area, length, height, level = _wall_sides(row)
    kept, span = marks_of(row, marks), row.span("name")
    surface = None
    if area is not None and faces is not None:
        surface = Surface(
            name, "wall", area, faces, span, room, length, height, level=level, peaked="peak" in row, **kept
        )
    twin = None
    if between and surface is not None:
        surface, twin = (
            evolve(surface, name=name + tail, room=of, side=side)
            for side, (tail, (of, _)) in enumerate(zip(("", OTHER_FACE), between, strict=True), 1)
        )
    elif other is not None:
        way = row.way("other_face")
        side = Row.of(row.sheet, way, other, what=f"other_face of {row.what}", keys=["room", TYPE, *marks])
        theirs = marks_of(side, marks)
        said, at = {**kept["marks"], **theirs["marks"]}, {**kept["mark_places"], **theirs["mark_places"]}
        if surface is not None:
            of = side.text("room") or room
            twin = evolve(
                surface, name=f"{name}{OTHER_FACE}", room=of, marks=said, mark_places=at, side=2,
                span=side.span() if side.data else span, systems=theirs.get("systems", surface.systems),
                system_places=theirs.get("system_places", surface.system_places),
            )  # fmt: skip
        else:
            side.text("room")
    if surface is not None and twin is not None:
        surface, twin = evolve(surface, faced=True), evolve(twin, faced=True)
    return Made(((name, 0, 0),), (surface,), (twin,) if twin else (), between=between, count=alike(row))


def _wall_sides(row: Row) -> tuple[Amount | None, Amount | None, Amount | None, bool]:
    tops = [key for key in ("end_height", "peak") if key in row]
    if not tops:
        return (*sides_of(row, "length", "height"), True)
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


def _faces(row: Row, name: str, *, differ: bool) -> Amount | None:
    if "faces" not in row:
        return few(1, f"{name} faces", row, "faces", "one face")
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
        return few(1, f"{name} faces", row, "faces", "one face")
    return row.count("faces")


def ceiling(row: Row, marks: Collection[str]) -> Made:
    """A ceiling by its sides, by its area, or sloped: then its width is that on plan and `rise` how far it climbs."""
    name, room = row.text("name", NAME), row.text("room")
    area, length, width = sides_of(row, "length", "width")
    kept = marks_of(row, marks)
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
        surface = Surface(name, "ceiling", area, one_face(name, row), row.span("name"), room, length, width, **kept)
    return Made(((name, 0, 0),), (surface,), count=alike(row))


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


def column(row: Row, marks: Collection[str]) -> Made:
    """Free-standing columns, finished all around: faces of the kind `wall`, four outside corners each."""
    name, room = row.text("name", NAME), row.text("room")
    needs(row, "width", "depth", "height")
    width, depth, height = row.length("width"), row.length("depth"), row.length("height")
    count, kept, span = counted(row, name), marks_of(row, marks), row.span("name")
    if width is None or depth is None or height is None or count is None:
        return Made(((name, 0, 0),), (None,))
    girth = ((width + depth) * 2).named("girth")
    area = girth * height * count
    surface = Surface(
        name, "wall", area, one_face(name, row), span, room, None, None, part="column", level=False, **kept
    )
    corner = Corner("outside", (count * 4).named("corners"), height, span, room)
    return Made(((name, 0, 0),), (surface,), corners=(corner,))


def trim(row: Row, marks: Collection[str]) -> Made:
    """Trim by its length and the width around its profile, of the kind `trim`."""
    return _pieces(row, marks, "trim", "length", "width", None)


def door(row: Row, marks: Collection[str]) -> Made:
    """Door leaves by width, height and count, of the kind `door`; both sides where nothing else is said."""
    sides = row.count("sides", 2) if "sides" in row else few(2, f"{row.text('name')} sides", row)
    return _pieces(row, marks, "door", "width", "height", sides)


def _pieces(row: Row, marks: Collection[str], kind: str, first: str, second: str, sides: Amount | None) -> Made:
    name, room = row.text("name", NAME), row.text("room")
    needs(row, first, second)
    most = LONGEST_RUN if kind == "trim" else FARTHEST
    one, other, count = row.length(first, most), row.length(second), counted(row, name)
    kept, span = marks_of(row, marks), row.span("name")
    if one is None or other is None or count is None or (kind == "door" and sides is None):
        return Made(((name, 0, 0),), (None,))
    area = one * other if count.value == 1 else one * other * count
    faces = sides if sides is not None else one_face(name, row)
    other_measure = count if kind == "door" else one if count.value == 1 else one * count
    surface = Surface(name, kind, area, faces, span, room, measures=(other_measure,), level=False, **kept)
    return Made(((name, 0, 0),), (surface,))


WALL = Shape("wall", "name length height faces count area room end_height peak other_face between type".split(), wall)
CEILING = Shape("ceiling", "name length width count area room rise type".split(), ceiling)
COLUMN = Shape("column", "name width depth height count room type".split(), column)
TRIM = Shape("trim", "name length width count room type".split(), trim)
DOOR = Shape("door", "name width height count sides room type".split(), door)
