"""What the desk's pages show, as plain values by name: the job's files, its estimate and what was just done, put together."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from attrs import field, frozen

from darby.desk.bench import ROLES, Bench, Shown, gone, moves
from darby.desk.cells import is_plain, shown
from darby.desk.folder import RefusedError, stamp_of
from darby.desk.job_text import Data, JobText
from darby.desk.sketches import Sketch, sketch_of
from darby.documents.catalogue import documents
from darby.documents.needs import needs
from darby.documents.page.to_html import view
from darby.documents.words import one_line
from darby.estimate.model import Estimate
from darby.job.loader import SENDING
from darby.job.model import Opening
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.files import decode

View = dict[str, Any]

ROLE_NAMES = {"specification": "Specification", "addenda": "Addendum", "house": "Our rates"}
PAPERS = {"order": "order list", "letter": "letter of questions", "scope": "scope note"}
"""What leaves the house, by the table of the job file that says who sends it to whom."""
_OF = {"clarifications": "letter"}
MEASURES: Mapping[str, tuple[tuple[str, str, str], ...]] = {
    "rooms": (
        ("name", "Room", "Office"), ("number", "Number", "204"), ("length", "Length", "12'-6\""), ("width", "Width", "10 ft"),
        ("height", "Height", "9 ft"), ("count", "How many", "1"), ("floor", "Floor", ""), ("walls", "Walls as", "PT-2"),
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


@frozen(eq=False)
class Asked:
    """What a page was asked to show, and what came of the deed before it."""

    document: str = ""
    table: str = "rooms"
    told: str = ""
    """What was done, in a sentence."""
    refused: str = ""
    """Why it was not done."""
    typed: Mapping[str, str] = field(factory=dict)
    """What was typed into the form that was refused, so that nothing of it is lost."""


def digest(row: Data) -> str:
    """A mark of a row as it was shown, by which it is known again."""
    return hashlib.sha256(json.dumps(row, sort_keys=True, default=str).encode()).hexdigest()[:16]


def page(bench: Bench, asked: Asked, form_key: str) -> View:
    """All of a page."""
    state = bench.look()
    now = state.estimate
    books = _books(now) if now is not None else None
    files = bench.files()
    job = _job(bench)
    return {
        "key": form_key,
        "asked": asked,
        "version": state.version,
        "stamp": state.stamp,
        "exists": bench.folder.read(bench.folder.job) is not None,
        "name": (one_line(str(job.data.get("name", ""))) if job else "") or "Unnamed job",
        "units": str(job.data.get("units", "us")) if job else "us",
        "estimate": now,
        "stale": state.stale,
        "problems": [_problem(d, job) for d in state.problems],
        "books": books,
        "counts": _counts(now),
        "undo": bench.folder.done[-1].what if bench.folder.done else "",
        "redo": bench.folder.undone[-1].what if bench.folder.undone else "",
        "pinned": bench.pinned is not None,
        "documents": _documents(bench, files, books, asked),
        "measures": _measures(job, state, asked),
        "own": list(enumerate(job.items("rules"))) if job else [],
        "excluded": list(enumerate(job.items("scope", "excluded"))) if job else [],
        "schedules": job.items("schedules") if job else [],
        **_moved(bench, state),
    }


def papers(bench: Bench, asked: Asked, form_key: str) -> View:
    """What the page of papers shows: those that leave the house, each with what it says besides the order; then the others."""
    state, job = bench.look(), _job(bench)
    found: dict[str, list[tuple[str, str]]] = {}
    for document in documents():
        first = document.name.partition(".")[0]
        paper = _OF.get(first, first)
        found.setdefault(paper if paper in PAPERS else "", []).append((document.name, document.about))
    sent = []
    for paper, name in PAPERS.items():
        said = job.table(paper) if job else {}
        typed = asked.typed if asked.typed.get("paper") == paper else {}
        fields = [(key, key.replace("_", " ").capitalize(), one_line(typed.get(key, shown(said.get(key, ""))))) for key in SENDING[paper] if key != "excluded"]  # fmt: skip
        sent.append({"paper": paper, "name": name, "was": digest(said), "fields": fields, "kinds": found[paper]})
    return {
        "key": form_key, "asked": asked, "sent": sent, "others": found[""], "there": state.estimate is not None,
        "name": one_line(state.estimate.job.name) or "Unnamed job" if state.estimate is not None else "Unnamed job",
        "stale": state.stale, "problems": [one_line(f"{d.message}. {d.help}") for d in state.problems],
    }  # fmt: skip


@lru_cache(2)
def _books(now: Estimate) -> View:
    """All that a page shows of an estimate, once for each: what each answer would change is worked out for it."""
    books = view(now)
    points = [
        ("c", one, [one["told"], one["words"], one["at"]["mark"] if one["at"] else ""])
        for one in books["confirmations"]
    ]
    points += [("q", one, [group["title"], one["text"]]) for group in books["every_question"] for one in group["asked"]]
    for (_, one, _), name in zip(points, _names((sign, said) for sign, _, said in points), strict=True):
        one["field"] = name
    named = _names(("k", [rule["words"] for rule in rules]) for rules in books["conflicts"])
    return {
        **books,
        "conflicts": [{"rules": rules, "field": name} for rules, name in zip(books["conflicts"], named, strict=True)],
    }


def _names(points: Iterable[tuple[str, list[str]]]) -> Iterator[str]:
    """A name for the field of each open point, by what it says, so that it stays with what was typed; of those alike each its own."""
    seen: Counter[str] = Counter()
    for sign, said in points:
        name = sign + stamp_of(" ".join(said).encode("utf-8", "replace"))
        seen[name] += 1
        yield f"{name}-{seen[name]}"


def _job(bench: Bench) -> JobText | None:
    try:
        return JobText.of(bench.folder.text(bench.folder.job))
    except RefusedError:
        return None


def _counts(now: Estimate | None) -> View:
    if now is None:
        return {"lines": 0, "questions": 0, "confirm": 0, "conflicts": 0, "unread": 0}
    return {
        "lines": len(needs(now)), "questions": len(now.questions), "confirm": len(now.confirmations),
        "conflicts": len(now.conflicts), "unread": len(now.unread),
    }  # fmt: skip


def _problem(d: Diagnostic, job: JobText | None) -> View:
    at = job.row_of(d.span) if job else None
    return {
        "text": one_line(d.message), "help": one_line(d.help), "severity": d.severity.value,
        "place": f"{one_line(d.span.source.name)}, {d.span.where}" if d.span is not None else one_line(d.file), "at": at,
    }  # fmt: skip


def _moved(bench: Bench, state: Shown) -> View:
    """What moved since the page before, and since the estimate that was pinned, by line."""
    now = state.estimate
    last, pin = moves(state.before, now), moves(bench.pinned, now)
    if state.before is None or now is None:
        last = {}
    lines = [[item.id for item in need.items] for need in needs(now)] if now is not None else []
    return {
        "moved": [next((last[name] for name in ids if name in last), None) for ids in lines],
        "since": [next((pin[name] for name in ids if name in pin), None) for ids in lines],
        "gone": gone(last.values(), now) if now is not None else [],
        "gone_since": gone(pin.values(), now) if now is not None else [],
        "moved_told": _told_moves(len(last)),
    }


def _told_moves(count: int) -> str:
    return "No line of the order moved." if not count else f"{count} line{'s' * (count > 1)} of the order moved."


def _documents(bench: Bench, files: list[tuple[str, str]], books: View | None, asked: Asked) -> View:
    """The tabs of the documents, and the one that is shown, with its marks and its text."""
    marked = {d["name"]: d for d in books["documents"]} if books else {}
    names = [(name, ROLE_NAMES[role], role) for name, role in files]
    names.append((bench.folder.job, "The job file", "job"))
    known = [name for name, _, _ in names]
    open_now = asked.document if asked.document in known else known[0]
    found: View = {"tabs": names, "open": open_now, "role": next(r for n, _, r in names if n == open_now), "text": None, "stamp": "", "error": ""}  # fmt: skip
    try:
        data = bench.folder.read(open_now)
        source, _ = decode(data, open_now) if data else (None, ())
        found["stamp"] = stamp_of(data)
        if data is None or (source is not None and source.unit == "line"):
            found["text"] = bench.folder.text(open_now)
    except RefusedError as refused:
        found["error"] = str(refused)
    found["marked"] = marked.get(one_line(open_now))
    found["others"] = [d for d in marked.values() if d["name"] not in known]
    found["roles"] = [(role, ROLE_NAMES[role]) for role in ROLES]
    return found


def _measures(job: JobText | None, state: Shown, asked: Asked) -> View:
    """The grid of one table: its rows as they were written, what was understood, what is wrong."""
    table = asked.table if asked.table in MEASURES else "rooms"
    keys = MEASURES[table]
    counted = [(name, len(job.rows(name)) if job else 0) for name in MEASURES]
    rows = list(_rows(job, table, state)) if job else []
    return {"table": table, "keys": keys, "tables": counted, "rows": rows}


def _rows(job: JobText, table: str, state: Shown) -> Iterator[View]:
    problems: dict[int, list[Diagnostic]] = {}
    made = state.estimate
    told = (*state.problems, *((*made.checks, *(d for d in made.diagnostics if d.severity is Severity.WARNING)) if made else ()))  # fmt: skip
    for diagnostic in told:
        at = job.row_of(diagnostic.span)
        if at is not None and at[0] == table:
            problems.setdefault(at[1], []).append(diagnostic)
    surfaces = _surfaces(job, table, state.estimate)
    for number, row in enumerate(job.rows(table)):
        keys = [key for key, _, _ in MEASURES[table]]
        sketch: Sketch | None = sketch_of(table, surfaces.get(number, []))
        yield {
            "number": number,
            "was": digest(row),
            "cells": [(key, shown(row[key]) if is_plain(row.get(key)) else "", not is_plain(row.get(key, ""))) for key in keys],
            "more": [f"{key} = {one_line(str(value))}" for key, value in row.items() if key not in keys or not is_plain(value)],
            "understood": list(_understood(surfaces.get(number, []))),
            "sketch": sketch,
            "problems": [one_line(f"{d.message}. {d.help}") for d in problems.get(number, [])],
        }  # fmt: skip


def _surfaces(job: JobText, table: str, now: Estimate | None) -> dict[int, list[Any]]:
    """The surfaces that each row of a table gave, where the estimate is of this very text."""
    found: dict[int, list[Any]] = {}
    if now is None or now.job.source.text != job.text:
        return found
    for surface in now.job.surfaces:
        at = job.row_of(surface.span)
        if at is not None and at[0] == table:
            found.setdefault(at[1], []).append(surface)
        for opening in surface.openings:
            at = job.row_of(opening.span)
            if at is not None and at[0] == table == "openings":
                found.setdefault(at[1], []).append(opening)
    return found


def _understood(made: Iterable[Any]) -> Iterator[str]:
    """What a row was taken for: the area of its walls, of its ceiling, of one opening."""
    areas: dict[str, Any] = {}
    for one in made:
        kind, area = ("opening", one.each * one.count) if isinstance(one, Opening) else (one.kind, one.gross)
        areas[kind] = areas[kind] + area if kind in areas else area
    for kind, area in areas.items():
        yield f"{kind} {area}"
