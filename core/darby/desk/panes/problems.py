"""What keeps a job from being worked out, one message a cause, in words for somebody who types into the grid and not into a file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from darby.desk.files.job_text import Data, JobText
from darby.documents.words import listed, one_line
from darby.text.diagnostics import Diagnostic, Severity

View = dict[str, Any]

SIZES = ("length", "width", "height", "reveal")
"""The keys of the grid that take a size."""
BARE = re.compile(r"[0-9]{1,6}(?:\.[0-9]{1,6})?")
"""A size of which nobody says whether it is feet or inches, metres or millimetres."""
_NEEDED: Mapping[str, tuple[str, ...]] = {
    "rooms": ("name", "length", "width", "height"), "walls": ("name", "length", "height"), "ceilings": ("name", "length", "width"),
    "openings": ("wall", "width", "height"), "doors": ("name", "width", "height"),
}  # fmt: skip
_CALLED = {"wall": "the wall or room it is in"}
_OTHERWISE = {"length": ("area", "perimeter"), "width": ("area", "perimeter"), "height": ("area",)}
"""Keys of the file that stand for a size of the grid."""
_MISSING = "job-missing-key"
_MOST = 8
"""Rows that are told in one list; of more it is said how many there are."""


def is_bare(d: Diagnostic) -> bool:
    """Whether all that is wrong is a size without a unit."""
    return d.code == "job-no-unit" and d.span is not None and BARE.fullmatch(d.span.text.strip("\"'")) is not None


def of_row(table: str, row: Data, found: Sequence[Diagnostic]) -> list[str]:
    """What is wrong with a row of the grid, but for sizes without a unit: what is still to be typed is one message."""
    lacking = [
        key for key in _NEEDED.get(table, ()) if key not in row and not any(k in row for k in _OTHERWISE.get(key, ()))
    ]
    missing = [d for d in found if d.code == _MISSING]
    told: dict[str, None] = {}
    if missing and lacking:
        told[f"Still to be typed: {listed(_CALLED.get(key, key) for key in lacking)}."] = None
    for d in found:
        if not is_bare(d) and not (d in missing and lacking):
            told[one_line(f"{d.message.rstrip('.')}. {d.help}").strip()] = None
    return list(told)


def told_problems(problems: Sequence[Diagnostic], job: JobText | None) -> Iterator[View]:
    """What is wrong, a line for each row of the grid and for each cause elsewhere; sizes without a unit are one cause, wherever they stand."""
    wrong = [d for d in problems if d.severity is Severity.ERROR]
    bare = [d for d in wrong if is_bare(d)]
    rows: dict[tuple[str, int], list[Diagnostic]] = {}
    for d in wrong:
        at = job.row_of(d.span) if job is not None else None
        if len(bare) > 1 and d in bare:
            if d is bare[0]:
                help_ = "Say it at each row under Measures, or type it with the number: 12 ft, 12'-6\", 3.81 m."
                yield _line(f"{len(bare)} sizes have no unit", help_)
        elif job is not None and at is not None and at[0] in _NEEDED and at[1] < len(job.rows(at[0])):
            rows.setdefault(at, []).append(d)
        else:
            place = f"{one_line(d.span.source.name)}, {d.span.where}" if d.span is not None else one_line(d.file)
            yield _line(one_line(d.message), one_line(d.help), place)
    if job is None:
        return
    for (table, number), found in list(rows.items())[:_MOST]:
        row = job.rows(table)[number]
        called = one_line(str(row.get("name", ""))) or f"row {number + 1}"
        texts = of_row(table, row, found) or [one_line(f"{d.message.rstrip('.')}. {d.help}").strip() for d in found]
        yield {**_line(" ".join(texts)), "row": {"table": table, "number": number, "name": called}}
    if len(rows) > _MOST:
        yield _line(
            f"So it is with {len(rows) - _MOST:,} more rows", "What is wrong stands at each of them, under Measures."
        )


def _line(text: str, help: str = "", place: str = "") -> View:
    return {"text": text.rstrip("."), "help": help, "place": place, "row": None}
