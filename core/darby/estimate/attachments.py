"""What a trade hands over beside a line: tables and drawings to scale, in words of its own, for every document that can show them.

A list of pieces to cut, a plan of where they go: the line itself says how much to order, and these say how.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from attrs import frozen

from darby.quantities.amounts import Amount
from darby.quantities.units import LENGTH

Cell = str | int | Amount | None
"""What a table holds: an amount is shown in its own unit, a whole number counts."""

WHOLE = "whole"
"""How an area of a drawing looks that is used as it comes."""
CUT = "cut"
"""How one looks that is cut to size."""
AGAIN = "again"
"""How one looks that is made of what was left over."""
OPEN = "open"
"""How one looks that is left out."""
LOOKS = (WHOLE, CUT, AGAIN, OPEN)


@frozen
class Table:
    """A table of whatever a trade hands over."""

    title: str
    """What it is called."""
    heads: tuple[str, ...]
    """The head of each column."""
    rows: tuple[tuple[Cell, ...], ...]
    """Rows, each as long as the heads; a column holds amounts of one dimension, or none."""
    note: str = ""
    """A sentence above it."""


@frozen
class Area:
    """A rectangle of a drawing."""

    x: Fraction
    """From the left side of the drawing, in its unit."""
    y: Fraction
    """From its foot."""
    width: Fraction
    """In the unit of the drawing."""
    height: Fraction
    """In the unit of the drawing."""
    look: str = WHOLE
    """One of `LOOKS`."""
    text: str = ""
    """What stands in it, as a number; left out where it has no room."""
    more: str = ""
    """What stands behind that, where there is room for both."""


@frozen
class Drawing:
    """Areas to scale within an outline, seen from the front; `width` and `height` are lengths."""

    title: str
    """What it shows."""
    width: Amount
    height: Amount
    areas: tuple[Area, ...]
    """What lies in it, the later above the earlier."""
    outline: tuple[tuple[Fraction, Fraction], ...] = ()
    """Corners of what is drawn, where it is no rectangle."""
    group: str = ""
    """What it belongs to, as a room: drawings of one group stand together."""
    note: str = ""
    """A sentence below it."""

    @property
    def spoken(self) -> str:
        """The drawing in words, for whoever cannot see it."""
        counts = {look: sum(a.look == look for a in self.areas) for look in LOOKS}
        parts = ", ".join(f"{n} {look}" for look, n in counts.items() if n)
        return f"{self.title}, {self.width} by {self.height}: {parts}"


Attachment = Table | Drawing
"""What a line item hands over beside its numbers."""


def unsound(one: object) -> str:
    """What is wrong with something handed over, or nothing."""
    if isinstance(one, Table):
        if not all(isinstance(text, str) for text in (one.title, one.note, *one.heads)):
            return "a table whose title or heads are no text"
        if any(len(row) != len(one.heads) for row in one.rows):
            return f"the table {one.title}, whose rows are not as long as its heads"
        for column in zip(*one.rows, strict=True):
            if any(not isinstance(cell, str | int | Amount | None) for cell in column):
                return f"the table {one.title}, which holds something other than texts, whole numbers and amounts"
            if len({cell.unit.dimension for cell in column if isinstance(cell, Amount)}) > 1:
                return f"the table {one.title}, of which a column measures different things"
        return ""
    if isinstance(one, Drawing):
        sides = [side for area in one.areas for side in (area.x, area.y, area.width, area.height)]
        if any(isinstance(side, float) for side in sides):
            return f"the drawing {one.title}, whose measures are not exact"
        if not all(isinstance(a, Amount) and a.unit.dimension == LENGTH for a in (one.width, one.height)):
            return f"the drawing {one.title}, whose width or height is no length"
        if not all(isinstance(text, str) for text in (one.title, one.group, one.note)):
            return "a drawing whose title is no text"
        return "" if all(area.look in LOOKS for area in one.areas) else f"the drawing {one.title}, with an unknown look"
    return f"a {type(one).__name__} where a table or a drawing is wanted"


def none() -> Iterable[Attachment]:
    """Nothing to hand over."""
    return ()
