"""The measured rows of a job as they stand in its file and its schedules, to be told apart and put together anew."""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Hashable, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any

from attrs import evolve, field, frozen

from darby.job.loader import KINDS, TABLES, made_of
from darby.job.marks import CONDITION, Marks
from darby.job.model import Job
from darby.job.openings import folded
from darby.job.rows.sheet import Places, Sheet
from darby.job.schedules.csv_schedules import columns_of, read_schedule
from darby.quantities.amounts import Amount
from darby.quantities.units import UnitError
from darby.saved.alignment import Slot, aligned
from darby.text.spans import Source, Span
from darby.text.toml_places import Places as TomlPlaces
from darby.text.toml_places import read_toml
from darby.text.toml_scanner import Path, Place

_ELSEWHERE = frozenset({"name", "units", "rules", "documents", "plugins", "schedules"})
"""Keys of the file that hold no measured row: the estimator's own lines are rules, documents are texts of their own."""

_TABLE_OF = {shape.kind: table for table, shape in TABLES.items()} | {"opening": "openings"}
_NAMES = frozenset({"name", "wall", "room"})
"""Keys whose values are names of things in the job."""

_MEASURED = frozenset("length width height area perimeter end_height peak rise drop depth reveal".split())


@frozen
class Row:
    """One table of the job file, or one row of a schedule, which is the same as if it stood in the job file."""

    table: str
    name: str
    data: tuple[tuple[str, Any], ...]
    """Its keys and values in the order of the file."""
    source: Source
    path: Path
    """The way there, since the place itself is dear and seldom wanted."""
    grid: Places | None = field(default=None, eq=False, repr=False)
    """The places of its schedule, where it stands in one."""

    @property
    def span(self) -> Span:
        """Where it is named, or begins."""
        return self.places.at((*self.path, "name")).value

    @property
    def places(self) -> Places:
        """The places of the file it stands in."""
        return self.grid or _places(self.source)

    @property
    def what(self) -> str:
        """How one would call it: `wall "north"`, `2 inside corners`."""
        return f'{_kind(self)} "{self.name}"' if self.name else _kind(self)


def rows_of(job: Source, schedules: Iterable[Source] = ()) -> tuple[Row, ...]:
    """The rows of a job file that holds no mistakes, and of its schedules, in the order in which they stand there."""
    rows = [_row(table, data, job, (table, number)) for table, number, data in _tables(job)]
    return (*rows, *(row for source in schedules for row in _of_schedule(source)))


class _Kinds(dict[str, list[str]]):
    """The kinds of row, and any other word: a schedule that was read without a mistake has rows of tables that trades brought."""

    def __contains__(self, kind: object) -> bool:
        return super().__contains__(kind) or (isinstance(kind, str) and kind == _one(kind) and not self.get(kind + "s"))


def _of_schedule(source: Source) -> Iterator[Row]:
    """Its rows by whatever columns it has: which of them have a use was told when it was first read."""
    columns = columns_of(source, [key for keys in KINDS.values() for key in keys])
    for kind, row in read_schedule(source, Sheet(TomlPlaces(source)), _Kinds(KINDS), lambda _: columns):
        yield _row(_TABLE_OF.get(kind, kind), row.data, source, row.path, row.sheet.places)


def _one(what: str) -> str:
    """What many of something are called, of one; as schedules are read."""
    return what.rstrip("s")


def _tables(job: Source) -> Iterator[tuple[str, int, Mapping[str, Any]]]:
    try:
        data = tomllib.loads(job.text)
    except (tomllib.TOMLDecodeError, RecursionError):
        data = {}
    for table, tables in data.items():
        if table not in _ELSEWHERE and isinstance(tables, list):
            yield from ((table, number, row) for number, row in enumerate(tables) if isinstance(row, dict))


def _row(table: str, data: Mapping[str, Any], source: Source, path: Path, grid: Places | None = None) -> Row:
    name = str(data.get("name") or data.get("kind") or data.get("product") or "")
    return Row(table, name, tuple(data.items()), source, path, grid)


@lru_cache(4)
def _places(source: Source) -> TomlPlaces:
    return read_toml(source)[1]


def held(before: Iterable[Row], after: Iterable[Row]) -> tuple[Slot[Row], ...]:
    """The rows of two jobs side by side, and the changes among them. Where a row stands makes no change of it.

    A row is found again by all that it means; else by its name and where it is; else by all that it means but for names, so
    that what was renamed is one change and not two; else by its name alone, even in another table.
    """
    return aligned(before, after, (_meant, _called, _unnamed, _named), lambda a, b: not differing(a, b))


