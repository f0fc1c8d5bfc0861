"""What holds in each room, as the question comes on the telephone: every value leads to the clause that says so."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from darby.desk.panes.grid import AT_ONCE, stretch
from darby.documents.page.marked_text import Shelf
from darby.documents.room_table import Held
from darby.documents.rooms import ROOM_HEADS, Told, before, name_of, places_behind, short, strangers
from darby.documents.words import listed, one_line, says
from darby.estimate.model import Estimate
from darby.rules.rule import Rule
from darby.text.spans import Span

View = dict[str, Any]

_SIGNS = {"?": "to look at", "~": "assumed", "": ""}


def holds(estimate: Estimate, books: Shelf, first: int) -> View:
    """The table of rooms, a hundred lines of it from about the line `first`."""
    told = Told(estimate)
    lines = told.table.lines
    first = max(0, min(first, len(lines) - 1)) // AT_ONCE * AT_ONCE
    shown = lines[first : first + AT_ONCE]
    known = [before(line) for line in shown]
    kept = [at for at in range(len(ROOM_HEADS) - 1) if any(one[at] for one in known)]
    return {
        "heads": [ROOM_HEADS[0], *(ROOM_HEADS[at + 1] for at in kept), *told.heads()],
        "lines": [
            {
                "name": name_of(line),
                "before": [one_line(one[at]) for at in kept],
                "cells": [[_held(held, told, books, alone=len(cell) == 1) for held in cell] for cell in told.cells(line)],
            }
            for line, one in zip(shown, known, strict=True)
        ],
        "strangers": strangers(estimate),
        **stretch(first, len(lines)),
    }  # fmt: skip


def _held(held: Held, told: Told, books: Shelf, *, alone: bool) -> View:
    """What holds on some surfaces of a room: each value with its clause, then what describes it."""
    said = list(dict.fromkeys(says(answer.rule) for answer in held.answers))
    return {
        "values": list(_values(held, books)),
        "more": one_line(", ".join(word for word in held.described if word not in said)),
        "where": "" if alone else listed(held.kinds),
        "sign": _SIGNS[told.sign(held)],
        "doubt": told.doubt(held),
    }


def _values(held: Held, books: Shelf) -> Iterator[View]:
    """Each value once, with the places that say it: its clause, and what gave that to the room."""
    found: dict[str, dict[tuple[int, int, int], tuple[Rule, Span]]] = {}
    for rule, span in places_behind(held):
        found.setdefault(says(rule), {}).setdefault((id(span.source), span.start, span.end), (rule, span))
    for text, places in found.items():
        yield {"text": text, "at": [_place(span, books) for _, span in places.values()]}


def _place(span: Span, books: Shelf) -> View:
    mark = books.mark_at(span)
    words = one_line(span.text)
    return {
        "mark": mark.name if mark is not None else "", "file": one_line(span.source.name), "text": short(span),
        "words": words if len(words) <= 120 else f"{words[:119]}…",
    }  # fmt: skip
