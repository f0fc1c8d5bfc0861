"""What one row of a job measures, and what the rows of every shape have in common: sides, counts and marks."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

from attrs import frozen

from darby.job.measured_row import Row
from darby.job.model import Corner, Room, Surface
from darby.job.sheet import shown
from darby.job.where import GIVES, TYPE, Systems, systems_of
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
    kept = {mark: _told(row, mark) for mark in marks if mark in row}
    kept = {mark: text for mark, text in kept.items() if text}
    told: dict[str, Any] = {"marks": kept, "mark_places": {mark: row.span(mark) for mark in kept}}
    own = systems_of(row, TYPE)
    return told | ({"systems": (own.marks,), "system_places": own.places} if own.marks else {})


def marks_by_kind(row: Row, marks: Collection[str]) -> dict[str, dict[str, Any]]:
    """What the row of a room tells trades of its walls and of its ceiling: keywords of `Surface` for each kind.

    A table says it for each (`color = { walls = "Fog", ceiling = "White" }`); a text holds for the kinds that the key reaches.
    """
    found: dict[str, dict[str, Any]] = {kind: {"marks": {}, "mark_places": {}} for kind in GIVES.values()}
    for mark in (mark for mark in marks if mark in row):
        value = row.value(mark)
        if isinstance(value, Mapping):
            inner = Row.of(row.sheet, row.way(mark), value, what=f"{mark} of {row.what}", keys=list(GIVES))
            said = {kind: (_told(inner, key), inner.span(key)) for key, kind in GIVES.items() if key in inner}
        else:
            reached = reaches(marks, mark)
            text = _told(row, mark)
            said = {kind: (text, row.span(mark)) for kind in found if not reached or kind in reached}
        for kind, (text, span) in said.items():
            if text:
                found[kind]["marks"][mark], found[kind]["mark_places"][mark] = text, span
    return found


def reaches(marks: Collection[str], mark: str) -> Collection[str]:
    """The kinds of surface that a key of a room holds for; none where it holds for all."""
    return marks.get(mark, ()) if isinstance(marks, Mapping) else ()


CONDITION = "condition"
"""The key that says whether a surface is new or was there before; a trade may know other words for it."""
_STATES = ("new", "existing")


def _told(row: Row, mark: str) -> str:
    """The text of a mark. A condition is one of two words, or a trade's; a slip of one of the two is none of a trade's."""
    text = row.text(mark, f"Say what it is, or leave {mark} out.")
    if mark != CONDITION or not text:
        return text
    if text.casefold() in _STATES:
        return text.casefold()
    near = row.sheet.nearest(text, _STATES)
    if near and len(text) > _SHORT:
        row.sheet.say(
            "job-condition", row.span(mark), f'condition of {row.what} is "{shown(text)}"', f'Did you mean {near}? Write condition = "{near}".'
        )  # fmt: skip
    return text


_SHORT = 3


def counted(row: Row, name: str) -> Amount | None:
    """How many there are; one where nothing is said, None where it is wrong."""
    return row.count("count") if "count" in row else few(1, f"{name} count", row)


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
