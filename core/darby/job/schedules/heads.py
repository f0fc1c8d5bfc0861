"""What a column is, by its head: a key of the job file, however people call it, and the unit of its bare numbers."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Mapping
from functools import cache
from importlib.resources import files

from attrs import frozen

from darby.quantities.units import AREA, LENGTH, UnitError, parse

_BRACKETS = re.compile(r"\s*[(\[]\s*([^()\[\]]{1,20}?)\s*[)\]]\s*$")
_LAST_WORDS = re.compile(r"^(.+?)(?:\s*[,/]\s*|\s+(?:in\s+)?)((?:sq\.?\s*)?[^\W\d]{1,6}[2²]?\.?)$")
_AS_WRITTEN = {"sf": "sq ft", "sqft": "sq ft", "sqm": "m2", "lf": "ft", "lm": "m", "feet": "ft"}
_MEASURED = frozenset("length width height perimeter area end_height peak rise drop depth reveal".split())
_AREAS = frozenset({"area"})
SIDES = {"between 0": "the room on one side", "between 1": "the room on the other"}
"""Columns with one room each of the two between which a wall stands, and what they are."""


@frozen
class Head:
    """The head of a column: what it is taken for, and the unit that it gives to bare numbers, if any."""

    key: str
    """The key, or the head itself where it is none that is known."""
    unit: str = ""
    said: str = ""
    """As it is written."""
    aside: bool = False
    """Whether the column says by its head that it orders nothing."""

    @property
    def means(self) -> str:
        """The key in words."""
        return SIDES.get(self.key, self.key)

    @property
    def is_plain(self) -> bool:
        """Whether it is written as the job file writes it."""
        return plain(self.said) == self.key and not self.unit


@cache
def _words() -> Mapping[str, Mapping[str, str]]:
    """Each spelling by the table that it stands in, with its key."""
    data = tomllib.loads((files("darby.job.schedules") / "heads.toml").read_text("utf-8"))
    return {
        table: {spelled: key for key, spellings in rows.items() for spelled in spellings}
        for table, rows in data.items()
    }


def usual_keys() -> Collection[str]:
    """The keys that people have other words for, those of trades among them."""
    return dict.fromkeys(_words()["heads"].values())


def plain(text: str) -> str:
    """A head as keys are written: `Outside Corners` is `outside_corners`."""
    return "_".join(text.casefold().split())


def head_of(text: str, known: Collection[str], *, walls: bool = False) -> Head:
    """What a head is taken for. `known` are the keys that may stand over a column; `walls` is true over a list of walls alone."""
    said = " ".join(text.split())
    if walls and (key := _words()["walls"].get(said.casefold(), "")) in (*known, *SIDES):
        return Head(key, said=said)
    for words, unit in ((said, ""), *_without_unit(said)):
        key = _key(words, known)
        if key and (not unit or (key in _MEASURED and _fits(unit, key))):
            return Head(key, unit, said)
    aside = said.casefold() in _words()["aside"]
    return Head(plain(said), said=said, aside=aside)


def is_mark_or_type(head: str) -> bool:
    """Whether a head may stand over the names of walls or over their types."""
    return head.casefold() in _words()["mark_or_type"]


def faces_of(cell: str) -> int | None:
    """How many faces a cell tells in words; None where it tells none."""
    said = _words()["faces"].get(" ".join(cell.casefold().split()))
    return int(said) if said else None


def no_room(cell: str) -> bool:
    """Whether a cell says that there is no room."""
    return " ".join(cell.casefold().split()) in _words()["no_room"]


def _key(words: str, known: Collection[str]) -> str:
    if (key := plain(words)) in known:
        return key
    key = _words()["heads"].get(words.casefold(), "")
    return key if key in known else ""


def _without_unit(said: str) -> list[tuple[str, str]]:
    """The head without the unit at its end, and this, where there is one: `L (ft)`, `Height, m`, `Length in feet`."""
    found = []
    for pattern in (_BRACKETS, _LAST_WORDS):
        match = pattern.search(said)
        if match is None:
            continue
        words, last = (said[: match.start()], match[1]) if pattern is _BRACKETS else (match[1], match[2])
        if unit := unit_of(last):
            found.append((words.rstrip(" ,"), unit))
    return found


def unit_of(text: str) -> str:
    """A unit of length or area, by any of its spellings; nothing where it is none."""
    word = text.strip(" ()[]").casefold()
    word = _AS_WRITTEN.get(word.replace(".", ""), word)
    if not word or word[0].isdigit():
        return ""
    try:
        _, unit = parse(f"1 {word}")
    except UnitError:
        return ""
    return unit.name if unit.dimension in (LENGTH, AREA) else ""


def _fits(unit: str, key: str) -> bool:
    _, found = parse(f"1 {unit}")
    return (found.dimension == AREA) is (key in _AREAS)


def is_measured(key: str) -> bool:
    """Whether bare numbers in a column of this key want a unit."""
    return key in _MEASURED


def fits(unit: str, key: str) -> bool:
    """Whether a unit is of what a column of this key measures."""
    return key in _MEASURED and _fits(unit, key)


def adds_up(cell: str) -> bool:
    """Whether the first words of a row say that it adds up others."""
    return " ".join(cell.casefold().split()) in _words()["totals"]
