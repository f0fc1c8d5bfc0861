"""Bills of quantities whose items run over several lines, with what is measured of each beside its last, and minutes with who is to do
something beside their items: lines cut by the columns of the head, so that what is left of them is running text under the letters or numbers
of the items.

Where the quantity stands beside the first line of each item, and neither blank lines nor names of chapters stand between the items, the bill
is a table like others, and no matter of this module. Blanks at the
ends of lines that wait for a price are cut off too, whatever bill or form they stand in.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from attrs import frozen

from darby.reading.layout.tables.cells import Chunk, Line, chunks
from darby.reading.layout.tables.heads import Means
from darby.text.spans import Span, View

_ITEM = re.compile(r"(?P<item>[A-Z]{1,2}|[A-Z]{0,2}[0-9]{1,3}(?:[./][0-9]{1,3}){0,3}[A-Za-z]?)[.)]?(?:\s+(?=\S)|$)")
_COLUMNS = 3
_MEASURED, _ACTION = "a quantity that a bill gives", "who is to do it"
_WIDE = 20
"""Letters from the head of what is described to the next at the least."""
_NEAR = 4
"""Letters by which what is measured may begin left of its head."""
_FEWEST = 2
_PLURAL = re.compile(r"(?<=[A-Z])s\b")
"""The letter that is small in a name in capitals: `JUNIOR WCs`."""


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
    chapter: bool = False
    """Whether it only names the items below it."""


_PRICE = re.compile(
    r"(?:(?<![A-Z$])(?:US|CA|AU|NZ)?[$£€]|\b(?:USD|CAD|AUD|EUR|GBP|INR|Rs\.?)) {0,20}[_.…]{3,60}(?:\s?/?\s?(?:LS|EA|SF|LF|m2|m|each|lump sum))?\.?$"
)
"""A blank for a price at the end of a line."""
_PRICE_HEAD = re.compile(r"(?:UNIT |LUMP SUM )?(?:PRICE|AMOUNT|COST|BID)S?(?: \([$£€A-Z]{1,3}\))?|[$£€]", re.IGNORECASE)
_FAR = 30
"""Letters from the edge at the least, where a word alone on its line heads a column of such blanks."""


def cut_prices(lines: Sequence[Line], view: View) -> Iterator[Span]:
    """Cut blanks for prices off the lines that they end, and tell where they stand. The head of a column of them says nothing, and is left empty."""
    ends = {n: _said(line.text[: found.start()]) for n, line in enumerate(lines) if (found := _PRICE.search(line.text))}
    heads = [n for n, line in enumerate(lines) if line.indent >= _FAR and _PRICE_HEAD.fullmatch(line.text)]
    ends.update(dict.fromkeys(heads if ends else (), 0))
    for number, end in ends.items():
        line = lines[number]
        yield view.span(line.start + end, line.end)
        line.text, line.shape, line.end = line.text[:end], line.shape[:end], line.start + end
        if not end and number + 1 < len(lines):
            lines[number + 1].blank_before |= line.blank_before


def _said(text: str) -> int:
    """Letters of what stands before a blank, without the dots that lead to it."""
    bare = text.rstrip(" .…")
    dots = text[len(bare) :]
    return len(bare) + ((dots[:1] == "." and dots[1:2] not in ("", ".")) or dots == ".") - bare.endswith(",")


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
        cut = any(line.chapter or lines[line.number].blank_before for line in found)  # such rows are no table
        if len(items) >= _FEWEST and (2 * wrapped >= len(items) or columns[2] == _ACTION or cut):
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
        words = _PLURAL.sub("", line.text[start - line.start : end - line.start])
        chapter = item[0] == item[1] and measured[0] == measured[1] and words.isupper()
        yield BillLine(number, item, (start, end), measured, low, why, chapter)
