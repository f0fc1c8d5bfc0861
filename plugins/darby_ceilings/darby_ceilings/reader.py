"""The reader of suspended ceilings: a place has one, whatever else is said of it."""

from __future__ import annotations

from importlib.resources import files
from typing import Any

from darby.api import NUMBER_ONLY, Fact, Kind, Reader

PANEL = "lay-in panel"

HUNG = Kind("hung", frozenset({NUMBER_ONLY}), wanted="Which ceilings are suspended?")
"""A rule of it is a choice, `suspended`: nothing is counted."""


class Meaning:
    """What the trees of hung.lark mean."""

    def hung(self, _parts: list[Any]) -> Fact:
        """`suspended ceiling`"""
        return Fact(HUNG.name, subject=PANEL, choice="suspended")


READER = Reader("ceilings", (HUNG,), (files("darby_ceilings") / "hung.lark").read_text(encoding="utf-8"), Meaning())
