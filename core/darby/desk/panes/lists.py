"""A pasted list before it is written: which column is taken for what, which rows it gives, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import Any

from darby.desk.files.job_text import JobText
from darby.desk.files.pasted import as_list
from darby.desk.panes.grid import MEASURES
from darby.documents.words import one_line
from darby.job.loader import kept_beside, keys_by_kind, load
from darby.job.marks import CONDITION, Marks
from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import Sheet
from darby.job.schedules.csv_schedules import read_schedule
from darby.job.schedules.heads import SIDES, Head
from darby.job.schedules.taken import Taken
from darby.text.diagnostics import Severity
from darby.text.spans import Source
from darby.text.toml_places import Places

View = dict[str, Any]
Known = Callable[[], Collection[str]]
"""Gives the keys that trades let a row carry, as of now."""

_WORDS = {key: head.lower() for keys in MEASURES.values() for key, head, _ in reversed(keys)} | {
    "name": "name", "what": "what the row is", "room": "room", "count": "how many",
}  # fmt: skip
_SHOWN = 8
"""Mistakes that are told before a list is written."""


def list_view(text: str, name: str, job: JobText, beside: Collection[Source], marks: Collection[str]) -> View:
    """What a list would be taken for in this job; `beside` are the lists that it has already."""
    source = Source(name, as_list(text))
    known = Marks.of(marks, (CONDITION,))
    keys = keys_by_kind(known)
    units = str(job.data.get("units", "us"))
    sheet, taken = Sheet(Places(source), units if units in ("us", "metric") else "us"), list[Taken]()
    first: Row | None = None
    for _, row in read_schedule(source, sheet, keys, keys.__getitem__, taken):
        first = first or row
    of = {key for kind in keys.values() for key in kind} | {"what", *SIDES}
    seen: set[str] = set()
    columns = []
    for head, _ in taken[0].heads if taken else ():
        columns.append(_column(head, of - seen, first))
        seen.add(head.key)
    whole = Source("job.toml", job.with_item(name, "schedules").text)
    _, found = load(whole, marks, kept_beside([*beside, source]))
    wrong = [d for d in found if d.severity is not Severity.NOTE and d.span is not None and d.span.source is source]
    kinds = taken[0].kinds if taken else {}
    return {
        "refused": "",
        "rows": ", ".join(f"{many:,} {kind}{'s' * (many != 1)}" for kind, many in kinds.items()) or "no rows",
        "columns": columns,
        "wrong": [{"text": one_line(d.message), "help": one_line(d.help), "where": d.span.where if d.span else ""} for d in wrong[:_SHOWN]],
        "more": max(0, len(wrong) - _SHOWN),
        "left": len((*taken[0].titles, *taken[0].skipped)) if taken else 0,
    }  # fmt: skip


def _column(head: Head, of: Collection[str], first: Row | None) -> View:
    """A column: its head as it is written, what it is taken for, and what the first row says there."""
    used = not head.aside and head.key in of
    means = SIDES.get(head.key, _WORDS.get(head.key, head.key.replace("_", " ")))
    said = first.data.get(head.key, "") if used and first is not None else ""
    return {
        "said": one_line(head.said), "used": used,
        "means": means + f", in {head.unit}" * bool(head.unit) if used else "",
        "first": one_line(str(said)),
    }  # fmt: skip
