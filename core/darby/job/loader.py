"""The job file: TOML that a person wrote, to a Job; each mistake a diagnostic at its place, all of them in one run."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from typing import Any

from darby.job.listed import PRICE, TYPES, price_of, tell_twice, type_of
from darby.job.marks import CONDITION, Marks
from darby.job.model import Documents, Job, Sending, Setting
from darby.job.openings import OPENING, Draft, Placement
from darby.job.own_tables import OwnTables
from darby.job.rooms import CORNER, ROOM, SOFFIT
from darby.job.rows.declared import value_of
from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import Places, Sheet, shown
from darby.job.rows.toml_table import Table
from darby.job.schedules.causes import by_cause
from darby.job.schedules.csv_schedules import Rows, read_schedule
from darby.job.schedules.taken import Taken
from darby.job.settling import Settling
from darby.job.surfaces import CEILING, COLUMN, DOOR, TRIM, WALL
from darby.quantities.gc_pause import in_bulk
from darby.text.diagnostics import Diagnostic, is_error, problem
from darby.text.spans import Source, Span
from darby.text.toml_places import read_toml
from darby.text.toml_scanner import Path

_DOCUMENTS = "specification addenda house answers".split()
SENDING = {
    "letter": "date number from to reply_by ask asked questions".split(),
    "order": "date number from to deliver_to needed_by contact".split(),
    "scope": "date number from to valid_until excluded".split(),
}
"""What the papers say besides the estimate: the tables of the job file, and their keys."""
LISTS = {"excluded": "scope", "ask": "letter", "asked": "letter", "questions": "letter"}
"""Those of the keys that hold a list, with the table they stand in."""

TABLES = {
    "walls": WALL,
    "ceilings": CEILING,
    "soffits": SOFFIT,
    "columns": COLUMN,
    "rooms": ROOM,
    "corners": CORNER,
    "trim": TRIM,
    "doors": DOOR,
}
"""The tables of what is measured, in the order in which they are read; openings come last, since they lie in these."""
SHAPES = {shape.kind: shape for shape in TABLES.values()}
KINDS = {kind: shape.keys for kind, shape in SHAPES.items()} | {"opening": OPENING}
"""The keys of each kind of row, but for the marks of trades."""
_UNMARKED = {"corner", "opening"}
MARKED = frozenset(key for kind, keys in KINDS.items() if kind not in _UNMARKED for key in keys)
"""The keys that stand in one row with the marks of trades, and are none."""
_FIRST = "name units rules documents plugins walls ceilings openings".split()
_LAST = "types schedules prices checked trades bid settings".split()
TOP = list(dict.fromkeys([*_FIRST, *TABLES, *_LAST, *SENDING]))
"""What may stand in a job file at the top, but for the tables of trades."""

Open = Callable[[str, Span], tuple[Source | None, tuple[Diagnostic, ...]]]
"""Opens a file that the job names, at the place where it does: the source, or None, and what is wrong with it."""


@in_bulk()
def load(
    source: Source, marks: Collection[str] = (), open_file: Open | None = None
) -> tuple[Job | None, tuple[Diagnostic, ...]]:
    """The job that a job file describes, and what is to be said of it; the job is None if there is any error.

    `marks` are the keys that trades let a wall, a ceiling or a room carry (`Trade.marks`); their text is kept as it is. Where they
    come as a mapping, a key of a room holds for the kinds of surface it is mapped to, for all where that is none. As `Marks` they
    bring the tables that trades have of their own.
    `open_file` opens the schedules that the job names; without it none is read, and that is said.

    A room gives four walls (`Office wall 1` to `Office wall 4`: the first and third as long as its length, the others as
    its width), a ceiling (`Office ceiling`) and four inside corners. An opening names a wall or a ceiling, or a room: then
    it lies in the first walls of the room that have space for it.
    """
    data, places, mistakes = read_toml(source)
    said = data.get("units") if data else None
    sheet = Sheet(places, said if isinstance(said, str) and said in ("us", "metric") else "us")
    sheet.found.extend(problem("job-syntax", m.message, m.span, help=m.help) for m in mistakes)
    reader = _Reader(sheet, Marks.of(marks, (CONDITION,)), open_file)
    job = reader.job(data) if data is not None else None
    found = tuple(sorted(by_cause(sheet.found, reader.schedules), key=lambda d: _order(d.span, source)))
    return (None if is_error(found) else job), found


def made_of(data: Mapping[str, Any], places: Places, marks: Collection[str] = ()) -> Job | None:
    """The job of tables that were read before, with their places; None where they make none."""
    sheet = Sheet(places)
    job = _Reader(sheet, Marks.of(marks, (CONDITION,)), None).job(data)
    return None if is_error(sheet.found) else job


def keys_by_kind(marks: Marks) -> dict[str, list[str]]:
    """What may stand in a row of each kind: the keys of its own, and the marks that trades let it carry."""
    found = {kind: KINDS[kind] if kind in _UNMARKED else [*KINDS[kind], *marks] for kind in KINDS}
    for table in marks.tables.values():
        keys = [*table.own, *(key.name for key in table.keys)]
        found[table.kind] = [*keys, *(mark for mark in marks if mark not in keys)] if table.shape else keys
    return found


def kept_beside(schedules: Iterable[Source]) -> Open | None:
    """Opens the schedules of a job by name from among these; nothing where there are none."""
    by_name = {source.name: source for source in schedules}

    def opened(name: str, span: Span) -> tuple[Source | None, tuple[Diagnostic, ...]]:
        source = by_name.get(name)
        told = () if source else (problem("file-missing", f"{shown(name)} was not kept with the estimate.", span),)
        return source, told

    return opened if by_name else None


def _order(span: Span | None, main: Source) -> tuple[bool, str, int]:
    """The job file first, then its schedules, each from top to bottom."""
    if span is None or span.source is main:
        return (False, "", span.start if span else 0)
    return (True, span.source.name, span.start)


class _Reader:
    """Reads the tables of one job file, and the rows of its schedules."""

    def __init__(self, sheet: Sheet, marks: Marks, open_file: Open | None) -> None:
        self.sheet = sheet
        self.marks = marks
        self.tables = {table.kind: table for table in marks.tables.values()}
        self.open_file = open_file
        self.settling = Settling(sheet)
        self.drafts: list[Draft] = []
        self.placement = Placement(sheet)
        self.schedules: list[Source] = []
        self.taken: list[Taken] = []
        self.own = OwnTables(marks, self.settling, self.placement)
        self.keys = keys_by_kind(marks)

    def job(self, data: Mapping[str, Any]) -> Job:
        top = Table.of(self.sheet, (), data, what="the job file", keys=[*TOP, *self.marks.tables, *self.marks.aside])
        name = top.text("name", 'Begin the file with name = "...", the name of the job.')
        units = self._units(top)
        documents = self._inner(top, "documents", _DOCUMENTS)
        plugins = self._inner(top, "plugins", ["files"])
        for table, shape in TABLES.items():
            for path, data_of_row in top.tables(table):
                self._measure(self._row(path, data_of_row, shape.kind), shape.kind)
        for own in self.tables.values():
            for path, data_of_row in top.tables(own.name):
                self._measure(self._row(path, data_of_row, own.kind), own.kind)
        openings = [self._row(path, one, "opening") for path, one in top.tables("openings")]
        for schedule in self._schedules(top):
            for kind, row in schedule:
                if kind == "opening":
                    openings.append(row)
                else:
                    self._measure(row, kind)
        self.sheet.found.extend(d for one in self.taken for d in one.told())
        types = [t for path, one in top.tables("types") if (t := type_of(self._row(path, one, "type", TYPES)))]
        tell_twice(self.sheet, types)
        self.settling.settle()
        self.own.claim_rooms()
        for number, row in enumerate(openings, 1):
            self.placement.place(row, number)
        prices = [price_of(self._row(path, one, "price", PRICE)) for path, one in top.tables("prices")]
        if not is_error(self.sheet.found):
            self._doubts(top)
        surfaces = [s for draft in self.drafts for s in draft.finished()]
        main = self.sheet.places.source
        return Job(
            name=name,
            units=units,
            surfaces=tuple(sorted(surfaces, key=lambda s: _order(s.span, main))),
            corners=tuple(sorted(self.settling.corners(), key=lambda c: _order(c.span, main))),
            rules=top.texts("rules"),
            documents=Documents(**{key: documents.texts(key) for key in _DOCUMENTS}) if documents else Documents(),
            source=main,
            plugin_files=plugins.texts("files") if plugins else (),
            prices=tuple(p for p in prices if p is not None),
            schedules=tuple(self.schedules),
            rooms=tuple(sorted(self.settling.rooms, key=lambda r: _order(r.span, main))),
            types=tuple(types),
            checked=top.texts("checked"),
            doubts=tuple(d for one in self.taken for d in one.doubts()),
            trades=top.texts("trades") if "trades" in top else None,
            take=self._taken(top),
            sending=self._sending(top),
            settings=tuple(self._settings(top)),
            own=tuple(sorted(self.own.entries(), key=lambda e: _order(e.span, main))),
        )

    def _taken(self, top: Table) -> tuple[tuple[str, Span], ...]:
        """What the terms of the bid take of alternates; the rest of them is for the bid to read."""
        terms = top.table("bid")
        return () if terms is None else Table(self.sheet, top.way("bid"), terms, "[bid]").texts("take")

    def _sending(self, top: Table) -> Sending:
        """What the papers say besides the estimate; keys are told as words."""
        tables = {name: self._inner(top, name, keys) for name, keys in SENDING.items()}
        said = {
            name: {
                key.replace("_", " "): text for key in SENDING[name] if key not in LISTS and (text := table.text(key))
            }
            for name, table in tables.items()
            if table is not None
        }
        some = [tuple(s for s, _ in t.texts(key) if s.strip()) if (t := tables[n]) else () for key, n in LISTS.items()]
        return Sending(**said, excluded=some[0], ask=some[1], asked=some[2], questions=some[3])

    def _settings(self, top: Table) -> Iterator[Setting]:
        """What it says of how trades work: for each trade a table with the keys that this one declares."""
        known = self.marks.settings
        outer = self._inner(top, "settings", [*known, *self.marks.aside])
        for trade in known if outer is not None else ():
            if outer is not None and (said := outer.table(trade)) is not None:
                keys = [key.name for key in known[trade]]
                row = Row.of(self.sheet, outer.way(trade), said, what=f"[settings.{trade}]", keys=keys)
                for key in known[trade]:
                    if (value := value_of(row, key)) is not None:
                        yield trade, key.name, value, row.span(key.name)

    def _measure(self, row: Row, kind: str) -> None:
        """One row of what is measured: its surfaces, corners and names."""
        if kind in self.tables:
            self.own.measure(row, self.tables[kind])
            return
        made = SHAPES[kind].measure(row, self.marks)
        twins = (*made.twins, *(None for _ in made.surfaces[len(made.twins) :]))
        drafts = [Draft(surface, twin) for surface, twin in zip(made.surfaces, twins, strict=True)]
        self.drafts.extend(drafts)
        self.settling.add(drafts, made, row)
        free = True  # where the name of a room is taken, those of its walls are too, and that is told once
        for name, first, last in made.names:
            free = self.placement.claim(name, row, *drafts[first : last + 1], quiet=not free) and free
        if kind == "room":
            self.own.of_room(row, made)

    def _schedules(self, top: Table) -> list[Rows]:
        found = []
        for name, span in top.texts("schedules"):
            if self.open_file is None:
                self.sheet.say(
                    "job-schedule-unopened", span, f"the schedule {shown(name)} was not opened",
                    "Here the job is read without the files beside it; put its rows into the job file itself.",
                )  # fmt: skip
                continue
            source, told = self.open_file(name, span)
            self.sheet.found.extend(told)
            if source is not None:
                self.schedules.append(source)
                found.append(read_schedule(source, self.sheet, self.keys, self.keys.__getitem__, self.taken))
        return found

    def _doubts(self, top: Table) -> None:
        """What is said of a job without mistakes."""
        if "units" not in top:
            self.sheet.say(
                "job-units-assumed",
                top.span("name"),
                "the job does not say its units; us is used",
                'Write units = "us" or units = "metric" below the name. Lengths may be in either, whatever it says.',
                warn=True,
            )
        if not self.drafts and not self.own.any and not any(self.settling.corners()) and "schedules" not in top:
            self.sheet.say(
                "job-nothing-measured",
                top.span(),
                "nothing is measured in this job, so there is nothing to order",
                "Give its walls, ceilings or rooms: [[walls]], [[ceilings]], [[rooms]].",
                warn=True,
            )

    def _units(self, top: Table) -> str:
        units = top.text("units")
        if units and units not in ("us", "metric"):
            near = {"imperial": "us", "feet": "us", "usa": "us", "si": "metric", "m": "metric", "metres": "metric"}.get(
                units.casefold()
            ) or self.sheet.nearest(units, ["us", "metric"])
            self.sheet.say(
                "job-units",
                top.span("units"),
                f'units is "{shown(units)}"; it is us or metric',
                (f"Did you mean {near}? " if near else "") + 'Write units = "us" or units = "metric".',
            )
            return "us"
        return units or "us"

    def _inner(self, top: Table, key: str, keys: list[str]) -> Table | None:
        table = top.table(key)
        return None if table is None else Table.of(self.sheet, top.way(key), table, what=f"[{key}]", keys=keys)

    def _row(self, path: Path, table: Mapping[str, Any], kind: str, keys: list[str] | None = None) -> Row:
        name = table.get("name")
        if isinstance(name, str) and name.strip():
            what = f'{kind} "{shown(name)}"'
        else:
            what = f"{kind} {path[-1] + 1}" if isinstance(path[-1], int) else f"this {kind}"
        return Row.of(self.sheet, path, table, what=what, keys=keys or self.keys[kind])
