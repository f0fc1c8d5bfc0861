"""Tables as the layout lays them, one line a row: `Lobby | WALLS: PT-1 | CEILING: PT-2`; what is carried down stands in <>."""

from __future__ import annotations

from darby.reading.layout.clause import Cell, Clause, Layout
from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.text.spans import Source
from reads import language


def layout(text: str) -> Layout:
    """A document taken apart, under a title of its own."""
    words = language()
    source = Source("s.txt", f"SCHEDULE\n\n{text}")
    return clauses(mend(source, words.known), words.known, words.means)


def table_rows(text: str) -> list[Clause]:
    """The rows of all tables of a text."""
    return [clause for clause in layout(text).clauses if clause.cells]


def laid(text: str) -> list[str]:
    """All rows of a text as they are laid."""
    return [written(row) for row in table_rows(text)]


def written(row: Clause) -> str:
    """One row: its key, then its other cells with their heads, the outermost first."""
    key, *rest = row.cells
    return " | ".join(
        [_text(key), *(" / ".join([*(h.text for h in c.heads)]) + (": " if c.heads else "") + _text(c) for c in rest)]
    )


def _text(cell: Cell) -> str:
    return f"<{cell.view.text}>" if cell.again else cell.view.text
