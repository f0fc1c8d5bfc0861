"""The rows of a measured list as rows of the job file, where they are changed cell by cell."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from darby.desk.files.folder import RefusedError
from darby.desk.files.job_text import Data, JobText
from darby.documents.words import one_line
from darby.job.loader import TABLES, kept_beside, keys_by_kind, load
from darby.job.marks import CONDITION, Marks
from darby.job.model import Job
from darby.job.rows.sheet import Sheet
from darby.job.schedules.csv_schedules import read_schedule
from darby.text.diagnostics import Severity
from darby.text.spans import Source
from darby.text.toml_places import Places

_UNTOLD = ("job-schedule", "job-unknown-key")
"""What keeps a row, or a column of it, from being one of the job file."""


def with_rows_of(
    job: JobText, source: Source, beside: Collection[Source], marks: Collection[str]
) -> tuple[JobText, int]:
    """The job with the rows of a list among its own, and how many these are; `beside` are the lists that it has besides.

    `RefusedError` says why the list stays one: a row or a column of it says nothing that a row of the job could, or the job
    would come out otherwise.
    """
    known = Marks.of(marks, (CONDITION,))
    keys = keys_by_kind(known)
    tables = {shape.kind: name for name, shape in TABLES.items()} | {"opening": "openings"}
    tables |= {table.kind: table.name for table in known.tables.values()}
    units = str(job.data.get("units", "us"))
    sheet = Sheet(Places(source), units if units in ("us", "metric") else "us")
    found: dict[str, list[Data]] = {}
    for kind, row in read_schedule(source, sheet, keys, keys.__getitem__):
        found.setdefault(tables[kind], []).append(dict(row.data))
    wrong = next((d for d in sheet.found if d.code in _UNTOLD and d.severity is Severity.ERROR), None)
    if wrong is not None:
        raise RefusedError(one_line(f"The list was not taken into the grid: {wrong.message}. {wrong.help}"))
    many = sum(map(len, found.values()))
    if not many:
        raise RefusedError("No row of the list says what was measured.")
    made = job
    for table, rows in found.items():
        made = made.with_rows(table, rows)
    listed = _job(job.with_item(source.name, "schedules"), [*beside, source], marks)
    own = _job(made, beside, marks)
    if listed is not None and own is not None and _measured(listed) != _measured(own):
        raise RefusedError("As rows of the grid the list would measure otherwise. Keep it as a list beside the job.")
    return made, many


def _job(job: JobText, beside: Collection[Source], marks: Collection[str]) -> Job | None:
    return load(Source("job.toml", job.text), marks, kept_beside(beside))[0]


def _measured(job: Job) -> list[tuple[Any, ...]]:
    """All that is measured, whatever file it stands in."""
    surfaces = (
        (
            s.name,
            s.kind,
            str(s.area),
            str(s.faces),
            s.room,
            str(s.length),
            str(s.height),
            sorted(s.marks.items()),
            s.systems,
            len(s.openings),
        )
        for s in job.surfaces
    )
    return [
        *sorted(surfaces, key=str),
        *sorted(((c.kind, str(c.count), str(c.height), c.room) for c in job.corners), key=str),
        *sorted(((e.table, e.name, e.room) for e in job.own), key=str),
    ]
