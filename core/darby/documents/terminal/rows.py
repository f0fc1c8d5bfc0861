"""Rows in columns without lines, of which there may be very many: what fits its columns is written as it stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest

from rich.cells import cell_len
from rich.console import Console
from rich.segment import Segment, Segments
from rich.style import Style
from rich.table import Table
from rich.text import Text

Cell = tuple[tuple[str, str], ...]
"""The lines of a cell, each with its style."""
Row = Sequence[Cell]

_GAP = 2
_FEW = 200
"""Rows up to which the columns are as wide as all of them together want it; beyond, laying out would take most of the time."""
_LEAST = 12


def show(rows: Sequence[Row], console: Console) -> None:
    """Print rows of two or three cells: a label, what is said, and where; the last is not wrapped."""
    if len(rows) <= _FEW:
        console.print(_table(rows, console.width))
        return
    widths = _widths(rows, console.width)
    waiting: list[Segment] = []
    for row in rows:
        if all(cell_len(text) <= width for cell, width in zip(row, widths, strict=True) for text, _ in cell):
            waiting += _as_it_stands(row, widths)
            continue
        console.print(Segments(waiting), end="")
        waiting = []
        console.print(_table([row], console.width, widths))
    console.print(Segments(waiting), end="")


def _table(rows: Iterable[Row], wide: int, widths: Sequence[int] = ()) -> Table:
    table = Table.grid(padding=(0, _GAP, 0, 0))
    for number, row in enumerate(rows):
        if not number:
            table.add_column(width=widths[0] if widths else None, max_width=_label_at_most(wide))
            for column in range(1, len(row)):
                table.add_column(width=widths[column] if widths else None, no_wrap=column == 2 and not widths)
        table.add_row(*(Text("\n").join(Text(text, style=style) for text, style in cell) for cell in row))
    return table


def _label_at_most(wide: int) -> int:
    return max(_LEAST, wide // 3)


def _widths(rows: Sequence[Row], wide: int) -> list[int]:
    """What the widest cell of each column takes, as far as there is room; what is said takes what the others leave."""
    wanted = [max(cell_len(text) for cell in column for text, _ in cell) for column in zip(*rows, strict=True)]
    label, *where = (min(width, _label_at_most(wide)) for width in (wanted[0], *wanted[2:]))
    left = wide - sum(width + _GAP for width in (label, *where))
    return [label, max(1, min(wanted[1], left)), *where]


def _as_it_stands(row: Row, widths: Sequence[int]) -> Iterator[Segment]:
    """The lines of a row all of whose cells fit."""
    nothing = ("", "")
    for lines in zip_longest(*row, fillvalue=nothing):
        last = max((n for n, (text, _) in enumerate(lines) if text), default=0)
        for number, ((text, style), width) in enumerate(zip(lines[: last + 1], widths, strict=False)):
            yield Segment(text, Style.parse(style) if style else None)
            if number < last:
                yield Segment(" " * (width - cell_len(text) + _GAP))
        yield Segment.line()
