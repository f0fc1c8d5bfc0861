"""A block of lines to the rows of a table: each knows its table, its heads and the group that it stands in."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence

from attrs import frozen

from darby.reading.layout.clause import Cell, Clause, Column, Table
from darby.reading.layout.tables.blocks import Block
from darby.reading.layout.tables.cells import Chunk, L, shape
from darby.reading.layout.tables.columns import EXACT, Grid, grid
from darby.reading.layout.tables.heads import Means, unheard
from darby.reading.layout.tables.pasted import Pasted
from darby.reading.layout.tables.roles import kinds_of, looks_of
from darby.reading.layout.tables.rows import Row, joined, members, rows_of
from darby.reading.layout.tables.sheets import Sheet, settled
from darby.text.spans import View

_SPANNING = re.compile(r"[|<\s]*-{2,}\s?[A-Za-z][A-Za-z &/.-]{1,40}\s?-{2,}[|>\s]*")
"""A head that is drawn over several columns: `|----- WALLS -----|`."""


def tell_spans(lines: Iterable[L]) -> None:
    """Have heads that are drawn over several columns name the table below them alone, and nothing that follows it."""
    for line in lines:
        if _SPANNING.fullmatch(line.text):
            line.kind = "text"


@frozen(eq=False)
class Tabled:
    """The clauses of a table, in order, and the grid that rows further down may go on with."""

    clauses: Sequence[Clause]
    grid: Grid | None
    table: Table

    @property
    def hanging(self) -> tuple[Clause, int] | None:
        """The row on which lines hang that stand below it and further in than its code, and how far in that is."""
        if self.grid is None:
            return None
        last = self.clauses[-1]
        below = self.grid.bands[0].start + 2 if self.grid.parted == "marks" else self.grid.bands[-1].start
        return (last, below) if self.grid.is_legend and last.cells else None


def tabled(
    view: View,
    block: Block[L],
    known: Callable[[str], bool],
    means: Means = unheard,
    before: Tabled | None = None,
    over: View | None = None,
) -> Tabled | None:
    """The rows of a block of lines. `before` is a table right above, whose columns the lines may go on with; `over` is the
    heading that they stand under."""
    if block.pasted is not None:
        return _from_paste(view, block.pasted, known, means)
    found = grid(view, block, before.grid if before is not None else None, means)
    if found is None:
        return None
    cut: dict[Chunk, View] = {}
    heads = [tuple(cut.setdefault(c, view.cut(c.start, c.end)) for c in over) for over in found.heads]
    sheet = settled(Sheet(heads, rows_of(found, known, means)), means, over)
    if found.again and before is not None and not sheet.turned and len(before.table.columns) == len(sheet.heads):
        table = before.table
    else:
        table = Table(_columns(sheet, means), turned=sheet.turned)
    told = [cut.setdefault(c, view.cut(c.start, c.end)) for c in found.told]
    if sheet.turned:  # the heads of the page are keys of its rows now, but for the one in the corner
        keys = {id(head) for over in heads[1:] for head in over}
        told = [*(head for head in told if id(head) not in keys), *(over[-1] for over in sheet.heads[1:])]
    return Tabled(list(written(sheet, table, told, leads=found.parted not in EXACT)), found, table)


def _from_paste(view: View, pasted: Pasted[L], known: Callable[[str], bool], means: Means) -> Tabled:
    """The rows of a table with one cell a line."""

    def cell(lines: Sequence[L]) -> View:
        first, *more = (view.cut(line.start, line.start + len(line.text)) for line in lines)
        for other in more:
            first = joined(first, other, known)
        return first

    heads = [cell((head,)) for head in pasted.heads]
    count = max(map(len, pasted.columns))
    rows = [Row({n: cell(column[k]) for n, column in enumerate(pasted.columns)}) for k in range(count)]
    sheet = settled(Sheet([(head,) for head in heads], rows), means)
    table = Table(_columns(sheet, means), turned=sheet.turned)
    return Tabled(list(written(sheet, table, heads, leads=False)), None, table)


def _columns(sheet: Sheet, means: Means) -> list[Column]:
    kinds = kinds_of(sheet, means)
    of = looks_of(kinds, sheet, means)
    heads = [(sheet.heads[of[n]][-1], *over) if n in of else over for n, over in enumerate(sheet.heads)]
    return [Column(over, k.role, k.said_of) for over, k in zip(heads, kinds, strict=True)]


def written(sheet: Sheet, table: Table, told: Sequence[View], *, leads: bool = True) -> Iterator[Clause]:
    """The clauses of a sheet: its heads, its rows, and the names of groups over their members. `told` are the heads that
    are no keys; `leads` says whether what goes on below the code of a row hangs on that row."""
    if told:
        yield Clause(View.join(told, " | "), heading=True, table=table)
    keyed: Clause | None = None
    opened: dict[int, Clause] = {}
    for row, group in zip(sheet.rows, members(sheet.rows), strict=True):
        over = (opened[id(group)],) if group is not None and id(group) in opened else ()
        if row.part in ("group", "head"):
            title, more = _titled(row)
            clause = Clause(View.join(title, " | "), heading=True, parents=over)
            opened[id(row)] = clause
            yield clause
            if more:
                yield Clause(View.join(more, " | "), parents=(clause, *over))
            continue
        cells = tuple(_cells(row, table.columns))
        own = [c.view for c in cells if not c.again]
        clause = Clause(View.join(own, " | "), cells=cells, parents=over, table=table)
        if row.part == "child" and leads and keyed is not None and shape(keyed.cells[0].view.text) == "mark":
            clause.parents = (keyed, *over)
        elif row.part == "row" and 0 in row.cells:
            keyed = clause
        table.rows.append(clause)
        yield clause


def _titled(row: Row) -> tuple[list[View], list[View]]:
    """The cells that name a group of rows, and those that say more of it: `RDS 08 | SLUICE`, then `7.9 m2`."""
    cells = list(row.cells.values())
    name = next((n for n, cell in enumerate(cells) if shape(cell.text) == "words"), len(cells) - 1)
    return (cells[: name + 1], cells[name + 1 :]) if row.part == "group" else (cells, [])


def _cells(row: Row, columns: Sequence[Column]) -> Iterator[Cell]:
    for n in sorted({*row.cells, *row.carried}):
        view, again = (row.cells[n], False) if n in row.cells else (row.carried[n], True)
        yield Cell(view, columns[n].heads, again, columns[n])
