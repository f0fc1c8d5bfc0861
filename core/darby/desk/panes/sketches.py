"""Sketches of what was measured, to scale: the plan of a room, the face of a wall with its openings. Only for the eye."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from attrs import frozen

from darby.quantities.amounts import Amount

_WIDE, _HIGH = 150, 90
"""The box that a sketch fits in, in the units of its picture."""


@frozen
class Box:
    """A rectangle of a sketch, in whole units of its picture."""

    x: int
    y: int
    width: int
    height: int


@frozen
class Sketch:
    """An outline with what lies in it, and what is written along it."""

    outline: Box
    inside: tuple[Box, ...]
    across: str
    along: str
    said: str
    """The same in words."""


def sketch_of(table: str, made: Sequence[Any]) -> Sketch | None:
    """A sketch of a row of `rooms`, `walls` or `ceilings`, of the surfaces it gave; None where it has no sides to draw."""
    if table == "rooms":
        ceiling = next((s for s in made if s.kind == "ceiling" and s.length is not None and s.height is not None), None)
        walls = [s for s in made if s.kind == "wall" and s.length is not None]
        if ceiling is not None:
            return _drawn(ceiling.length, ceiling.height, (), "Plan")
        if len(walls) == 4:
            return _drawn(walls[0].length, walls[1].length, (), "Plan")
        return None
    if table in ("walls", "ceilings") and made:
        one = made[0]
        if one.length is not None and one.height is not None:
            return _drawn(one.length, one.height, one.openings if table == "walls" else (), "Face")
    return None


def _drawn(across: Amount, along: Amount, openings: Sequence[Any], what: str) -> Sketch | None:
    wide, high = (int(side.to("mm").value) for side in (across, along))
    if wide <= 0 or high <= 0:
        return None
    most = max(wide * _HIGH, high * _WIDE)  # of wide/_WIDE and high/_HIGH the larger, over a common denominator

    def scaled(size: int) -> int:
        return max(1, size * _WIDE * _HIGH // most)

    width, height = scaled(wide), scaled(high)
    inside: list[Box] = []
    x = 4
    for opening in openings:
        for _ in range(min(int(opening.count.value), 20)):
            w, h = (scaled(int(side.to("mm").value)) for side in (opening.width, opening.height))
            inside.append(Box(min(x, max(0, width - w)), max(0, height - h), w, h))
            x += w + 4
    said = f"{what}: {across} by {along}" + (f", {len(inside)} openings" if inside else "")
    return Sketch(Box(0, 0, width, height), tuple(inside), str(across), str(along), said)
