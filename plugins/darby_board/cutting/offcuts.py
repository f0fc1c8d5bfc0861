"""What is left of sheets that were cut, ready to be used again: a tight fit is found quickly, whatever there is of it."""

from __future__ import annotations

from bisect import bisect_left, insort
from typing import NamedTuple

_SHELVES = 16
"""Offcuts are kept by their length, in so many parts of a sheet's."""
_LOOKS = 3
"""Offcuts of each shelf that are looked at for a piece, the narrowest first: a bound on the search."""


class Offcut(NamedTuple):
    """A rectangle left of a sheet, and where it lies in it."""

    width: int
    length: int
    sheet: int
    x: int
    y: int


class Offcuts:
    """Offcuts of sheets of one width. Boards are not turned: length stays along the length of the sheet."""

    def __init__(self, width: int, longest: int) -> None:
        self._width = width
        self._part = -(-longest // _SHELVES)
        self._whole: list[Offcut] = []
        """Those of a sheet's full width, the shortest first."""
        self._strips: list[list[Offcut]] = [[] for _ in range(_SHELVES + 1)]
        """The others by length, each shelf with the narrowest first."""

    def put(self, offcut: Offcut) -> None:
        """Add one; nothing of no width or length is kept."""
        if offcut.width <= 0 or offcut.length <= 0:
            return
        insort(self._whole if offcut.width == self._width else self._strips[offcut.length // self._part], offcut)

    def whole(self, length: int) -> Offcut | None:
        """The shortest of full width that is long enough."""
        at = bisect_left(self._whole, (self._width, length))
        return self._whole[at] if at < len(self._whole) else None

    def fitting(self, width: int, length: int) -> list[Offcut]:
        """Some that are wide and long enough, the tightest of each shelf among them."""
        found = [] if (whole := self.whole(length)) is None else [whole]
        for shelf in self._strips[length // self._part :]:
            at = bisect_left(shelf, (width,))
            found += (one for one in shelf[at : at + _LOOKS] if one.length >= length)
        return found

    def take(self, offcut: Offcut) -> None:
        """Take one away."""
        shelf = self._whole if offcut.width == self._width else self._strips[offcut.length // self._part]
        shelf.pop(bisect_left(shelf, offcut))
