"""What may be counted twice, or too seldom: rooms under two names, surfaces beside those of their room, rooms that stand for several."""

from __future__ import annotations

import re
from collections.abc import Iterator

from attrs import define, field

from darby.job.checks.check import Check, check, counted, several
from darby.job.model import Job, Room, Surface
from darby.job.openings import folded
from darby.rules.name_matching import stems
from darby.text.diagnostics import Label
from darby.text.spans import Span

_TAIL = re.compile(r"\W*[0-9]{1,5}[a-z]?\W*$", re.IGNORECASE)


@define(eq=False)
class _Given:
    """What the row of one room gives."""

    room: Room
    surfaces: list[Surface] = field(factory=list)

    @property
    def sides(self) -> frozenset[object]:
        """The lengths of its walls."""
        return frozenset(s.length for s in self.surfaces if s.kind == "wall" and s.length is not None)


def counted_twice(job: Job) -> Iterator[Check]:
    """Rooms and surfaces that seem to be in the job twice."""
    given = _given(job)
    yield from _same_room(given)
    yield from _same_surface(job, given)


def _given(job: Job) -> dict[str, _Given]:
    """The rooms whose own row measures something, by name, each with what it gives once."""
    found = {room.name: _Given(room) for room in job.rooms}
    for surface in job.surfaces:
        one = found.get(surface.room)
        if one is not None and one.room.span == surface.span:
            one.surfaces.append(surface)
    return {name: one for name, one in found.items() if one.surfaces}


def _same_room(given: dict[str, _Given]) -> Iterator[Check]:
    """Two rows that measure a room of one name or number, and copies beside a row that stands for them."""
    known: dict[tuple[str, ...], _Given] = {}
    for one in given.values():
        called = one.room.called
        for name in dict.fromkeys(
            (called.name, called.number, f"{called.name} {called.number}" if called.number else "")
        ):
            key = tuple(sorted(stems(name)))
            other = known.setdefault(key, one) if key else one
            if other is not one and not _apart(one.room, other.room):
                yield _twice(one.room, other.room, f"both go by “{name}”")
                break
    several_of = {folded(one.room.name): one for one in given.values() if one.room.count > 1}
    for one in given.values():
        many = several_of.get(folded(_TAIL.sub("", one.room.name)))
        if many is not None and many is not one and many.sides == one.sides:
            yield _twice(
                one.room, many.room, f"{many.room.name} stands for {many.room.count} rooms of that size already"
            )


def _apart(one: Room, other: Room) -> bool:
    """Whether two rooms lie in different places, so that they may well be called alike."""
    a, b = one.called, other.called
    return bool(a.floor and b.floor and a.floor != b.floor) or bool(a.phase and b.phase and a.phase != b.phase)


def _twice(one: Room, other: Room, why: str) -> Check:
    return check(
        "measure-twice", (one.name, other.name), f"{one.name} and {other.name} may be one room counted twice: {why}",
        one.span, "If they are one, take a row out. If they are two, give each its own number or floor.", [Label(other.span, "the other")],
    )  # fmt: skip


def _same_surface(job: Job, given: dict[str, _Given]) -> Iterator[Check]:
    """Ceilings and walls given by rows of their own in rooms whose row gives them already."""
    found: dict[tuple[str, str], list[Surface]] = {}
    for surface in job.surfaces:
        one = given.get(surface.room)
        if one is None or one.room.span == surface.span or surface.part:
            continue
        if surface.kind == "ceiling" and any(s.kind == "ceiling" for s in one.surfaces):
            found.setdefault(("ceiling", surface.room), []).append(surface)
        elif surface.kind == "wall" and surface.length is not None and surface.length in one.sides:
            found.setdefault(("wall", surface.room), []).append(surface)
    told: set[Span] = set()
    for (kind, room), surfaces in found.items():
        fresh = [s for s in surfaces if s.span not in told]
        told.update(s.span for s in fresh)
        if not fresh:
            continue
        names = ", ".join(dict.fromkeys(s.name for s in fresh[:3])) + (
            f" and {len(fresh) - 3:,} more" if len(fresh) > 3 else ""
        )
        why = "gives its own ceiling" if kind == "ceiling" else "gives a wall of that length"
        yield check(
            "measure-twice", (*(s.name for s in fresh), room), f"{names} may be counted twice: the row of {room} {why} already",
            fresh[0].span,
            "Write ceiling = false in the row of the room, or take the other out." if kind == "ceiling" else
            "If it is one of the four walls of the room, take it out; a partition inside the room stays.",
            [Label(given[room].room.span, "the room"), *several(s.span for s in fresh[1:])],
        )  # fmt: skip


def counted_once(job: Job) -> Iterator[Check]:
    """Surfaces with rows of their own in rooms that stand for several: these are counted once, however many the rooms."""
    many = {room.name: room for room in job.rooms if room.count > 1}
    found: dict[str, list[Surface]] = {}
    counted_rows = {surface.span for surface in job.surfaces if surface.copy > 1}
    for surface in job.surfaces:
        room = many.get(surface.room)
        if (
            room is not None
            and room.span != surface.span
            and surface.kind in ("wall", "ceiling")
            and surface.part != "column"
        ):
            found.setdefault(surface.room, []).append(surface)
    for name, surfaces in found.items():
        rows = {s.span: s for s in surfaces if s.span not in counted_rows}
        if not rows:
            continue
        first = next(iter(rows.values()))
        others = f" and {counted(len(rows) - 1, 'other row')}" if len(rows) > 1 else ""
        yield check(
            "measure-count", (*(s.name for s in surfaces), name),
            f"{first.name}{others} in {name} {'are' if others else 'is'} counted once, and {name} stands for {many[name].count:,} rooms",
            first.span, f"If each of them has it, write count = {many[name].count} there too, or give {name} as many rows as there are.",
            [Label(many[name].span, f"{many[name].count:,} rooms"), *several(list(rows)[1:])],
        )  # fmt: skip
