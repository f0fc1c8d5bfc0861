"""What a plugin declares of a job file: tables and keys of its own, read and told like any other, and what is wrong with a declaration."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from typing import Literal

from attrs import frozen

from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import shown
from darby.quantities.amounts import Amount, Origin
from darby.quantities.units import AREA, LENGTH, UnitError

Value = str | bool | Amount
"""What may stand under a key: words, yes or no, or a measure with its place."""

SETTING_LINE = re.compile(
    r"\s*([a-z][a-z0-9 -]{0,39}?)\s*:\s*([a-z][a-z0-9 _-]{0,39}?)\s*=\s*(.*?)[.\s]*(?:\[([^\]]*)\][.\s]*)?",
    re.IGNORECASE,
)
"""A plain line that sets something: trade, key, value and what it cites, as in `Lattice: side = 2 ft. [our practice]`."""
_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}")
_MEASURES = {"length": LENGTH, "area": AREA}
_SAMPLE = {"text": '"..."', "length": '"12 ft 6 in"', "area": '"96 sq ft"', "count": "2", "flag": "true"}


@frozen
class Key:
    """A key of the job file that a trade brings: what may stand under it, and within what bounds. All else is an error at its line."""

    name: str
    """As the job spells it: `module`. Small letters, digits and underscores."""
    says: Literal["text", "word", "length", "area", "count", "flag"] = "text"
    """What stands there. A `word` is one of `words`; a `count` is a whole number, a `flag` true or false."""
    about: str = ""
    """A few words on it, for lists of keys: `side of a panel`."""
    words: tuple[str, ...] = ()
    """Of a `word`, the closed list that it is of."""
    least: str = ""
    """The least that may stand there, as the job would write it (`6 in`, `1`), or nothing."""
    most: str = ""
    """The most that may stand there, or nothing."""
    needed: bool = False
    """Whether a row without it is an error."""

    @property
    def told(self) -> str:
        """It in a few words: `module: a length from 1 ft to 5 ft, side of a panel`."""
        kind = {"text": "words", "flag": "true or false", "word": " or ".join(self.words)}.get(
            self.says, f"{'an' if self.says == 'area' else 'a'} {self.says}"
        )
        bounds = f" from {self.least}" * bool(self.least) + f" to {self.most}" * bool(self.most)
        return f"{self.name}: {kind}{bounds}" + (f", {self.about}" if self.about else "")


@frozen
class JobTable:
    """A table of the job file that a trade brings, `[[floors]]`: what its rows measure, and which keys they have besides.

    With a shape each row is a surface of its `kind`, which no other trade is shown: `flat` by length and width, `upright` by length and
    height, either by its area alone. Without one a row is only what its keys say. Every row has a name and may say its `room`.
    """

    name: str
    """As the job writes it, of many: `floors`."""
    kind: str
    """What one row is, as messages call it, and the kind of its surface: `floor`."""
    shape: Literal["flat", "upright", ""] = ""
    """What a row measures, as above."""
    of_rooms: bool = False
    """Whether each measured room has one by its length and width, or its area, where no row names that room. Of `flat` ones only."""
    keys: tuple[Key, ...] = ()
    """Further keys of a row."""
    about: str = ""
    """A few words on it, for lists of tables."""

    @property
    def own(self) -> tuple[str, ...]:
        """The keys that every row of its shape has."""
        return SHAPED[self.shape]

    @property
    def told(self) -> str:
        """It in a few words, with its keys: `[[floors]]: name, length, width, area, room, type; pattern: straight or diagonal`."""
        about = f", {self.about}" if self.about else ""
        return "; ".join((f"[[{self.name}]]{about}: {', '.join(self.own)}", *(key.told for key in self.keys)))


SHAPED = {
    "flat": ("name", "length", "width", "area", "room", "type"),
    "upright": ("name", "length", "height", "area", "room", "type"),
    "": ("name", "room"),
}
"""The keys of each shape."""


def value_of(row: Row, key: Key) -> Value | None:
    """What stands under a key; None where nothing does or it is wrong, which is then told."""
    name = key.name
    if name not in row:
        if key.needed:
            row.missing(name, f"Write {name} = {_sample(key)}.")
        return None
    if key.says == "flag":
        said = row.flag(name)
        return said if isinstance(row.value(name), bool) else None
    if key.says == "text":
        return row.text(name, f"Say what it is, or leave {name} out.") or None
    if key.says == "word":
        return _word(row, key)
    amount = row.length(name) if key.says == "length" else row.area(name) if key.says == "area" else _count(row, name)
    return amount if amount is None or _within(row, key, amount) else None


def _count(row: Row, name: str) -> Amount | None:
    """A whole number; a cell of a schedule has it as text."""
    said = row.value(name)
    if isinstance(said, str) and said.isascii() and said.isdigit() and len(said) < 7 and int(said):
        return Amount.of(int(said), "each", Origin(f"{row.what} {name}", said, row.span(name), "measured"), name)
    return row.count(name)


def _word(row: Row, key: Key) -> str | None:
    text = row.text(key.name, f"Say what it is, or leave {key.name} out.")
    known = {word.casefold(): word for word in key.words}
    if not text or text.casefold() in known:
        return known.get(text.casefold())
    near = row.sheet.nearest(text, key.words)
    row.sheet.say(
        "job-mark", row.span(key.name), f'{key.name} of {row.what} is "{shown(text)}"',
        (f"Did you mean {near}? " if near else "") + f"It is one of: {', '.join(key.words)}.",
    )  # fmt: skip
    return None


def _within(row: Row, key: Key, amount: Amount) -> bool:
    low, high = (_bound(key, said) if said else None for said in (key.least, key.most))
    if (low is None or amount >= low) and (high is None or amount <= high):
        return True
    bounds = " to ".join(said for said in (key.least, key.most) if said)
    told = bounds if key.least and key.most else f"{bounds} or {'more' if key.least else 'less'}"
    row.sheet.say(
        "job-out-of-range", row.span(key.name), f"{key.name} of {row.what} is {shown(row.span(key.name).text)}; it is {told}",
        "Look for a wrong unit, a lost point or a digit too many.",
    )  # fmt: skip
    return False


def _sample(key: Key) -> str:
    return f'"{key.words[0]}"' if key.says == "word" else _SAMPLE[key.says]


def _bound(key: Key, said: str) -> Amount:
    """A bound as an amount. Raises UnitError."""
    if key.says == "count":
        if not said.isdecimal():
            raise UnitError(f"{said!r} is no whole number")
        return Amount.of(int(said), "each")
    amount = Amount.read(said)
    if amount.unit.dimension != _MEASURES.get(key.says):
        raise UnitError(f"{said!r} is no {key.says}")
    return amount


def unsound_keys(keys: Iterable[Key], taken: Collection[str] = ()) -> str:
    """What is wrong with keys as they are declared, or nothing; `taken` have a meaning where they are to stand."""
    seen = set(taken)
    for key in keys:
        if not _NAME.fullmatch(key.name):
            return f"key {key.name!r} is no name: small letters, digits and underscores are wanted"
        if key.name in seen:
            return f"key {key.name} has a meaning there already"
        if bool(key.words) is not (key.says == "word"):
            return f"key {key.name} {'has no words' if key.says == 'word' else 'has words and is no word'}"
        try:
            low, high = (_bound(key, said) if said else None for said in (key.least, key.most))
        except UnitError as error:
            return f"key {key.name} has a bound that is none: {error}"
        if low is not None and high is not None and low > high:
            return f"key {key.name} has bounds the wrong way round"
        seen.add(key.name)
    return ""


def unsound_table(table: JobTable, taken: Collection[str], kinds: Collection[str]) -> str:
    """What is wrong with a table as it is declared, or nothing; `taken` are the tables and `kinds` the kinds that every job file knows."""
    if not _NAME.fullmatch(table.name) or table.name in taken:
        return f"table {table.name} cannot be called so: a name in small letters that no job file has a meaning for is wanted"
    if not _NAME.fullmatch(table.kind) or table.kind in kinds:
        return f"table {table.name} has rows of the kind {table.kind}, which is none of its own"
    if table.of_rooms and table.shape != "flat":
        return f"table {table.name} has a row of each room, and no flat shape"
    wrong = unsound_keys(table.keys, table.own)
    return f"table {table.name}: its {wrong}" if wrong else ""
