"""The table of rooms as JSON of the schema `darby.rooms/1`."""

from __future__ import annotations

from collections.abc import Iterable

from darby.documents.exact_json.parts import Json, diagnostic_json, dump, rule_json, start_json
from darby.documents.room_table import Held, RoomLine
from darby.documents.rooms import Told, strangers
from darby.estimate.model import Estimate
from darby.text.diagnostics import Diagnostic

SCHEMA = "darby.rooms/1"


def rooms_json(estimate: Estimate) -> Json:
    """The table as plain data."""
    told = Told(estimate)
    used = [estimate.columns[n] for n in told.table.used]
    return {
        "schema": SCHEMA,
        "job": estimate.job.name,
        "columns": [{"head": shown.column.head, "trade": shown.trade} for shown in used],
        "lines": [_line(line, told) for line in told.table.lines],
        "notes": strangers(estimate),
        "checks": [diagnostic_json(d) for d in estimate.checks],
        "diagnostics": [diagnostic_json(d) for d in estimate.diagnostics],
    }


def refused_json(problems: Iterable[Diagnostic]) -> Json:
    """The same document where the input is wrong and nothing was worked out."""
    empty: Json = {"job": None, "columns": [], "lines": [], "notes": [], "checks": []}
    return {"schema": SCHEMA, **empty, "diagnostics": [diagnostic_json(d) for d in problems]}


def make(estimate: Estimate) -> str:
    """The document as text."""
    return dump(rooms_json(estimate))


def _line(line: RoomLine, told: Told) -> Json:
    called = line.called
    data: Json = {"room": line.name, "count": line.room.count if line.room else 1, "surfaces": list(line.surfaces)}
    data |= {key: said for key in ("number", "floor", "phase") if (said := getattr(called, key))}
    if called.also:
        data["also"] = list(called.also)
    return {**data, "cells": [[_held(held, told) for held in cell] for cell in told.cells(line)]}


def _held(held: Held, told: Told) -> Json:
    data: Json = {"surfaces": list(held.kinds), "text": told.held(held), "rules": [rule_json(r) for r in held.rules]}
    given = {id(r): r.assigned for r in held.rules if r.assigned is not None}
    places = [span for _, span in held.given] or list(given.values())
    if places:
        data["given"] = [start_json(span) for span in dict.fromkeys(places)]
    if doubt := told.doubt(held):
        data["confirm" if any(r.confirm for r in held.rules) else "question"] = doubt
    return data
