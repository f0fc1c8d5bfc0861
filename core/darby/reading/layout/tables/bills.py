"""Bills of quantities whose items run over several lines, with what is measured of each beside its last, and minutes with who is to do
something beside their items: lines cut by the columns of the head, so that what is left of them is running text under the letters or numbers
of the items.

Where the quantity stands beside the first line of each item the bill is a table like others, and no matter of this module.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from attrs import frozen

from darby.reading.layout.tables.cells import Chunk, Line, chunks
from darby.reading.layout.tables.heads import Means

_ITEM = re.compile(r"(?P<item>[A-Z]{1,2}|[A-Z]{0,2}[0-9]{1,3}(?:[./][0-9]{1,3}){0,3}[A-Za-z]?)[.)]?(?:\s+(?=\S)|$)")
_COLUMNS = 3
_MEASURED, _ACTION = "a quantity that a bill gives", "who is to do it"
_WIDE = 20
"""Letters from the head of what is described to the next at the least."""
_NEAR = 4
"""Letters by which what is measured may begin left of its head."""
_FEWEST = 2


@frozen
class BillLine:
    """A line of such a bill: where its item, its words and what is beside them stand in the view; an empty stretch where there is none."""

    number: int
    item: tuple[int, int]
    words: tuple[int, int]
    beside: tuple[int, int]
    at: int
    """Letters before its words."""
    why: str
    """What stands beside its words."""


def bill_lines(lines: Sequence[Line], means: Means) -> Iterator[BillLine]:
    """The lines of all such bills of a document."""
    at = 0
    while at < len(lines):
        columns = _head(lines[at], means)
        if columns is None:
            at += 1
            continue
        found = list(_below(lines, at + 1, means, *columns))
        items = [line for line in found if line.item[1] > line.item[0]]
        wrapped = sum(line.beside[0] == line.beside[1] for line in items)
        if len(items) >= _FEWEST and (2 * wrapped >= len(items) or columns[2] == _ACTION):
            yield from found
            at = found[-1].number
        at += 1


def _cells(line: Line) -> list[Chunk]:
    return chunks(line.text, line.start, line.indent, "gaps", line.before)


def _head(line: Line, means: Means) -> tuple[int, int, str] | None:
    """Where under a head of such a bill what is described begins, and what stands beside it, and what that is; None where a line is none."""
    if line.style or "  " not in line.text:
        return None
    cells = _cells(line)
    said = [means(line.text[c.start - line.start : c.end - line.start]) for c in cells]
    if len(cells) < _COLUMNS:
        return None
    why = _ACTION if "actions" in said[-1] else _MEASURED if any("quantities" in what for what in said) else ""
    wide, low, high = max((b.at - a.at, a.at, b.at) for a, b in pairwise(cells))
    return (low, high - _NEAR, why) if why and wide >= _WIDE else None


def _below(lines: Sequence[Line], at: int, means: Means, low: int, high: int, why: str) -> Iterator[BillLine]:
    """The lines under such a head, down to the next one or to what is no part of the bill."""
    for number in range(at, len(lines)):
        line = lines[number]
        if _head(line, means) is not None:
            return
        cells = _cells(line)
        said = [c for c in cells if c.at < high]
        measured = (cells[len(said)].start, cells[-1].end) if len(said) < len(cells) else (line.start, line.start)
        if not said:
            yield BillLine(number, (line.start, line.start), (line.start, line.start), measured, line.indent, why)
            continue
        start, end = said[0].start, said[-1].end
        item = (start, start)
        if said[0].at < low - 1:
            found = _ITEM.match(line.text)
            if found is None:
                return  # what stands left of all that is described is no part of the bill
            item = (start, start + found.end("item"))
            start = min(start + found.end(), end)
        yield BillLine(number, item, (start, end), measured, low, why)
