"""What a row says of where it is, besides its room: names that documents may use, and the systems given to it by their marks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from attrs import field, frozen

from darby.job.model import Room, Surface
from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import shown
from darby.rules.room_names import RoomNames
from darby.text.spans import Span

PLACE = "number also count floor phase".split()
"""The keys of a room that say where it is, which and how many."""
GIVES = {"walls": "wall", "ceiling": "ceiling"}
"""The keys of a room that give a system to all surfaces of a kind."""
OTHER_FACE = " other face"
"""What the name of a wall's other face ends in, where that is a surface of its own."""
TYPE = "type"
"""The key of a surface that gives it a system."""

_SIDES = ("length", "width", "height", "perimeter", "area", "outside_corners")
"""The keys of a room that measure it."""
MOST_ALIKE = 1_000
"""Rooms or walls that one row may stand for; each has surfaces of its own."""
_BETWEEN_MARKS = re.compile(r"\s*[,;+]\s*|\s+and\s+")


@frozen
class Systems:
    """Marks of systems, each with its place, in the order given."""

    marks: tuple[str, ...] = ()
    places: Mapping[str, Span] = field(factory=dict)


NONE = Systems()


def measures(row: Row) -> bool:
    """Whether the row of a room measures it, and does not only say where it is and what it gets."""
    return any(key in row for key in _SIDES)


def room_of(row: Row, name: str) -> Room:
    """The room of a row, by all its names."""
    number, floor, phase = (word_of(row, key) for key in ("number", "floor", "phase"))
    count = row.count("count", MOST_ALIKE) if "count" in row else None
    called = RoomNames(name, number, tuple(names_of(row, "also")), floor, phase)
    return Room(called, row.span("name"), int(count.value) if count is not None else 1)


def word_of(row: Row, key: str) -> str:
    """A text, or a whole number written without quotes: `number = 204`."""
    value = row.value(key)
    if isinstance(value, int) and not isinstance(value, bool) and value >= 0:
        return str(value)
    if isinstance(value, (list, dict)):
        row.wrong(key, "one text or whole number", f'Write {key} = "2".')
        return ""
    said = row.text(key, f"Say which, or leave {key} out." if key in row else "")
    if said and not any(map(str.isalnum, said)):
        row.wrong(key, "a name with a letter or a digit in it", f'Write {key} = "2".')
        return ""
    return said


def names_of(row: Row, key: str) -> Sequence[str]:
    """Names in a list, or in one text with semicolons between them, as a cell of a schedule has them."""
    found = []
    for text, span in row.texts(key):
        parts = [one.strip() for one in text.split(";")]
        if not any(parts):
            row.sheet.say(
                "job-missing-key", span, f"a name in {key} of {row.what} is empty", f"Fill it in, or leave {key} out."
            )
        found += [one for one in parts if one]
    return found


def systems_of(row: Row, key: str) -> Systems:
    """The marks that a key gives; none where it is not there."""
    if key not in row or row.value(key) is None:
        return NONE
    if not isinstance(row.value(key), (str, list)):
        row.wrong(
            key, "the mark of a system in quotes", f'Write {key} = "PT-1", a mark that a document or [[types]] defines.'
        )
        return NONE
    places: dict[str, Span] = {}
    for text, span in row.texts(key):
        parts = [one.strip() for one in _BETWEEN_MARKS.split(text) if one.strip()]
        if not parts:
            row.sheet.say(
                "job-missing-key", span, f"{key} of {row.what} is empty",
                f'Write {key} = "PT-1", a mark that a document or [[types]] defines, or leave it out.',
            )  # fmt: skip
        for mark in parts:
            places.setdefault(mark, span)
    return Systems(tuple(places), places)


def is_mark(text: str) -> bool:
    """Whether a text looks like marks of systems and not like a plain word: `PT-1`, `ACT`."""
    return any(c.isdigit() for c in text) or (text.isupper() and text.isascii())


def two_rooms(row: Row) -> tuple[tuple[str, Span], ...]:
    """The two rooms that a wall stands between; none where it says nothing of them, or says it wrongly."""
    if "between" not in row or row.value("between") is None:
        return ()
    said = row.texts("between")
    rooms = [(one.strip(), span) for text, span in said for one in text.split(";") if one.strip()]
    sides_too = [key for key in ("room", "other_face", "faces") if key in row and row.value(key) != 2]
    if len(rooms) != 2 and (said or row.value("between") == []):
        row.sheet.say(
            "job-between", row.span("between"), f"{row.what} is between {len(rooms) or 'no'} room{'s' * (len(rooms) != 1)}; it is between two",
            'Write between = ["Lobby", "Office 2"]; a wall of one room has room = "Lobby" instead.',
        )  # fmt: skip
        return ()
    for key in sides_too:
        row.sheet.say(
            "job-between", row.span(key), f"{row.what} is between two rooms and also has {key}",
            f"Leave {key} out: between says which room each of its two faces is in.",
        )  # fmt: skip
    return tuple(rooms) if rooms and not sides_too else ()


def unknown_room(row: Row, name: str, span: Span, near: str) -> None:
    """Tells that a wall stands between rooms of which one is not described, which may be a slip."""
    row.sheet.say(
        "job-room-unknown", span, f'{row.what} is between rooms of which none is called "{shown(name)}"; its face there is in a room of that name',
        (f"Did you mean {shown(near)}? " if near else "") + "If the room is there, describe it under [[rooms]].", warn=True,
    )  # fmt: skip


def other_rooms(surfaces: Iterable[Surface]) -> dict[int, str]:
    """By the identity of a face of a wall, the room that its other face is in, where that is another one."""
    faces: dict[tuple[str, int], list[Surface]] = {}
    for surface in surfaces:
        if surface.kind == "wall" and surface.faced:
            faces.setdefault((surface.name.removesuffix(OTHER_FACE), surface.copy), []).append(surface)
    pairs = [pair for pair in faces.values() if len(pair) == 2]
    return {id(one): other.room for pair in pairs for one, other in (pair, pair[::-1]) if other.room != one.room}
