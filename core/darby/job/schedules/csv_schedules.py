"""Schedules: tables of what is measured, one row a room or a wall, as people have them. Places are kept.

The columns are named by a line near the top, as the job file names its keys or in any usual words. A column `what` may say what a row
is (room, wall, ceiling, opening ...); without it the filled cells tell. Fields are parted by the comma, semicolon or tab that the
line of heads uses most. Titles above the heads, rows that add up others and columns of notes order nothing; what was taken for what is told.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from attrs import evolve, frozen

from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import Sheet, shown
from darby.job.schedules.grid import Grid, cells, line_end, next_line, unquoted
from darby.job.schedules.heads import (
    SIDES,
    Head,
    adds_up,
    faces_of,
    fits,
    head_of,
    is_measured,
    unit_of,
    usual_keys,
)
from darby.job.schedules.taken import Taken
from darby.job.schedules.wall_lists import WallList, heads_of_walls, lists_walls, tell_marks
from darby.quantities.numerals import value_of
from darby.text.spans import Source, Span

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
_NEAR = 3 / 4
"""How much of a head has to be that of a key for it to be a slip of it."""
_TOP = 25
"""Lines among which the heads are looked for, below titles."""
_PARTS = frozenset(",\u00a0\u202f'")
"""What parts thousands; a plain blank may as well part two numbers."""
_THOUSANDS = re.compile(r"(?<![\d.,])\d{1,3}(?:[,\u00a0\u202f']\d{3})+(?:\.\d+)?(?![\d,.])")
_COMMA = re.compile(r"(?<![\d.,])(\d+),(\d+)(?![\d,.])")
"""Where semicolons part cells the comma is the point of a number, as spreadsheets of half the world save them."""
_BLANKS = str.maketrans("", "", ",\u00a0\u202f'")


@frozen(eq=False)
class _Top:
    """The line of heads: where it begins and ends, what parts its cells, and what each column is taken for."""

    start: int
    end: int
    parting: str
    heads: tuple[tuple[int, Head, Span], ...]
    """Column, head and place, but for those without a word."""
    titles: tuple[Span, ...] = ()
    """Lines above it."""

    @property
    def walls(self) -> bool:
        """Whether what stands below can be nothing but walls."""
        return lists_walls({head.key for _, head, _ in self.heads})


def read_schedule(
    source: Source, sheet: Sheet, kinds: Mapping[str, list[str]], keys_of: Callable[[str], list[str]],
    taken: list[Taken] | None = None,
) -> Rows:  # fmt: skip
    """The rows of a schedule, one at a time; mistakes go to `sheet`. `keys_of` gives what may stand in a row of a kind.

    What it was taken for is added to `taken` before the first row, and is whole after the last.
    """
    text = source.text
    known = list(dict.fromkeys(["what", *(key for kind in kinds for key in keys_of(kind))]))
    top = _top(source, known)
    if top is None:
        sheet.say("job-schedule", source.span(0, 0), f"{source.name} has no line", "The first line names its columns.")
        return
    columns, units = _columns(source, top, sheet, ["what", *keys_of("wall")] if top.walls else known)
    walls = WallList.of(columns, _names(source, top, columns)) if top.walls else None
    if walls is not None:
        tell_marks(((head, span) for _, head, span in top.heads), columns, sheet)
    seen = Taken(source, tuple((head, span) for _, head, span in top.heads), top.titles, walls=walls)
    if taken is not None:
        taken.append(seen)
    grid = Grid(source, top.parting, columns)
    own = Sheet(grid, sheet.units, sheet.found)
    start = next_line(text, top.end)
    while start is not None and len(grid.starts) < _MOST:
        end = line_end(text, start)
        number = len(grid.starts)
        grid.starts.append(start)
        row = [unquoted(text[a:b]) for a, b in cells(text, start, end, top.parting)]
        line = source.span(start, end)
        start = next_line(text, end)
        if number == 0 and (below := _units_below(row, columns)):
            units.update(below)
            continue
        data = {
            key: _value(key, row[n], units.get(key, ""), top.parting)
            for key, n in columns.items()
            if n < len(row) and row[n]
        }
        if not data:
            continue
        seen.commas += top.parting == ";" and any(
            is_measured(k) and _COMMA.search(row[n]) for k, n in columns.items() if n < len(row)
        )
        if adds_up(next(cell for cell in row if cell)):
            seen.skipped.append(line)
            continue
        if len(row) > len(columns) and any(row[max((n for n, _, _ in top.heads), default=0) + 1 :]):
            own.say(
                "job-schedule", grid.at((number,)).value, f"a row has more cells than {source.name} has columns",
                "Put a text that holds the parting sign in double quotes.",
            )  # fmt: skip
        if walls is not None:
            walls.settle(data, own, (number,))
        what = "wall" if walls is not None else _what(data, own, (number,), kinds, keys_of)
        if what:
            guessed = what == "ceiling" and "what" not in data and "height" in columns
            data.pop("what", None)
            name = data.get("name")
            called = f'{what} "{shown(name)}"' if isinstance(name, str) else f"{what} in row {number + 1}"
            seen.kinds[what] = seen.kinds.get(what, 0) + 1
            if guessed and not re.search("ceiling|soffit|lid", str(name), re.IGNORECASE):
                seen.guessed.append((shown(str(name)), grid.at((number, "name")).value))
            yield what, Row.of(own, (number,), data, what=called, keys=keys_of(what))


def columns_of(source: Source, known: Iterable[str]) -> list[str]:
    """The keys that the heads of a schedule name, whether anything has a use for them or not; but for columns of notes."""
    top = _top(source, [*dict.fromkeys(("what", *known, *usual_keys()))])
    return [head.key for _, head, _ in top.heads if not head.aside] if top else []


def _names(source: Source, top: _Top, columns: Mapping[str, int]) -> Iterator[tuple[str, str]]:
    """Name and room of each row below the heads."""
    text, at = source.text, next_line(source.text, top.end)
    wanted = [columns.get(key, _MOST) for key in ("name", "room")]
    while at is not None:
        end = line_end(text, at)
        row = [unquoted(text[a:b]) for a, b in cells(text, at, end, top.parting)]
        name, room = (row[n] if n < len(row) else "" for n in wanted)
        yield name, room
        at = next_line(text, end)


def _top(source: Source, known: list[str]) -> _Top | None:
    """The line of heads: of the first lines that which names most keys, else the first that says something."""
    text, best, best_count = source.text, None, 1
    at = next_line(text, 0)
    first = at
    lines = []
    for _ in range(_TOP):
        if at is None:
            break
        end = line_end(text, at)
        parting = max(",;\t", key=text[at:end].count)
        heads = tuple(_named(source, at, end, parting, known))
        lines.append((at, end, parting, heads))
        keys = {h.key for _, h, _ in heads if h.key in known and not (h.said[:1].isdigit())}
        if len(keys) > best_count:
            best, best_count = len(lines) - 1, len(keys)
        at = next_line(text, end)
    if first is None:
        return None
    at, end, parting, heads = lines[best or 0]
    return _Top(at, end, parting, heads, tuple(source.span(a, b) for a, b, _, _ in lines[: best or 0]))


def _named(source: Source, start: int, end: int, parting: str, known: list[str]) -> Iterator[tuple[int, Head, Span]]:
    found = [
        (n, head_of(said, known), source.span(a, b))
        for n, (a, b) in enumerate(cells(source.text, start, end, parting))
        if (said := unquoted(source.text[a:b]))
    ]
    keys = {head.key for _, head, _ in found}
    walls = heads_of_walls(found, known)
    if lists_walls(keys) or lists_walls({head.key for _, head, _ in walls}):
        yield from walls
        return
    for number, head, span in found:
        # a list of rooms alone calls its names `Room`, or has none but their numbers
        names = () if keys & {"name", "wall", "what"} else ("room",) if "room" in keys else ("number",)
        yield number, (evolve(head, key="name") if head.key in names else head), span


def _columns(source: Source, top: _Top, sheet: Sheet, known: list[str]) -> tuple[dict[str, int], dict[str, str]]:
    """Where each key stands and the unit of its bare numbers. A head that is nearly a key is told, and read on as that key."""
    columns: dict[str, int] = {}
    units: dict[str, str] = {}
    for number, head, span in top.heads:
        name = head.key
        if head.aside:
            continue
        if name not in known and name not in SIDES:
            near = sheet.nearest(name, known, _NEAR)
            sheet.say(
                "job-unknown-key" if near else "schedule-column", span, f'{source.name} has no use for a column "{shown(name)}"',
                (f"Did you mean {near}? " if near else "If it says something that is to be ordered, say it under another head. ")
                + f"What may stand here: {', '.join(known)}.", warn=not near,
            )  # fmt: skip
            name = near
        elif name in columns:
            sheet.say("job-schedule", span, f'{source.name} has two columns "{name}"', "Take one out.")
        if name and name not in columns:
            columns[name] = number
            units[name] = head.unit
    return columns, units


def _units_below(row: list[str], columns: Mapping[str, int]) -> dict[str, str]:
    """The units that a line below the heads gives to its columns; nothing where it says anything else."""
    found = {key: unit_of(row[n]) for key, n in columns.items() if n < len(row) and row[n] and is_measured(key)}
    right = found and all(unit and fits(unit, key) for key, unit in found.items())
    return found if right and len(found) == sum(map(bool, row)) else {}


def _what(
    data: Mapping[str, Any],
    sheet: Sheet,
    path: tuple[int],
    kinds: Mapping[str, list[str]],
    keys_of: Callable[[str], list[str]],
) -> str:
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
    found = next((what for what, filled in _SAID_BY if filled <= data.keys()), "")
    if not found:
        sheet.say(
            "job-schedule", sheet.places.at(path).value, "nothing tells what this row is",
            "Fill in length, width and height for a room, length and height for a wall, length and width for a ceiling; or "
            "add a column what.",
        )  # fmt: skip
    elif found == "ceiling" and not data.keys() <= set(keys_of(found)) and data.keys() <= set(keys_of("room")):
        return "room"  # of which the height is missing, and that is told
    return found


def _value(key: str, text: str, unit: str, parting: str) -> Any:
    """A cell as TOML would give it: counts as numbers, flags as true and false, all else as text; a bare number with its unit."""
    if key in _COUNTS and text.isascii() and text.isdigit() and len(text) < 10:
        return int(text)
    if key == "faces" and (told := faces_of(text)):
        return told
    if key in ("sill", "ceiling"):
        return _FLAGS.get(text.casefold(), text)
    if is_measured(key):
        if not _PARTS.isdisjoint(text):
            point = parting == ";"
            text = _COMMA.sub(r"\1.\2", text) if point else _THOUSANDS.sub(lambda m: m[0].translate(_BLANKS), text)
        if unit and value_of(text) is not None:
            return f"{text} {unit}"
    return text
