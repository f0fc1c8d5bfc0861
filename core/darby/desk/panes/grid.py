"""The grid of what was measured: rows as they were written, what was understood of each, and what is wrong with it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from darby.desk.files.cells import is_plain, shown
from darby.desk.files.job_text import Data, JobText
from darby.desk.panes.problems import BARE, SIZES, of_row
from darby.desk.panes.sketches import Sketch, sketch_of
from darby.documents.words import one_line
from darby.estimate.model import Estimate
from darby.job.model import Opening
from darby.text.diagnostics import Diagnostic, Severity

View = dict[str, Any]

MEASURES: Mapping[str, tuple[tuple[str, str, str], ...]] = {
    "rooms": (
        ("name", "Room", "Office"), ("length", "Length", "12'-6\""), ("width", "Width", "10 ft"), ("height", "Height", "9 ft"),
        ("number", "Number", "204"), ("count", "How many", "1"), ("floor", "Floor", ""), ("walls", "Walls as", "PT-2"),
        ("ceiling", "Ceiling as", "PT-1"), ("condition", "New or existing", "new"),
    ),
    "walls": (
        ("name", "Wall", "corridor wall"), ("length", "Length", "36'-4\""), ("height", "Height", "9 ft"),
        ("faces", "Faces", "2"), ("room", "Room", ""), ("type", "Type", "W3"),
    ),
    "ceilings": (
        ("name", "Ceiling", "lobby ceiling"), ("length", "Length", "20 ft"), ("width", "Width", "12 ft"),
        ("room", "Room", ""), ("type", "Type", ""),
    ),
    "openings": (
        ("name", "Opening", "door"), ("wall", "In wall or room", "Office"), ("width", "Width", "3 ft"),
        ("height", "Height", "7 ft"), ("count", "How many", "1"), ("reveal", "Reveal", ""),
    ),
    "doors": (
        ("name", "Doors", "inner doors"), ("width", "Width", "3 ft"), ("height", "Height", "7 ft"),
        ("count", "How many", "1"), ("sides", "Sides", "2"), ("room", "Room", ""),
    ),
}  # fmt: skip
"""The tables of the grid, each with its keys, what stands over them, and an example of what goes there."""
HOLDS = "holds"
"""What holds in each room, which stands beside the tables and is typed into by nobody."""
AT_ONCE = 100
"""Rows that are shown at once; a page of a thousand takes a browser longer to lay out than the job takes to work out."""


def digest(row: Data) -> str:
    """A mark of a row as it was shown, by which it is known again."""
    return hashlib.sha256(json.dumps(row, sort_keys=True, default=str).encode()).hexdigest()[:16]


def measures(job: JobText | None, now: Estimate | None, problems: Sequence[Diagnostic], table: str, first: int) -> View:
    """The grid of one table, a hundred rows of it from about the row `first`; the last where there are fewer."""
    table = table if table in MEASURES or table == HOLDS else "rooms"
    counted = [(name, len(job.rows(name)) if job else 0) for name in MEASURES]
    found: View = {"table": table, "keys": MEASURES.get(table, ()), "tables": counted, "rows": [], "elsewhere": []}
    many = len(job.rows(table)) if job is not None else 0
    first = max(0, min(first, many - 1)) // AT_ONCE * AT_ONCE
    if job is not None and table in MEASURES:
        wrong = _problems(job, table, now, problems)
        last = min(first + AT_ONCE, many)
        found["rows"] = list(_rows(job, table, now, wrong, range(first, last)))
        found["elsewhere"] = [(at, _called(job.rows(table)[at], at)) for at in sorted(wrong) if not first <= at < last]
    return {**found, **stretch(first, many)}


def stretch(first: int, many: int) -> View:
    """Which rows of a long table are shown, and the others, a hundred at a time."""
    parts = [(at, f"{at + 1:,} to {min(at + AT_ONCE, many):,}") for at in range(0, many, AT_ONCE)]
    return {"first": first, "many": many, "stretches": parts if many > AT_ONCE else []}


def row_named(job: JobText, table: str, said: str) -> int | None:
    """The first row of a table whose name or number holds what was said, one that is called so before others."""
    wanted = one_line(said).casefold()
    names = [[one_line(str(row.get(key, ""))).casefold() for key in ("name", "number")] for row in job.rows(table)]
    if not wanted:
        return None
    exact = (at for at, one in enumerate(names) if wanted in one)
    near = (at for at, one in enumerate(names) if any(wanted in name for name in one))
    return next(exact, next(near, None))


def _called(row: Data, at: int) -> str:
    return one_line(str(row.get("name", ""))) or f"row {at + 1}"


def _problems(
    job: JobText, table: str, now: Estimate | None, problems: Sequence[Diagnostic]
) -> dict[int, list[Diagnostic]]:
    """What is wrong with the rows of a table, by row."""
    found: dict[int, list[Diagnostic]] = {}
    warned = (d for d in now.diagnostics if d.severity is Severity.WARNING) if now is not None else ()
    for diagnostic in (*problems, *(now.checks if now is not None else ()), *warned):
        at = job.row_of(diagnostic.span)
        if at is not None and at[0] == table:
            found.setdefault(at[1], []).append(diagnostic)
    return found


def _rows(
    job: JobText, table: str, now: Estimate | None, problems: Mapping[int, list[Diagnostic]], numbers: range
) -> Iterator[View]:
    surfaces = _surfaces(job, table, now, numbers)
    rows = job.rows(table)
    for number in numbers:
        row = rows[number]
        keys = [key for key, _, _ in MEASURES[table]]
        sketch: Sketch | None = sketch_of(table, surfaces.get(number, []))
        yield {
            "number": number,
            "was": digest(row),
            "cells": [(key, shown(row[key]) if is_plain(row.get(key)) else "", not is_plain(row.get(key, ""))) for key in keys],
            "more": [f"{key} = {one_line(str(value))}" for key, value in row.items() if key not in keys or not is_plain(value)],
            "understood": list(_understood(surfaces.get(number, []))),
            "sketch": sketch,
            "bare": [str(row[key]) for key in keys if key in SIZES and BARE.fullmatch(str(row.get(key, "")))],
            "problems": of_row(table, row, problems.get(number, [])),
        }  # fmt: skip


def _surfaces(job: JobText, table: str, now: Estimate | None, numbers: range) -> dict[int, list[Any]]:
    """The surfaces that some rows of a table gave, where the estimate is of this very text."""
    found: dict[int, list[Any]] = {}
    if now is None or now.job.source.text != job.text:
        return found
    openings = (o for s in now.job.surfaces for o in s.openings)
    for one in openings if table == "openings" else now.job.surfaces:
        at = job.row_of(one.span)
        if at is not None and at[0] == table and at[1] in numbers:
            found.setdefault(at[1], []).append(one)
    return found


def _understood(made: Iterable[Any]) -> Iterator[str]:
    """What a row was taken for: the area of its walls, of its ceiling, of one opening."""
    areas: dict[str, Any] = {}
    for one in made:
        kind, area = ("opening", one.each * one.count) if isinstance(one, Opening) else (one.kind, one.gross)
        areas[kind] = areas[kind] + area if kind in areas else area
    for kind, area in areas.items():
        yield f"{kind} {area}"
