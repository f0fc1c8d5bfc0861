"""Schedules: tables of what is measured, one row a room or a wall, as a spreadsheet saves them (CSV). Places are kept.

The first line names the columns as the job file names its keys. A column `what` may say what a row is (room, wall,
ceiling, opening ...); without it the filled cells tell. Fields are parted by the comma, semicolon or tab that the first line uses most.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from attrs import field, frozen

from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import Sheet, shown
from darby.text.spans import Source
from darby.text.toml_scanner import Path, Place

Rows = Iterator[tuple[str, Row]]
"""What a row is, and the row."""

_COUNTS = frozenset({"faces", "count", "sides", "ends", "outside_corners"})
_FLAGS = {"true": True, "yes": True, "x": True, "false": False, "no": False}
_SAID_BY = (
    # what a row is, by the cells that are filled
    ("opening", {"wall", "width", "height"}),
    ("room", {"length", "width", "height"}),
    ("room", {"perimeter", "height"}),
    ("wall", {"length", "height"}),
    ("ceiling", {"length", "width"}),
)
_MOST = 1_000_000


@frozen(eq=False)
class Grid:
    """The places of one schedule: `(row, column name)` is a cell, `(row,)` its line. Cells are found when they are asked for."""

    source: Source
    parting: str
    columns: Mapping[str, int]
    starts: list[int] = field(factory=list, repr=False)
    """Offset of the line of each row."""
    _last: list[tuple[int, list[tuple[int, int]]]] = field(factory=list, repr=False)
    """The line last asked about, and its cells: a row's cells are asked for one after the other."""

    def at(self, path: Path) -> Place:
        """The place of a cell; of its line where the row has no such column."""
        start = self.starts[int(path[0])] if path else 0
        end = _line_end(self.source.text, start)
        name = str(path[1]) if len(path) > 1 else ""
        if name in self.columns:
            if not self._last or self._last[0][0] != start:
                self._last[:] = [(start, list(_cells(self.source.text, start, end, self.parting)))]
            cells = self._last[0][1]
            if self.columns[name] < len(cells):
                span = self.source.span(*cells[self.columns[name]])
                return Place(span, span)
        line = self.source.span(start, end)
        return Place(line, line)

    def is_broken(self, _path: Path) -> bool:
        """Nothing in a schedule is told before its rows are."""
        return False


def read_schedule(
    source: Source, sheet: Sheet, kinds: Mapping[str, list[str]], keys_of: Callable[[str], list[str]]
) -> Rows:
    """The rows of a schedule, one at a time; mistakes go to `sheet`. `keys_of` gives what may stand in a row of a kind."""
    text = source.text
    head = _head(text)
    if head is None:
        sheet.say("job-schedule", source.span(0, 0), f"{source.name} has no line", "The first line names its columns.")
        return
    at, end, parting = head
    known = list(dict.fromkeys(["what", *(key for kind in kinds for key in keys_of(kind))]))
    columns = _columns(source, at, end, parting, sheet, known)
    grid = Grid(source, parting, columns)
    own = Sheet(grid, sheet.units, sheet.found)
    start = _next_line(text, end)
    while start is not None and len(grid.starts) < _MOST:
        end = _line_end(text, start)
        number = len(grid.starts)
        grid.starts.append(start)
        cells = [_unquoted(text[a:b]) for a, b in _cells(text, start, end, parting)]
        data = {key: _value(key, cells[n]) for key, n in columns.items() if n < len(cells) and cells[n]}
        start = _next_line(text, end)
        if not data:
            continue
        if len(cells) > len(columns) and any(cells[max(columns.values(), default=0) + 1 :]):
            own.say(
                "job-schedule", grid.at((number,)).value, f"a row has more cells than {source.name} has columns",
                "Put a text that holds the parting sign in double quotes.",
            )  # fmt: skip
        what = _what(data, own, (number,), kinds)
        if what:
            data.pop("what", None)
            name = data.get("name")
            called = f'{what} "{shown(name)}"' if isinstance(name, str) else f"{what} in row {number + 1}"
            yield what, Row.of(own, (number,), data, what=called, keys=keys_of(what))


def columns_of(source: Source) -> list[str]:
    """The keys that the first line of a schedule names, whether anything has a use for them or not."""
    text, head = source.text, _head(source.text)
    return [name for a, b in _cells(text, *head) if (name := _key(text[a:b]))] if head else []


