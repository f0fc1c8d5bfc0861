"""What a trade hands over beside a line: tables and drawings to scale, in words of its own, for every document that can show them.

A list of pieces to cut, a plan of where they go: the line itself says how much to order, and these say how.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from attrs import frozen

from darby.quantities.amounts import Amount

Cell = str | int | Amount | None
"""What a table holds: an amount is shown in its own unit, a whole number counts."""

WHOLE, CUT, AGAIN, OPEN = "whole", "cut", "again", "open"
"""How an area of a drawing looks: as it comes, cut to size, used again, left out."""
LOOKS = (WHOLE, CUT, AGAIN, OPEN)


@frozen
class Table:
    """A table: a title, heads, and rows as long as these."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    note: str = ""
    """A sentence above it."""


@frozen
class Area:
    """A rectangle of a drawing, from the foot of its left side: places and sides in the unit of the drawing."""

    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction
    look: str = WHOLE
    """One of `LOOKS`."""
    text: str = ""
    """What stands in it, as a number; left out where it has no room."""
    more: str = ""
    """What stands behind that, where there is room for both."""


@frozen
class Drawing:
    """Areas to scale within an outline, seen from the front; `width` and `height` are of one unit."""

    title: str
    width: Amount
    height: Amount
    areas: tuple[Area, ...]
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


def none() -> Iterable[Attachment]:
    """Nothing to hand over."""
    return ()
