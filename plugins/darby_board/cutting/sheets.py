"""Pieces cut from sheets: the offcut that loses least first, else a new sheet, and what is left kept for later."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from typing import NamedTuple

from darby_board.cutting.offcuts import Offcut, Offcuts

FULL, NEW, OFFCUT = "full sheet", "new sheet", "offcut"
"""What a piece is made of: a whole sheet as it comes, the first cut of a sheet, or what was left of one."""


class Cut(NamedTuple):
    """Where a piece was cut: which sheet, at which place in it, and from what."""

    sheet: int
    x: int
    y: int
    of: str


class Stock:
    """Sheets of one width in one or more lengths, those that were opened, and the offcuts of these.

    Lengths are in the measure of the faces. `again` is False where no offcut is used again.
    """

    def __init__(self, width: int, lengths: Sequence[int], *, again: bool = True) -> None:
        self.width = width
        self.lengths = sorted(lengths)
        self.again = again
        self.opened: list[int] = []
        """Length of each sheet that was opened."""
        self.offcuts = Offcuts(width, self.lengths[-1])

    def cost(self, length: int) -> int:
        """What a piece of full width costs: what the best offcut for it, or a new sheet, loses of its worth."""
        had = self.offcuts.whole(length) if self.again else None
        if had is not None:
            return self._worth(self.width, had.length) - self._worth(self.width, had.length - length)
        new = self._long_enough(length)
        return self.width * new - self._worth(self.width, new - length)

    def cut(self, width: int, length: int) -> Cut:
        """Cut a piece, from an offcut where one is used again and fits."""
        had = self._best(width, length) if self.again else None
        if had is not None:
            self.offcuts.take(had)
            self._keep(had, width, length)
            return Cut(had.sheet, had.x, had.y, OFFCUT)
        new = self._long_enough(length)
        sheet = len(self.opened)
        self.opened.append(new)
        self._keep(Offcut(self.width, new, sheet, 0, 0), width, length)
        return Cut(sheet, 0, 0, FULL if (width, length) == (self.width, new) else NEW)

    def _worth(self, width: int, length: int) -> int:
        """What a rectangle of board is worth for use: less for each length of it, the shorter it is."""
        return width * length * length // self.lengths[-1]

    def _best(self, width: int, length: int) -> Offcut | None:
        """The offcut that loses least of its worth; None where none fits."""
        if width == self.width:
            return self.offcuts.whole(length)
        return min(self.offcuts.fitting(width, length), key=lambda had: self._lost(had, width, length), default=None)

    def _lost(self, had: Offcut, width: int, length: int) -> int:
        left = self._worth(had.width - width, had.length) + self._worth(width, had.length - length)
        return self._worth(had.width, had.length) - left

    def _keep(self, had: Offcut, width: int, length: int) -> None:
        """Keep what is left of a rectangle once a piece is cut off its corner: ripped along its whole length first."""
        if self.again:
            wide, long, sheet, x, y = had
            self.offcuts.put(Offcut(width, long - length, sheet, x + length, y))
            self.offcuts.put(Offcut(wide - width, long, sheet, x, y + width))

    def _long_enough(self, length: int) -> int:
        return self.lengths[bisect_left(self.lengths, length)]
