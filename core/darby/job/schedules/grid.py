"""The places of a table: where its lines and cells stand in the text. Cells are found when they are asked for."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from attrs import field, frozen

from darby.text.spans import Source
from darby.text.toml_scanner import Path, Place

_QUOTED = r'{0}*"((?:[^"]|"")*+)"{0}*'
_CELL = {
    parting: re.compile(_QUOTED.format(blank)) for parting, blank in ((",", r"[ \t]"), (";", r"[ \t]"), ("\t", " "))
}
"""A quoted cell by what parts cells: a tab that parts them is no blank around one."""
_SAYS = re.compile(r"[^\s,;]")


@frozen(eq=False)
class Grid:
    """The places of one schedule: `(row, column name)` is a cell, `(row,)` its line. A list may stand in one cell, or each part in its own."""

    source: Source
    parting: str
    columns: Mapping[str, int]
    starts: list[int] = field(factory=list, repr=False)
    """Offset of the line of each row."""
    _last: list[tuple[int, list[tuple[int, int]]]] = field(factory=list, repr=False)
    """The line last asked about, and its cells: a row's cells are asked for one after the other."""

    def at(self, path: Path) -> Place:
        """The place of a cell; of its line where the row has no such column."""
        start = self.starts[int(path[0])] if path else 0
        end = line_end(self.source.text, start)
        whole = " ".join(map(str, path[1:]))
        name = whole if whole in self.columns or len(path) < 2 else str(path[1])
        if name in self.columns:
            if not self._last or self._last[0][0] != start:
                self._last[:] = [(start, list(cells(self.source.text, start, end, self.parting)))]
            found = self._last[0][1]
            if self.columns[name] < len(found):
                span = self.source.span(*found[self.columns[name]])
                return Place(span, span)
        line = self.source.span(start, end)
        return Place(line, line)

    def is_broken(self, _path: Path) -> bool:
        """Nothing in a schedule is told before its rows are."""
        return False


def cells(text: str, start: int, end: int, parting: str) -> Iterator[tuple[int, int]]:
    """Where each cell of a line stands, without the blanks and quotes around it."""
    at, cell_of = start, _CELL[parting]
    while True:
        quoted = cell_of.match(text, at, end) if text[at : at + 1] in ('"', " ", "\t") else None
        if quoted and (quoted.end() == end or text[quoted.end()] == parting):
            first, last, after = *quoted.span(1), quoted.end()
        else:
            after = text.find(parting, at, end)
            after = end if after < 0 else after
            cell = text[at:after]
            first = at + len(cell) - len(cell.lstrip())
            last = max(first, at + len(cell.rstrip()))
        yield first, last
        if after >= end:
            return
        at = after + 1


def unquoted(cell: str) -> str:
    """The text of a cell as it was before it was written in quotes."""
    return cell.replace('""', '"').strip()


def line_end(text: str, start: int) -> int:
    """Where the line that begins at an offset ends."""
    end = text.find("\n", start)
    end = len(text) if end < 0 else end
    return end - 1 if end > start and text[end - 1] == "\r" else end


def next_line(text: str, start: int) -> int | None:
    """Where the next line that says something begins."""
    match = _SAYS.search(text, start)
    if match is None:
        return None
    return max(text.rfind("\n", start, match.start()) + 1, start)
