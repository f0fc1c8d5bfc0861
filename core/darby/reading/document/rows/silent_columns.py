"""Columns that say nothing of goods: quantities, heights, who is to do something, and the sizes of supports beside how far apart these are."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import pairwise

from darby.reading.layout.clause import Cell, Clause, Column
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

TagsOf = Callable[[View], Sequence[Tag]]
_SILENT = {"quantities": "a quantity that a bill gives", "heights": "a height", "actions": "who is to do it"}
"""Why, by the role of the column."""
_SIZE = re.compile(r"[0-9][0-9 /.,-]{0,10}(?:\"|”|in\.?|mm)?(?:\s[A-Za-z.]{2,12}){0,2}")


def holds_nothing(cell: Cell) -> bool:
    """Whether a cell stands in a column of which nothing describes what its row says."""
    return cell.column is not None and cell.column.role in _SILENT


def says_nothing(row: Clause, cell: Cell, tags: TagsOf) -> str:
    """Why a cell says nothing of goods: it counts, or gives a height, or the size of what carries them; "" where it may say something."""
    if cell.column is not None and cell.column.role in _SILENT:
        return _SILENT[cell.column.role]
    numbered = cell.column is not None and cell.column.role == "numbers" and cell is not row.cells[0]
    if numbered and cell.view.text.strip().isdigit():
        return "the number of a row"
    behind = next((other for one, other in _columns(row) if one is cell.column), None)
    sized = bool(cell.heads) and _carries(cell.heads[-1], tags) and _SIZE.fullmatch(cell.view.text.strip()) is not None
    return "the size of a support" if sized and behind is not None and _spaced(behind, tags) else ""


def head_of_supports(row: Clause, cell: Cell, tags: TagsOf) -> View | None:
    """The head before that of a cell, where the two say together how far apart supports are: `SUPPORT | SPACING`."""
    if cell.column is None or not _spaced(cell.column, tags):
        return None
    before = next((one for one, other in _columns(row) if other is cell.column), None)
    head = before.heads[-1] if before is not None and before.heads else None
    return head if head is not None and _carries(head, tags) else None


def _columns(row: Clause) -> pairwise[tuple[Column, Column]]:
    return pairwise(row.table.columns if row.table is not None else ())


def _carries(head: View, tags: TagsOf) -> bool:
    """Whether a head names what goods are fixed to, and nothing else: `SUPPORT`."""
    return {(t.name, t.value) for t in tags(head)} == {("hint", "framing")}


def _spaced(column: Column, tags: TagsOf) -> bool:
    """Whether the head of a column says how far apart something is, and not what: `SPACING`."""
    names = {t.name for t in tags(column.heads[-1])} if column.heads else set()
    return bool(names & {"ON_CENTER", "SPACED"}) and not names & {"hint", "subject"}
