"""What rooms say of everything in them, brought to their surfaces once every row is read: names, systems, and the faces of partitions."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from attrs import define, evolve, field

from darby.job.marks import CONDITION
from darby.job.model import Corner, Room, Surface
from darby.job.openings import Draft, folded
from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import Sheet
from darby.job.shape import Made, RoomSays
from darby.job.where import NONE, measures, unknown_room

_STRAYED = ("job-between", "job-room-unknown")


@define(eq=False)
class Settling:
    """The rooms that rows describe, and what was measured, on its way into them."""

    sheet: Sheet
    _described: dict[str, tuple[RoomSays, Row]] = field(factory=dict, init=False)
    """By folded name."""
    _numbers: dict[str, list[RoomSays]] = field(factory=dict, init=False)
    _made: list[tuple[list[Draft], Made, Row]] = field(factory=list, init=False)

    def add(self, drafts: list[Draft], made: Made, row: Row) -> None:
        """One row, with the drafts of its surfaces."""
        self._made.append((drafts, made, row))
        for draft in drafts:
            draft.copies = made.count
        says = made.room
        if says is None or not says.room.name:
            return
        self._described.setdefault(folded(says.room.name), (says, row))
        if number := folded(says.room.called.number):
            self._numbers.setdefault(number, []).append(says)
        for other in says.room.called.also:
            self._numbers.setdefault(folded(other), []).append(says)
        for draft in drafts:
            draft.copies = says.room.count

    @property
    def rooms(self) -> Iterator[Room]:
        """The rooms that were described, in order."""
        return (says.room for says, _ in self._described.values())

    def settle(self) -> None:
        """Give each face what its room says, and tell what cannot be."""
        for drafts, made, _ in self._made:
            for draft in drafts:
                draft.surface = self._faced(draft.surface, made)
                draft.twin = self._faced(draft.twin, made)
        self._tell_strangers()
        self._tell_empty()

    def corners(self) -> Iterator[Corner]:
        """All corners, those of a room that stands for several once for each."""
        for _, made, _row in self._made:
            for _ in range(made.room.room.count if made.room else made.count):
                yield from (evolve(c, room=self.named(c.room)) for c in made.corners)

    def _says(self, room: str) -> RoomSays | None:
        """What is said of a room by its name, or by a number or another name that is its alone."""
        key = folded(room)
        numbered = self._numbers.get(key, [])
        return self._described[key][0] if key in self._described else numbered[0] if len(numbered) == 1 else None

    def named(self, room: str) -> str:
        """A room by its name, where it is called by a number or another name that is its alone."""
        says = self._says(room) if room else None
        return says.room.name if says else room

    def _faced(self, surface: Surface | None, made: Made) -> Surface | None:
        """A surface with the room it is in by its name, and what the row of that room says of such surfaces."""
        says = self._says(surface.room) if surface is not None and surface.room else None
        if surface is None or says is None:
            return surface
        given = says.systems.get(surface.kind, NONE)
        changes: dict[str, Any] = {} if surface.room == says.room.name else {"room": says.room.name}
        if given.marks:
            changes["systems"] = (*surface.systems, given.marks)
            changes["system_places"] = {**given.places, **surface.system_places}
        if made.between and (told := says.marks.get(surface.kind)):
            # a new partition may stand in an old room: only what finishes the face comes from there
            marks = {key: text for key, text in told["marks"].items() if key != CONDITION} | dict(surface.marks)
            places = {key: told["mark_places"][key] for key in marks if key in told["mark_places"]}
            changes |= {"marks": marks, "mark_places": places | dict(surface.mark_places)}
        return evolve(surface, **changes) if changes else surface

    def _tell_strangers(self) -> None:
        """Walls that stand between rooms which nothing else in a job that describes rooms speaks of."""
        known = {folded(room.name): room.name for room in self.rooms}
        if not known:
            return  # a list of walls alone: each names the rooms, and none of them is a stranger
        for drafts, made, _ in self._made:
            if not made.between:
                known |= {folded(d.surface.room): d.surface.room for d in drafts if d.surface and d.surface.room}
        for _, made, row in self._made:
            for room, span in made.between:
                if folded(room) not in known and self._says(room) is None:
                    near = self.sheet.nearest(room, list(known.values()))
                    unknown_room(row, room, span, near)

    def _tell_empty(self) -> None:
        """Rooms of which nothing is measured, in their own row or elsewhere."""
        if any(d.code in _STRAYED for d in self.sheet.found):
            return  # walls of such a room may be those that were told
        used = {folded(s.room) for drafts, _, _ in self._made for d in drafts for s in (d.surface, d.twin) if s}
        used |= {folded(self.named(c.room)) for _, made, _ in self._made for c in made.corners}
        used |= {folded(self.named(room)) for _, made, _ in self._made for room, _ in made.between}
        for says, row in self._described.values():
            if not measures(row) and folded(says.room.name) not in used:
                row.missing(
                    "length, width and height",
                    'Write them, as in length = "12 ft"; or list its walls one by one, each with '
                    f'room = "{says.room.name}".',
                )
