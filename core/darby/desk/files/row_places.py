"""Which row of a job file a place of it lies in."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence

from darby.text.toml_scanner import Path, Place

Row = tuple[str, int]
"""The table of a row, and its number there."""
RowPlaces = tuple[Sequence[int], Sequence[Row | None]]
"""Where each row and each other table begins, in the order of the text, and which row that is; None for another table."""


def row_places(known: Mapping[Path, Place]) -> RowPlaces:
    """Where rows begin in a text whose keys and values stand at the places `known`."""
    found: dict[int, Row | None] = {}
    for path, place in known.items():
        number = path[1] if len(path) > 1 else None
        if isinstance(number, int) and (len(path) == 2 or place.key == place.value):
            found[place.value.start] = str(path[0]), number
        elif place.key == place.value:
            found.setdefault(place.value.start, None)
    starts = sorted(found)
    return starts, [found[start] for start in starts]


def row_at(places: RowPlaces, at: int) -> Row | None:
    """The row in which an offset of the text lies; None where it lies in none."""
    number = bisect_right(places[0], at)
    return places[1][number - 1] if number else None
