"""The reader of batts: how wide they are for which supports, and how thick."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.resources import files
from typing import Any

from darby.api import LENGTH, UNITS, Fact, Kind, Quantity, Reader, Tag

BATT = "batt insulation"

THICKNESS = Kind("batt thickness", frozenset({LENGTH}), more="larger", wanted="What thickness of {subject}{where}?")
WIDTH = Kind("batt width", frozenset({LENGTH}), wanted="What width of {subject} for its framing?", known_to="supplier")
"""A width has the spacing of the supports that it is made for in `by`."""


class Batts:
    """What the trees of batts.lark mean: one method for each name in the grammar, called with what its parts mean."""

    def length(self, parts: list[Any]) -> Quantity:
        """A number and its unit."""
        number, unit = parts
        return Quantity(number.number, unit.unit)

    def feet_inches(self, parts: list[Any]) -> Quantity:
        """`1'-4"`, which the tagger has made one number of feet."""
        return Quantity(parts[0].number, UNITS["ft"])

    def width(self, parts: list[Any]) -> Fact:
        """`15 in. wide for supports at 16 in. o.c.`"""
        wide, spacing = (part for part in parts if isinstance(part, Quantity))
        return Fact(WIDTH.name, wide, by=spacing, subject=BATT)

    def thickness_behind(self, parts: list[Any]) -> Fact | None:
        """`Batt insulation: 3 1/2 in. thick`"""
        return self._thickness(parts[0], parts[-2])

    def thickness_before(self, parts: list[Any]) -> Fact | None:
        """`3 1/2 in. thick kraft-faced batts`"""
        return self._thickness(parts[-1], parts[0], parts[2:-1])

    def _thickness(self, product: Tag, thick: Quantity, types: Sequence[Tag] = ()) -> Fact | None:
        """None refuses the match: how thick anything else is, is for others to read."""
        scope = tuple((tag.name, tag.value) for tag in types)
        return Fact(THICKNESS.name, thick, scope=scope, subject=BATT) if product.value == BATT else None


READER = Reader(
    "batts", (THICKNESS, WIDTH), (files("darby_example") / "batts.lark").read_text(encoding="utf-8"), Batts()
)
