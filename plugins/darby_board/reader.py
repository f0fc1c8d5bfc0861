"""The reader of how sheets are counted: by area or by layout, with a share on top, and what becomes of offcuts."""

from __future__ import annotations

from importlib.resources import files
from typing import Any

from darby.api import NUMBER_ONLY, PERCENT, Fact, Kind, Quantity, Reader
from darby_board.checks import BOARD

COUNTED = Kind("sheets counted", frozenset({NUMBER_ONLY}), wanted="how sheets of {subject} are counted")
"""`by area` or `by layout`."""
OFFCUTS = Kind("offcuts", frozenset({NUMBER_ONLY}), wanted="where offcuts of {subject} are used again")
"""`in the same room`, `anywhere in the job` or `not used again`."""


class Meaning:
    """What the trees of cutting.lark mean: one method for each name in the grammar, called with what its parts mean."""

    def counted(self, parts: list[Any]) -> Fact | None:
        """`Board by layout.`"""
        return Fact(COUNTED.name, subject=BOARD, choice=parts[-1].value) if parts[0].value == BOARD else None

    def counted_and_more(self, parts: list[Any]) -> list[Fact] | None:
        """`Board by area, plus 10 %.`: how it is counted, and a share for waste of that count alone."""
        if parts[0].value != BOARD:
            return None
        at = next(n for n, part in enumerate(parts) if part.name == "COUNTED")
        more = Quantity(parts[-2].number, PERCENT)
        return [
            Fact(COUNTED.name, subject=BOARD, choice=parts[at].value, end=at + 1),
            Fact("waste", more, subject=BOARD, scope=(("method", parts[at].value),), start=at + 1),
        ]

    def reused(self, parts: list[Any]) -> Fact:
        """`Offcuts: used again in the same room.`"""
        return Fact(OFFCUTS.name, subject=BOARD, choice=parts[-1].value)


READER = Reader(
    "board", (COUNTED, OFFCUTS), (files("darby_board") / "cutting.lark").read_text(encoding="utf-8"), Meaning()
)
