"""Ticks in a table whose columns are systems: a tick gives the system over it to the place of its row."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from attrs import evolve

from darby.reading.layout.clause import Cell, Clause
from darby.reading.layout.tables.cells import TICK
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View


def ticked(clauses: Sequence[Clause], tags: Callable[[View], Sequence[Tag]]) -> dict[int, tuple[View, Tag]]:
    """Cells that are a tick under the mark of one system, by the `id` of their views, each with the mark as its tag."""
    out = {}
    for clause in clauses:
        for cell in clause.cells[1:]:
            if TICK.fullmatch(cell.view.text) and (mark := _over(cell, tags)) is not None:
                out[id(cell.view)] = cell.view, evolve(mark, start=0, end=len(cell.view.text), loose=False)
    return out


def _over(cell: Cell, tags: Callable[[View], Sequence[Tag]]) -> Tag | None:
    """The mark in the head over a cell, where there is one only."""
    marks = [t for head in cell.heads for t in tags(head) if t.name == "mark"]
    return marks[0] if len(marks) == 1 else None
