"""The tables of the job file that trades bring: rows of their own, beside what every trade is shown, as entries."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from attrs import define, evolve, field

from darby.job.marks import Marks
from darby.job.model import Entry, Surface
from darby.job.openings import Draft, Placement, folded
from darby.job.rows.declared import JobTable, Value, value_of
from darby.job.rows.measured_row import Row
from darby.job.settling import Settling
from darby.job.shape import NAME, Made, marks_of, one_face, sides_of
from darby.job.where import measures
from darby.quantities.amounts import Amount
from darby.text.spans import Span


@define(eq=False)
class OwnTables:
    """The rows of such tables on their way; once everything is settled, `entries` has them."""

    marks: Marks
    settling: Settling
    placement: Placement
    _rows: list[tuple[JobTable, Row, Draft | None, dict[str, Value]]] = field(factory=list, init=False)
    _of_rooms: list[tuple[JobTable, Row, Draft]] = field(factory=list, init=False)

    @property
    def any(self) -> bool:
        """Whether there is any row."""
        return bool(self._rows)

    def measure(self, row: Row, table: JobTable) -> None:
        """One row of a table."""
        name, room = row.text("name", NAME), row.text("room")
        values = {key.name: value for key in table.keys if (value := value_of(row, key)) is not None}
        if not table.shape:
            self._rows.append((table, row, None, values))
            self.placement.claim(name, row)
            return
        area, length, other = sides_of(row, "length", "width" if table.shape == "flat" else "height")
        draft = Draft(None)
        if area is not None:
            kept = marks_of(row, self._others(table))
            surface = Surface(
                name, table.kind, area, one_face(name, row), row.span("name"), room, length, other, **kept
            )
            draft.surface = _telling(surface, values)
        self._rows.append((table, row, draft, values))
        self.settling.add([draft], Made(((name, 0, 0),), (draft.surface,)), row)
        self.placement.claim(name, row, draft)

    def of_room(self, row: Row, made: Made) -> None:
        """What the row of a room has of each table that has one of each room."""
        says = made.room
        if says is None or not measures(row) or None in made.surfaces:
            return
        for table in (one for one in self.marks.tables.values() if one.of_rooms):
            area, length, width = _on_plan(row)
            if area is None:
                continue
            name = f"{says.room.name} {table.kind}"
            surface = Surface(
                name, table.kind, area, one_face(name, row), row.span("name"), says.room.name, length, width
            )
            draft = Draft(evolve(surface, **self._reaching(row, table.kind)), copies=says.room.count)
            self._of_rooms.append((table, row, draft))

    def entries(self) -> Iterator[Entry]:
        """All entries, of rooms last: those of which no row of the table itself names the room."""
        listed = {(table.name, folded(self._room(row, draft))) for table, row, draft, _ in self._rows}
        for table, row, draft, values in self._rows:
            room = self._room(row, draft)
            spans = {name: row.span(name) for name in values}
            for surface in draft.finished() if draft is not None else [None]:
                name = surface.name if surface is not None else row.text("name")
                yield Entry(table.name, name, row.span("name"), room, surface, values, spans)
        for table, row, draft in self._of_rooms:
            for surface in draft.finished():
                if (table.name, folded(surface.room)) not in listed:
                    yield Entry(table.name, surface.name, row.span("name"), surface.room, surface)

    def claim_rooms(self) -> None:
        """Names for openings in what rooms have, once every row has taken its own."""
        listed = {(table.name, folded(self._room(row, draft))) for table, row, draft, _ in self._rows}
        for table, row, draft in self._of_rooms:
            if draft.surface is not None and (table.name, folded(draft.surface.room)) not in listed:
                self.placement.claim(draft.surface.name, row, draft)

    def _others(self, table: JobTable) -> Marks:
        """The keys of trades that a table has no meaning of its own for."""
        own = {*table.own, *(key.name for key in table.keys)}
        return Marks({mark: kinds for mark, kinds in self.marks.items() if mark not in own}, self.marks.words)

    def _room(self, row: Row, draft: Draft | None) -> str:
        """The room of a row by its name; nothing where it has none."""
        if draft is not None and draft.surface is not None:
            return draft.surface.room
        said = row.value("room")
        return self.settling.named(said.strip()) if isinstance(said, str) else ""

    def _reaching(self, row: Row, kind: str) -> dict[str, Any]:
        """The keys of a room that reach surfaces of a kind, which have to name it."""
        kept = {
            m: said.strip()
            for m, kinds in self.marks.items()
            if kind in kinds and isinstance(said := row.value(m), str)
        }
        kept = {mark: text for mark, text in kept.items() if text}
        return {"marks": dict(kept), "mark_places": {mark: row.span(mark) for mark in kept}}


def said(entry: Entry) -> Iterator[tuple[str, str, Amount | None, Span]]:
    """What stands under the keys of an entry: each key, the words or the measure, and where it stands."""
    for key, value in entry.values.items():
        words = value if isinstance(value, str) else ("yes" if value else "no") if isinstance(value, bool) else ""
        yield key, words, value if isinstance(value, Amount) else None, entry.value_places.get(key, entry.span)


def _telling(surface: Surface, values: dict[str, Value]) -> Surface:
    """The surface with its words among its marks, so that what differs by them is not put together."""
    words = {name: value for name, value in values.items() if isinstance(value, str)}
    return evolve(surface, marks={**surface.marks, **words}) if words else surface


def _on_plan(row: Row) -> tuple[Amount | None, Amount | None, Amount | None]:
    """Area, length and width of a room on plan; None where it does not say."""
    if "length" in row and "width" in row:
        length, width = row.length("length"), row.length("width")
        return (length * width if length is not None and width is not None else None), length, width
    return (row.area("area") if "area" in row else None), None, None
