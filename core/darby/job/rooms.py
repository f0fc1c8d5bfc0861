"""Rows that measure several things at once: rooms and soffits with their corners, and corners that are typed."""

from __future__ import annotations

from collections.abc import Collection

from darby.job.marks import marks_by_kind
from darby.job.model import Corner, Surface
from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import shown
from darby.job.shape import NAME, Made, RoomSays, Shape, alike, few, marks_of, needs, one_face
from darby.job.where import GIVES, PLACE, is_mark, measures, room_of, systems_of
from darby.quantities.amounts import Amount
from darby.text.spans import Span


def room(row: Row, marks: Collection[str]) -> Made:
    """Walls, ceiling and inside corners of a room: four walls by length and width, or one all around by perimeter.

    A room of which only the place and the finish are said gives none: its walls are listed one by one.
    """
    around = "perimeter" in row or ("area" in row and "length" not in row)
    name = row.text("name", NAME)
    with_ceiling, says = _says(row, name, marks)
    if not measures(row):
        return Made(((name, 0, -1),) if name else (), (), room=says)
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
    span, height = row.span("name"), row.length("height")
    if around:
        return _around(row, name, span, height, says, with_ceiling=with_ceiling)
    length, width = row.length("length"), row.length("width")
    surfaces: list[Surface | None] = [None] * (4 + with_ceiling)
    corners: tuple[Corner, ...] = ()
    if length is not None and width is not None and height is not None:
        one = one_face(name, row)
        for number in range(4):
            side = (length, width)[number % 2]
            surfaces[number] = Surface(
                f"{name} wall {number + 1}", "wall", side * height, one, span, name, side, height, **says.marks["wall"]
            )
        if with_ceiling:
            surfaces[4] = Surface(
                f"{name} ceiling", "ceiling", length * width, one, span, name, length, width, **says.marks["ceiling"]
            )
        corners = (Corner("inside", few(4, f"{name} corners", row), height, span, name),)
    each = tuple((f"{name} wall {number + 1}", number, number) for number in range(4))
    above = ((f"{name} ceiling", 4, 4),) if with_ceiling else ()
    return Made(((name, 0, 3), *each, *above) if name else (), tuple(surfaces), corners=corners, room=says)


def _says(row: Row, name: str, marks: Collection[str]) -> tuple[bool, RoomSays]:
    """Whether the room has a ceiling, and what its row says of all that is in it."""
    above = row.value("ceiling")
    marked = isinstance(above, list) or (isinstance(above, str) and is_mark(above))
    with_ceiling = marked or row.flag("ceiling", default=True)
    given = {kind: systems_of(row, key) for key, kind in GIVES.items() if key == "walls" or marked}
    return with_ceiling, RoomSays(room_of(row, name), given, marks_by_kind(row, marks))


def _around(row: Row, name: str, span: Span, height: Amount | None, says: RoomSays, *, with_ceiling: bool) -> Made:
    perimeter, area = row.length("perimeter"), row.area("area")
    outside = row.count("outside_corners", least=0) if "outside_corners" in row else None
    if with_ceiling and "area" not in row:
        row.missing("area", 'Write area = "...", the area of its ceiling, or ceiling = false.')
    walls = ceiling = None
    corners: list[Corner] = []
    if perimeter is not None and height is not None:
        one = one_face(name, row)
        # Going once around, the turns to one side are four more than those to the other.
        inside = 4 + (int(outside.value) if outside else 0)
        runs = 2 * inside - 4
        walls = Surface(
            f"{name} walls",
            "wall",
            perimeter * height,
            one,
            span,
            name,
            perimeter,
            height,
            runs=runs,
            **says.marks["wall"],
        )
        corners.append(Corner("inside", few(inside, f"{name} inside corners", row), height, span, name))
        if outside:
            corners.append(Corner("outside", outside, height, span, name))
    if with_ceiling and area is not None:
        ceiling = Surface(f"{name} ceiling", "ceiling", area, one_face(name, row), span, name, **says.marks["ceiling"])
    names = ((name, 0, 0), (f"{name} walls", 0, 0), *(((f"{name} ceiling", 1, 1),) if with_ceiling else ()))
    surfaces = (walls, ceiling) if with_ceiling else (walls,)
    return Made(names if name else (), surfaces, corners=tuple(corners), room=says)


def soffit(row: Row, marks: Collection[str]) -> Made:
    """A dropped soffit or bulkhead: an underside of the kind `ceiling`, faces of the kind `wall`, and its outside corners."""
    name, room = row.text("name", NAME), row.text("room")
    needs(row, "length", "width", "drop")
    length, width, drop = row.length("length"), row.length("width"), row.length("drop")
    sides = row.count("sides", 2) if "sides" in row else few(1, f"{name} sides", row)
    ends = row.count("ends", 2, least=0) if "ends" in row else few(0, f"{name} ends", row)
    kept, span, one = marks_of(row, marks), row.span("name"), one_face(name, row)
    names = ((name, 0, 0), (f"{name} underside", 0, 0), (f"{name} faces", 1, 1)) if name else ()
    if length is None or width is None or drop is None or sides is None or ends is None:
        return Made(names, (None, None))
    under = Surface(
        f"{name} underside", "ceiling", length * width, one, span, room, length, width, part="soffit", **kept
    )
    around = (length * sides + width * ends).named(f"length around {name}") if ends else length * sides
    runs = int(sides.value + ends.value)
    faces = Surface(
        f"{name} faces", "wall", around * drop, one, span, room, around, drop, runs=runs, part="soffit", **kept
    )
    corners = [Corner("outside", sides, length, span, room)]
    if ends:
        corners += [Corner("outside", ends, width, span, room), Corner("outside", sides * ends, drop, span, room)]
    return Made(names, (under, faces), corners=tuple(corners), count=alike(row))


def corner(row: Row, _marks: Collection[str]) -> Made:
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
    made: tuple[Corner, ...] = ()
    if kind and count is not None and height is not None:
        made = (Corner(kind, count, height, row.span("kind"), room),)
    return Made((), (), corners=made)


ROOM = Shape("room", "name length width height perimeter area outside_corners ceiling walls".split() + PLACE, room)
SOFFIT = Shape("soffit", "name length width drop count sides ends room type".split(), soffit)
CORNER = Shape("corner", "kind count height room".split(), corner)