def _meant(row: Row) -> Hashable:
    return (row.table, frozenset((key, _meaning(key, value)) for key, value in row.data))


def _called(row: Row) -> Hashable:
    data = dict(row.data)
    return (row.table, folded(row.name), folded(str(data.get("wall", data.get("room", "")) or "")))


def _unnamed(row: Row) -> Hashable:
    return (row.table, frozenset((key, _meaning(key, value)) for key, value in row.data if key not in _NAMES))


def _named(row: Row) -> Hashable:
    """Openings and corners may share a name; what is measured has one in the whole job, whatever it is."""
    table = row.table if row.table in ("openings", "corners", "prices") else ""
    return (table, folded(row.name)) if row.name else None


@frozen(eq=False)
class Mixture:
    """Rows of any number of files as the tables of one job, each with its place where it stands."""

    source: Source
    """The job file they are taken to be of."""
    tables: Mapping[str, Sequence[Row]]

    @classmethod
    def of(cls, source: Source, rows: Iterable[Row]) -> Mixture:
        """These rows, in this order."""
        tables: dict[str, list[Row]] = {}
        for row in rows:
            tables.setdefault(row.table, []).append(row)
        return cls(source, tables)

    def job(self, name: str, marks: Collection[str]) -> Job | None:
        """The job of these rows; None where they make none, as an opening in a wall that is not there."""
        own = marks.tables if isinstance(marks, Marks) else {}
        of_kind = {_one(table.kind): table for table in own.values()}
        if any(kind in self.tables for kind in of_kind):  # rows of a schedule, which calls them by their kind
            rows = [evolve(r, table=of_kind[r.table].name) if r.table in of_kind else r for r in self._rows()]
            return Mixture.of(self.source, rows).job(name, marks)
        keys = {table.name: {*table.own, *(key.name for key in table.keys)} for table in own.values()}
        data = {table: [_used(row, marks, keys.get(table)) for row in rows] for table, rows in self.tables.items()}
        return made_of({"name": name, **data}, self, marks)

    def _rows(self) -> Iterator[Row]:
        return (row for rows in self.tables.values() for row in rows)

    def at(self, path: Path) -> Place:
        """The place of a key and its value in the file that the row stands in."""
        if len(path) < 2:
            top = self.source.span(0, 0)
            return Place(top, top)
        row = self.tables[str(path[0])][int(path[1])]
        return row.places.at((*row.path, *path[2:]))

    def is_broken(self, _path: Path) -> bool:
        """Only rows that hold no mistake are mixed."""
        return False


def _used(row: Row, marks: Collection[str], own: Collection[str] | None) -> dict[str, Any]:
    """The keys and values of a row; of one in a schedule those that have a use, with `own` in a table that a trade brought."""
    if row.grid is None:
        return dict(row.data)
    keys = own if own is not None else next((KINDS[k] for k, table in _TABLE_OF.items() if table == row.table), ())
    return {key: value for key, value in row.data if key in keys or key in marks or key == CONDITION}


def differing(before: Row, after: Row) -> dict[str, tuple[Any, Any]]:
    """The keys whose values differ, with both values; None where there is none. One measure spelled in two ways is the same."""
    one, other = dict(before.data), dict(after.data)
    pairs = {key: (one.get(key), other.get(key)) for key in dict.fromkeys((*one, *other))}
    found = {key: (a, b) for key, (a, b) in pairs.items() if a != b and _meaning(key, a) != _meaning(key, b)}
    return found if before.table == after.table else {"what": (_kind(before), _kind(after)), **found}


def _kind(row: Row) -> str:
    return row.table.removesuffix("s")


def _fixed(value: Any) -> Hashable:
    """A value that can be looked up."""
    if isinstance(value, Mapping):
        return frozenset((key, _fixed(one)) for key, one in value.items())
    return tuple(map(_fixed, value)) if isinstance(value, list) else (type(value), value)


def _meaning(key: str, value: Any) -> Hashable:
    """A value however it is spelled. A measure keeps its unit, since in two units it may be counted on otherwise."""
    measure = _measure(value) if key in _MEASURED and isinstance(value, str) else None
    return measure or _fixed(value)


@lru_cache(4096)
def _measure(text: str) -> tuple[Hashable, str] | None:
    try:
        amount = Amount.read(text)
    except UnitError:
        return None
    return amount.value, amount.unit.name
