"""What a document is taken apart into: clauses, tables and their cells, and stretches that say nothing."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import define, field, frozen

from darby.text.spans import Span, View


@frozen(eq=False)
class Cell:
    """One cell of a table row and the heads of its column, the nearest last."""

    view: View
    heads: tuple[View, ...] = ()
    again: bool = False
    """Whether nothing is to be read in it: it is carried down from a row above, where its numbers were counted, or it only
    cites a footnote."""
    column: Column | None = None
    notes: tuple[Clause, ...] = ()
    """The footnotes that it cites."""


@define(eq=False)
class Column:
    """One column of a table, decided as a whole: what its cells are, and what its head says that they are said of."""

    heads: tuple[View, ...] = ()
    """From the outermost to the nearest."""
    role: str = ""
    """What its cells are: `places`, `units` (kinds of dwellings), `numbers`, `marks`, `surfaces`, `products`, `sheens`, `colors`, `quantities` (of a bill), `statements` (what
    a bill measures), `heights`, `actions`, `remarks`, `labels`
    (names of properties), `amounts`; "" where they do not agree."""
    said_of: str = ""
    """What its head names, where that is a thing and no property: `surface`, `place`, `sheen`, `product`, `mark`,
    or `series` where heads only differ by their place in an order, as `First coat` and `Second coat` do."""


@define(eq=False)
class Table:
    """Rows that stand under the same heads; each is of one thing, whichever way the table lay on the page."""

    columns: Sequence[Column]
    rows: list[Clause] = field(factory=list)
    turned: bool = False
    """Whether its rows were columns of the page."""


@frozen(eq=False)
class Section:
    """A section of a project manual, by its number and title; either may be empty."""

    number: str
    title: str
    division: bool = False
    """Whether it is a whole division, under no section's own heading."""
    ended: bool = False
    """Whether this is what stands behind its end."""

    def __str__(self) -> str:
        return f"{self.number} {self.title}".strip()


@define(eq=False)
class Clause:
    """A stretch of text that says one thing or a few, and what it stands under, nearest first."""

    view: View
    label: str = ""
    parents: tuple[Clause, ...] = ()
    cells: tuple[Cell, ...] = ()
    """Of a table row: its cells; the first one is the row's key."""
    heading: bool = False
    asks: bool = False
    """Whether it is a question, so that nothing in it is an order and the answer is said of what it speaks of."""
    leads_in: bool = False
    """Whether it ends in a colon, so that what follows hangs on it."""
    table: Table | None = None
    """Of a row: the table that it stands in."""
    notes: tuple[Clause, ...] = ()
    """Of a row: the footnotes that it cites as a whole, in its key or in a column of remarks."""
    cited_by: tuple[Citation, ...] = ()
    """Of a footnote: the rows and cells that cite it."""
    section: Section | None = None
    """The section of a manual that it stands in."""

    @property
    def text(self) -> str:
        """The clause's mended text, without its label."""
        return self.view.text

    def beside(self, cell: Cell) -> tuple[Cell, ...]:
        """Of a row: the cells that describe what one of them says, without its key and without those that stand beside it
        as alternatives do: what is said of another surface, room or sheen."""
        mine = cell.column.said_of if cell.column is not None else ""
        return tuple(
            c
            for c in self.cells[1:]
            if c is not cell and not (mine and c.column is not None and c.column.said_of == mine)
        )


@frozen(eq=False)
class Citation:
    """A place that cites a footnote: a row and, where it is not the whole row, the cell."""

    row: Clause
    cell: Cell | None = None


@frozen
class Apart:
    """A stretch of the document that is no part of what it says, and why."""

    span: Span
    why: str


@frozen(eq=False)
class Layout:
    """A document taken apart."""

    clauses: tuple[Clause, ...]
    apart: tuple[Apart, ...]
