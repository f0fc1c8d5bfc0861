"""Which lines stand together as a table, and what parts their cells."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Generic

from attrs import frozen

from darby.reading.layout.tables.cells import (
    GAP,
    LEADER,
    LEADING_MARK,
    Chunk,
    L,
    Line,
    Parted,
    chunks,
    is_rule,
    listed,
    parting,
    shape,
    spread_out,
)
from darby.reading.layout.tables.heads import DIFFER, PROPERTY, Means, unheard
from darby.reading.layout.tables.pasted import Pasted, pasted
from darby.reading.layout.tables.spaced import spaced

_LONGEST = 400
_CAPTION = re.compile(r"TABLE\s+[0-9A-Z]{1,3}\b")
_LIST = 3
"""Lines that have to agree before commas, or codes with one blank behind them, make them rows."""
_NAME = 60
"""Letters in the name of a group of rows."""
_MOST_STARTS = 400
_SOME = 40
"""Rows that tell where the columns of a table begin."""
_NEXT_CODE = 10
"""Lines down to which the next code of a legend is looked for."""
_CUT = 4
"""Lines that can stand between a table and a single row of it."""
_SIGNS = "|,;\t "
"""What an empty row of a sheet consists of."""
NEAR = 1
"""Letters by which two cells of one column may begin apart."""


@frozen(eq=False)
class Block(Generic[L]):
    """Lines that stand together, and what parts their cells; a line that is no row stands alone."""

    lines: Sequence[L]
    parted: Parted = ""
    pasted: Pasted[L] | None = None
    """Of a table with one cell a line: which line is which cell."""
    cells: Sequence[Sequence[Chunk]] = ()
    """Of a table whose columns are closed up: the cells of each line."""
    loose: bool = False
    """Whether a line is what was left over of such a table, and goes on with nothing."""


def blocks(lines: Sequence[L], means: Means = unheard) -> Iterator[Block[L]]:
    """The lines of a document as tables and single lines, in order."""
    at, looked, last, starts = 0, 0, -_CUT, set[int]()
    while at < len(lines):
        parts, end = pasted(lines, at, means) if at >= looked else ([], at)
        looked = max(looked, end)
        for part in parts:
            yield Block(part.lines, "lines", part) if isinstance(part, Pasted) else Block([part], loose=True)
        if parts:
            at = end
            continue
        if cells := spaced(lines, at, means):
            yield Block(lines[at : at + len(cells)], "words", cells=cells)
            at += len(cells)
            continue
        parted, end = _listed(lines, at)
        if not parted and (parted := _part(lines[at]) or _drawn(lines, at)):
            end = _end(lines, at, parted)
            if end - at == 1 and not LEADER.search(lines[at].text) and not _pairs(lines[at]):
                goes_on = at - last < _CUT and _fits(lines[at], starts)
                parted = parted if parted == "gaps" and (goes_on or _opens_legend(lines, at)) else ""
        if not parted:
            end = at + 1
        elif parted == "gaps":
            last, starts = end, {c.at for line in lines[at : min(end, at + _SOME)] for c in cut(line, parted)}
        elif parted == "pipes":
            _tell_empty(lines[at:end])
        for first, beyond in pairwise([at, *_tables_in(lines, at, end, parted, means), end]):
            yield Block(lines[first:beyond], parted)
        at = end


def _tables_in(lines: Sequence[L], at: int, end: int, parted: Parted, means: Means) -> Iterator[int]:
    """Where further tables of a sheet begin that a spreadsheet wrote as one: behind an empty row, with a title, heads of their own or both."""
    if parted not in ("pipes", "tabs", "commas", "semicolons"):
        return
    width = max((len(cut(line, parted)) for line in lines[at : min(end, at + _SOME)]), default=0)
    for n in range(at + 1, end):
        if lines[n].text.strip(_SIGNS) or n + 1 >= end:
            continue
        rows = [
            r
            for line in lines[n + 1 : min(end, n + 1 + _SOME)]
            if (r := [line.text[c.start - line.start : c.end - line.start] for c in cut(line, parted)])
        ]
        titled = len(rows) > 1 and len(rows[0]) == 1
        below = rows[titled:]
        if len(below) > 1 and (_names_columns(below[0], means) or (titled and 2 * len(below[0]) < width)):
            yield n + 1


def _names_columns(row: Sequence[str], means: Means) -> bool:
    """Whether all cells of a row are words, most of which name what stands below them."""
    known = sum(bool(means(text) & (PROPERTY | {"surface", "product"})) for text in row)
    return len(row) > 1 and 2 * known > len(row) and not any(shape(text) in DIFFER for text in row)


def _tell_empty(lines: Sequence[Line]) -> None:
    """Note in the blank before a row that its first cell is empty: that is what a pipe opens that opens no other row."""
    opened = [line for line in lines if line.text.startswith("|")]
    drawn = sum(is_rule(line.text) for line in lines if not line.text.startswith("|"))
    for line in opened if len(opened) + drawn < len(lines) else ():
        line.before += "|"


def cut(line: Line, parted: Parted) -> list[Chunk]:
    """The cells of a line."""
    return chunks(line.text, line.start, line.indent, parted, line.before)


def _part(line: Line) -> Parted:
    """What makes a line a row by itself, if anything does."""
    if line.style or line.kind == "title" or len(line.text) > _LONGEST:
        return ""
    parted = parting(line.text)
    if parted == "gaps" and line.kind == "heading":
        return ""
    if parted == "gaps" and not LEADER.search(line.text):
        caption = _CAPTION.match(line.text) and len(GAP.findall(line.text)) == 1
        return "" if caption or spread_out(line.text) else parted
    return parted


def _drawn(lines: Sequence[Line], at: int) -> Parted:
    """What parts the row below a line that only draws the upper edge of its table."""
    return _part(lines[at + 1]) if is_rule(lines[at].text) and at + 1 < len(lines) else ""


def _pairs(line: Line) -> bool:
    """Whether a row that stands alone holds two labels and their values: `Rate   400 sq ft/gal   Package   5 gal`."""
    cells = [shape(line.text[c.at - line.indent : c.far - line.indent]) for c in cut(line, "gaps")]
    return len(cells) >= 4 and len(cells) % 2 == 0 and {*cells[::2]} == {"words"} and {*cells[1::2]} == {"number"}


def _fits(line: Line, starts: set[int]) -> bool:
    """Whether a row that stands alone goes on with the columns of a table right above."""
    cells = cut(line, "gaps")
    coded = shape(line.text[: cells[0].end - line.start]) == "mark"
    return (
        (len(cells) > 2 or (coded and len(cells) == 2)) and cells[0].at - NEAR <= min(starts) and aligned(cells, starts)
    )


def _opens_legend(lines: Sequence[Line], at: int) -> bool:
    """Whether a row that stands alone gives a code, and a little further down another one does."""
    first = _coded(lines[at])
    return first is not None and first in map(_coded, lines[at + 1 : at + _NEXT_CODE])


def _coded(line: Line) -> tuple[int, ...] | None:
    """Where the two cells of a row begin of which the first is a code."""
    cells = cut(line, "gaps") if _part(line) == "gaps" else []
    coded = len(cells) == 2 and shape(line.text[: cells[0].end - line.start]) == "mark"
    return tuple(c.at for c in cells) if coded else None


def _listed(lines: Sequence[Line], at: int) -> tuple[Parted, int]:
    """Rows that only their neighbours show to be rows: comma-separated values, one pipe to a line, codes that open lines."""
    first = lines[at]
    if first.style or first.kind == "title" or len(first.text) > _LONGEST:
        return "", at
    if first.text.count("|") == 1:
        end = _while(lines, at, lambda line: line.text.count("|") == 1)
        return ("pipes", end) if end - at > 1 else ("", at)
    if parted := listed(first.text):
        end = _while(lines, at, lambda line: listed(line.text) == parted)
        return (parted, end) if end - at >= _LIST else ("", at)
    return _legend(lines, at)


def _while(lines: Sequence[Line], at: int, alike: Callable[[Line], bool]) -> int:
    while at < len(lines) and not lines[at].style and len(lines[at].text) <= _LONGEST and alike(lines[at]):
        at += 1
    return at


def _legend(lines: Sequence[Line], at: int) -> tuple[Parted, int]:
    """Lines that open with codes of one kind, one blank behind them, each its own: a legend whose columns a paste lost.

    Between them lines go on that begin small or stand further in."""
    stem, seen, end = "", set[str](), at
    while end < len(lines) and not lines[end].style and not (lines[end].blank_before and end > at):
        line, found = lines[end], LEADING_MARK.match(lines[end].text)
        if GAP.search(line.text):
            break
        if found is None:
            if end == at or not (line.text[:1].islower() or line.indent > lines[at].indent):
                break
        else:
            letters = found["mark"].rstrip("0123456789abcdefghijklmnopqrstuvwxyz")
            if found["mark"] in seen or letters != (stem or letters):
                break
            stem = letters
            seen.add(found["mark"])
        end += 1
    return ("marks", end) if len(seen) >= _LIST else ("", at)


def _end(lines: Sequence[Line], at: int, parted: Parted) -> int:
    """Where the rows that begin at a line end: with the lines that go on in their columns."""
    first = lines[at + 1] if is_rule(lines[at].text) and at + 1 < len(lines) else lines[at]
    end, starts = at + 1, {c.at for c in cut(first, parted)}
    second = sorted(starts)[1] if parted == "gaps" and len(starts) > 1 else 0
    while end < len(lines):
        line = lines[end]
        if is_rule(line.text):
            pass
        elif parted != "gaps":
            if _part(line) != parted or (parted == "tabs" and line.blank_before):
                break
        elif line.blank_before:
            break
        elif _part(line) == "gaps":
            if len(starts) < _MOST_STARTS:
                starts.update(c.at for c in cut(line, "gaps"))
        elif not line.style and second and line.indent >= second:
            pass  # a cell that goes on below its label
        elif not _names_a_group(lines, end, starts):
            break
        end += 1
    return end


def _names_a_group(lines: Sequence[Line], at: int, starts: set[int]) -> bool:
    """Whether a line between rows belongs to them: the name of the rows below it, or a key that goes on."""
    line = lines[at]
    after = lines[at + 1] if at + 1 < len(lines) else None
    if line.style or len(line.text) > _NAME or line.text.endswith((".", ";", "!", "?")):
        return False
    if after is None or after.blank_before or _part(after) != "gaps":
        return False
    return aligned(cut(after, "gaps"), starts)


def aligned(cells: Sequence[Chunk], starts: set[int]) -> bool:
    """Whether the cells of a line, but for the first one, begin where cells of other rows do."""
    rest = cells[1:]
    meets = sum(any(c.at + n in starts for n in range(-NEAR, NEAR + 1)) for c in rest)
    return bool(rest) and 2 * meets > len(rest)
