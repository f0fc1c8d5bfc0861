"""What one row of a job measures, and what the rows of every shape have in common: sides, counts and marks."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

from attrs import frozen

from darby.job.marks import told as told_mark
from darby.job.model import Corner, Room, Surface
from darby.job.rows.measured_row import Row
from darby.job.where import MOST_ALIKE, TYPE, Systems, systems_of
from darby.quantities.amounts import Amount, Origin
from darby.text.diagnostics import Label
from darby.text.spans import Span

NAME = 'Give it a name that appears once in the job: name = "..."'
"""How to write the name that every shape has."""


@frozen(eq=False)
class Made:
    """What one row measures. A surface is None where it could not be measured; its name may be claimed all the same."""

    names: tuple[tuple[str, int, int], ...]
    """Each name that openings may use, with the first and the last of the surfaces it stands for."""
    surfaces: tuple[Surface | None, ...]
    twins: tuple[Surface | None, ...] = ()
    """The other face of the first surface, where it is finished differently."""
    corners: tuple[Corner, ...] = ()
    between: tuple[tuple[str, Span], ...] = ()
    """The rooms of its two faces, each with its place, where the wall says what it stands between."""
    room: RoomSays | None = None
    """What the row of a room says of all that is in it."""
    count: int = 1
    """How many there are of what the row measures, each with surfaces and corners of its own."""


@frozen(eq=False)
class RoomSays:
    """What the row of a room says of everything in it, by kind of surface."""

    room: Room
    systems: Mapping[str, Systems]
    """Those given to its walls and to its ceiling."""
    marks: Mapping[str, Mapping[str, Any]]
    """What trades are told of its walls and of its ceiling: keywords of `Surface`."""


@frozen
class Shape:
    """What a row may be: its kind, the keys that it may have but for the marks of trades, and what measures it."""

    kind: str
    keys: list[str]
    measure: Callable[[Row, Collection[str]], Made]
    """From a row and the marks that trades let a surface carry."""


def marks_of(row: Row, marks: Collection[str]) -> dict[str, Any]:
    """What trades are told of a surface, and where, and the systems that its row gives it: keywords of `Surface`."""
    kept = {mark: told_mark(row, mark, marks) for mark in marks if mark in row}
    kept = {mark: text for mark, text in kept.items() if text}
    told: dict[str, Any] = {"marks": kept, "mark_places": {mark: row.span(mark) for mark in kept}}
    own = systems_of(row, TYPE)
    return told | ({"systems": (own.marks,), "system_places": own.places} if own.marks else {})


def counted(row: Row, name: str) -> Amount | None:
    """How many there are; one where nothing is said, None where it is wrong."""
    return row.count("count") if "count" in row else few(1, f"{name} count", row)


def alike(row: Row) -> int:
    """How many of what a row measures there are, each with its openings; one where nothing is said, or it is wrong."""
    count = row.count("count", MOST_ALIKE) if "count" in row else None
    return int(count.value) if count is not None else 1


def sides_of(row: Row, first: str, second: str) -> tuple[Amount | None, Amount | None, Amount | None]:
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


def needs(row: Row, *keys: str) -> None:
    """Tells of each length that is missing."""
    for key in keys:
        if key not in row:
            row.missing(key, f'Write {key} = "...", as in "8 ft" or "2.4 m".')


def one_face(name: str, row: Row) -> Amount:
    """One face, of a shape that has no more."""
    return few(1, f"{name} faces", row, "faces", "one face")


def few(number: int, key: str, row: Row, label: str = "count", note: str = "") -> Amount:
    """A number that the shape gives and nobody wrote; its place is that of the row."""
    return Amount.of(number, "each", Origin(key, "", row.span(), note), label)