def _head(text: str) -> tuple[int, int, str] | None:
    """Where the line that names the columns begins and ends, and what parts them; None where there is no line."""
    at = _next_line(text, 0)
    if at is None:
        return None
    end = _line_end(text, at)
    return at, end, max(",;\t", key=text[at:end].count)


def _key(cell: str) -> str:
    return "_".join(_unquoted(cell).casefold().split())


def _columns(source: Source, at: int, end: int, parting: str, sheet: Sheet, known: list[str]) -> dict[str, int]:
    """Where each key stands; a column whose name is not known is told, and read on as what it was probably meant for."""
    columns: dict[str, int] = {}
    for number, (first, last) in enumerate(_cells(source.text, at, end, parting)):
        name = _key(source.text[first:last])
        if not name:
            continue
        if name not in known:
            near = sheet.nearest(name, known)
            sheet.say(
                "job-unknown-key", source.span(first, last), f'{source.name} has no use for a column "{shown(name)}"',
                (f"Did you mean {near}? " if near else "") + f"What may stand here: {', '.join(known)}.",
            )  # fmt: skip
            name = near
        elif name in columns:
            sheet.say(
                "job-schedule", source.span(first, last), f'{source.name} has two columns "{name}"', "Take one out."
            )
        if name:
            columns.setdefault(name, number)
    return columns


def _what(data: Mapping[str, Any], sheet: Sheet, path: Path, kinds: Mapping[str, list[str]]) -> str:
    """What a row is, or nothing where that cannot be told, which is then said."""
    said = data.get("what")
    if isinstance(said, str):
        what = said.casefold().rstrip("s") if said.casefold() not in kinds else said.casefold()
        if what in kinds:
            return what
        near = sheet.nearest(said, list(kinds))
        sheet.say(
            "job-schedule", sheet.places.at((*path, "what")).value, f'a row is a "{shown(said)}", and nothing is called so',
            (f"Did you mean {near}? " if near else "") + f"It is one of: {', '.join(kinds)}.",
        )  # fmt: skip
        return ""
    found = next((what for what, cells in _SAID_BY if cells <= data.keys()), "")
    if not found:
        sheet.say(
            "job-schedule", sheet.places.at(path).value, "nothing tells what this row is",
            "Fill in length, width and height for a room, length and height for a wall, length and width for a ceiling; or "
            "add a column what.",
        )  # fmt: skip
    return found


def _value(key: str, text: str) -> Any:
    """A cell as TOML would give it: counts as numbers, flags as true and false, all else as text."""
    if key in _COUNTS and text.isascii() and text.isdigit() and len(text) < 10:
        return int(text)
    if key in ("sill", "ceiling"):
        return _FLAGS.get(text.casefold(), text)
    return text


_QUOTED = r'{0}*"((?:[^"]|"")*+)"{0}*'
_CELL = {
    parting: re.compile(_QUOTED.format(blank)) for parting, blank in ((",", r"[ \t]"), (";", r"[ \t]"), ("\t", " "))
}
"""A quoted cell by what parts cells: a tab that parts them is no blank around one."""


def _cells(text: str, start: int, end: int, parting: str) -> Iterator[tuple[int, int]]:
    """Where each cell of a line stands, without the blanks and quotes around it."""
    at, cell_of = start, _CELL[parting]
    while True:
        quoted = cell_of.match(text, at, end) if text[at : at + 1] in ('"', " ", "\t") else None
        if quoted and (quoted.end() == end or text[quoted.end()] == parting):
            first, last, after = *quoted.span(1), quoted.end()
        else:
            after = text.find(parting, at, end)
            after = end if after < 0 else after
            cell = text[at:after]
            first = at + len(cell) - len(cell.lstrip())
            last = max(first, at + len(cell.rstrip()))
        yield first, last
        if after >= end:
            return
        at = after + 1


def _unquoted(cell: str) -> str:
    return cell.replace('""', '"').strip()


def _line_end(text: str, start: int) -> int:
    end = text.find("\n", start)
    end = len(text) if end < 0 else end
    return end - 1 if end > start and text[end - 1] == "\r" else end


def _next_line(text: str, start: int) -> int | None:
    """Where the next line that says something begins."""
    match = re.compile(r"[^\s,;]").search(text, start)
    if match is None:
        return None
    return max(text.rfind("\n", start, match.start()) + 1, start)
