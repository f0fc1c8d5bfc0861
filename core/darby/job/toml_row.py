"""One table of the job file, read key by key; every mistake in it becomes a diagnostic at its place."""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from fractions import Fraction
from functools import cached_property
from typing import Any, Protocol

from attrs import field, frozen

from darby.quantities.amounts import Amount, Origin
from darby.quantities.numerals import value_of
from darby.quantities.units import AREA, LENGTH, MASS, UNITS, VOLUME, UnitError
from darby.text.diagnostics import Diagnostic, Label, Severity, problem
from darby.text.spans import Source, Span
from darby.text.toml_scanner import Path, Place

_MANY = 1_000_000
_LONGEST = 120
_SUGGEST_WITHIN = 50
_SUGGEST_AMONG = 1_000

_MEASURES = {LENGTH: "a length", AREA: "an area", VOLUME: "a volume", MASS: "a weight"}
_SAMPLE = {LENGTH: '"12 ft 6 in" or "3.81 m"', AREA: '"96 sq ft" or "8.9 m2"'}
_UNIT = {(LENGTH, "us"): "ft", (LENGTH, "metric"): "m", (AREA, "us"): "sq ft", (AREA, "metric"): "m2"}
_KINDS = ((bool, "true or false"), (str, "text"), ((int, float), "a number"), (list, "a list"), (dict, "a table"))


def shown(text: str) -> str:
    """A text of the file as it stands in a message: cut where it is long, on one line."""
    text = " ".join(text.split())
    return text if len(text) <= 60 else text[:60] + "..."


class Places(Protocol):
    """Where things stand in a file, by path."""

    @property
    def source(self) -> Source:
        """The file."""
        ...

    def at(self, path: Path) -> Place:
        """Where a key and its value stand."""
        ...

    def is_broken(self, path: Path) -> bool:
        """Whether what stands there was told to be no value already."""
        ...


@frozen(eq=False)
class Sheet:
    """A file being read: where things stand in it and what is wrong with it so far."""

    places: Places
    units: str = "us"
    """Which units to suggest."""
    found: list[Diagnostic] = field(factory=list, repr=False)

    def say(
        self, code: str, span: Span, message: str, help: str = "", more: Iterable[Label] = (), *, warn: bool = False
    ) -> None:
        """Notes a mistake."""
        severity = Severity.WARNING if warn else Severity.ERROR
        self.found.append(problem(code, message, span, severity=severity, help=help, more=more))

    def nearest(self, word: str, names: Collection[str]) -> str:
        """The name that was probably meant, or nothing."""
        if len(self.found) >= _SUGGEST_WITHIN:
            return ""
        folded = {name.casefold(): name for name in list(names)[:_SUGGEST_AMONG]}
        close = difflib.get_close_matches(word[:60].casefold(), folded, 1)
        return folded[close[0]] if close else ""


@frozen(eq=False)
class Row:
    """A table: `path` leads to it, `what` calls it in messages (`wall "north"`)."""

    sheet: Sheet
    path: Path
    data: Mapping[str, Any]
    what: str
    slips: Mapping[str, list[str]] = field(factory=dict)
    """Keys that were probably meant, and how they are spelled in the file; their mistake has been told."""

    @classmethod
    def of(cls, sheet: Sheet, path: Path, data: Mapping[str, Any], *, what: str, keys: Collection[str]) -> Row:
        """A table in which only `keys` have a place; any other is told, with the nearest right spelling.

        What was probably meant is read on under its right name, so that one slip is one message.
        """
        slips: dict[str, list[str]] = {}
        for key in data:
            if key in keys:
                continue
            near = sheet.nearest(key, keys)
            if near:
                slips.setdefault(near, []).append(key)
            is_table = isinstance(data[key], dict) or (isinstance(data[key], list) and not path)
            sheet.say(
                "job-unknown-table" if is_table else "job-unknown-key",
                sheet.places.at((*path, key)).key,
                f'{what} has no key "{shown(key)}"' if path else f'"{shown(key)}" has no place in {what}',
                (f"Did you mean {near}? " if near else "") + f"What may stand here: {', '.join(keys)}.",
            )
        return cls(sheet, path, data, what, slips)

    def _spelled(self, key: str) -> str:
        """A key as it is spelled in the file."""
        return key if key in self.data or key not in self.slips else self.slips[key][0]

    def __contains__(self, key: str) -> bool:
        return key in self.data or key in self.slips

    def way(self, key: str) -> Path:
        """The path of a key."""
        return (*self.path, self._spelled(key))

    def span(self, key: str = "") -> Span:
        """The place of a key's value, or of the table."""
        return self.sheet.places.at(self.way(key) if key else self.path).value

    def value(self, key: str) -> Any:
        """The value of a key as TOML gives it; None where there is none or its mistake was told already."""
        value = self.data.get(self._spelled(key) if self.slips else key)
        return None if value is None or self.sheet.places.is_broken(self.way(key)) else value

    def missing(self, key: str, help: str) -> None:
        """Tells that a key is missing, unless it is there and broken."""
        self.sheet.say("job-missing-key", self.span(), f"{self.what} has no {key}", help)

    def wrong(self, key: str, wanted: str, help: str, path: Path = ()) -> None:
        """Tells that a value is of the wrong type."""
        path = path or self.way(key)
        value: Any = self.data
        for part in path[len(self.path) :]:
            value = value[part]
        is_a = next((name for kind, name in _KINDS if isinstance(value, kind)), "a date or time")
        self.sheet.say(
            "job-wrong-type",
            self.sheet.places.at(path).value,
            f"{key} of {self.what} is {is_a}; {wanted} is wanted",
            help,
        )

    def text(self, key: str, needed: str = "") -> str:
        """A text, stripped; nothing where it is missing or wrong. `needed` is the help that tells how to write it."""
        value = self.value(key)
        if value is None:
            if needed and key not in self:
                self.missing(key, needed)
            return ""
        if not isinstance(value, str):
            self.wrong(key, "text in quotes", f'Write {key} = "{shown(self.span(key).text)}".')
            return ""
        if not value.strip():
            self.sheet.say("job-missing-key", self.span(key), f"{key} of {self.what} is empty", needed or "Fill it in.")
        return value.strip()

    def texts(self, key: str) -> tuple[tuple[str, Span], ...]:
        """A list of texts with their places; a single text counts as a list of one."""
        value = self.value(key)
        if value is None:
            return ()
        if isinstance(value, str):
            return ((value, self.span(key)),)
        if not isinstance(value, list):
            self.wrong(key, "a list of texts", f'Write {key} = ["...", "..."].')
            return ()
        out = []
        for number, item in enumerate(value):
            path = (*self.way(key), number)
            if isinstance(item, str):
                out.append((item, self.sheet.places.at(path).value))
            else:
                self.wrong(key, "text in quotes", f'Write {key} = ["...", "..."].', path)
        return tuple(out)

    def tables(self, key: str) -> Iterator[tuple[Path, Mapping[str, Any]]]:
        """The tables of a `[[key]]`, each with its path; those of a misspelt key as well."""
        for spelled in ([key] if key in self.data else []) + self.slips.get(key, []):
            yield from self._tables(key, (*self.path, spelled), self.data[spelled])

    def _tables(self, key: str, way: Path, value: object) -> Iterator[tuple[Path, Mapping[str, Any]]]:
        if self.sheet.places.is_broken(way):
            return
        if isinstance(value, dict):
            self.wrong(key, "a list of tables", f"Write [[{key}]], in two brackets, before each of them.", way)
            yield way, value
        elif isinstance(value, list):
            for number, item in enumerate(value):
                if isinstance(item, dict):
                    yield (*way, number), item
                else:
                    self.wrong(key, "a table", f"Write [[{key}]] and below it what is to be said.", (*way, number))
        else:
            self.wrong(key, "a list of tables", f"Write [[{key}]] and below it what is to be said.", way)

    def table(self, key: str) -> Mapping[str, Any] | None:
        """The table of a `[key]`."""
        value = self.value(key)
        if value is None or isinstance(value, dict):
            return value
        self.wrong(key, "a table", f"Write [{key}] and below it what is to be said.")
        return None

    def flag(self, key: str, *, default: bool = False) -> bool:
        """True or false; the default where nothing is said or it is wrong."""
        value = self.value(key)
        if value is None or isinstance(value, bool):
            return default if value is None else value
        self.wrong(key, "true or false", f"Write {key} = true or {key} = false, without quotes.")
        return default

    def content(self, key: str) -> Amount | None:
        """What a package holds: a volume, weight, length or count above zero."""
        value = self.value(key)
        if isinstance(value, int) and not isinstance(value, bool):
            return self.count(key)
        if value is None or not isinstance(value, str) or len(value) > _LONGEST:
            if value is not None:
                self.wrong(key, "what it holds in quotes", f'Write {key} = "5 gal".')
            return None
        try:
            amount = Amount.read(value, self._origin(key, value), key)
        except UnitError:
            amount = Amount.of(0, "each")
        if amount.value <= 0:
            self.sheet.say(
                "job-unreadable-amount", self.span(key), f'{key} of {self.what} cannot be read: "{shown(value)}"',
                f'Write what one package holds, as in {key} = "5 gal" or {key} = "25 kg".',
            )  # fmt: skip
            return None
        return amount

    def money(self, key: str) -> Amount | None:
        """A price above zero: a whole number, or a decimal one in quotes, since binary fractions are not exact."""
        value = self.value(key)
        if value is None:
            return None
        number = value_of(value.strip()) if isinstance(value, str) else value
        if isinstance(number, bool) or not isinstance(number, (int, Fraction)):
            self.wrong(key, "a price in quotes", f'Write {key} = "24.50".')
            return None
        if number <= 0:
            self.sheet.say(
                "job-out-of-range", self.span(key), f"{key} of {self.what} must be more than zero", "Or leave it out."
            )
            return None
        return Amount.of(Fraction(number), "each", self._origin(key, value), key)

    def count(self, key: str, most: int = _MANY, *, least: int = 1) -> Amount | None:
        """A whole number from `least` to `most`."""
        value = self.value(key)
        if value is None:
            return None
        if not isinstance(value, int) or isinstance(value, bool):
            self.wrong(key, "a whole number", f"Write {key} = 2, without quotes.")
            return None
        if not least <= value <= most:
            self.sheet.say(
                "job-out-of-range",
                self.span(key),
                f"{key} of {self.what} is {shown(self.span(key).text)}; it is a whole number from {least} to {most:,}",
                "Leave out what is not there at all." if value < least else f"Write {key} = {most} or less.",
            )
            return None
        return Amount.of(value, "each", self._origin(key, value), key)

    def length(self, key: str) -> Amount | None:
        """A length above zero."""
        return self._measure(key, LENGTH)

    def area(self, key: str) -> Amount | None:
        """An area above zero."""
        return self._measure(key, AREA)

    @cached_property
    def _named(self) -> str:
        """The name of what the row measures, or what it is."""
        name = self.value("name")
        return shown(name) if isinstance(name, str) and name.strip() else self.what

    def _origin(self, key: str, value: object) -> Origin:
        return Origin(f"{self._named} {key}", str(value), self.span(key), "measured")

    def _measure(self, key: str, dimension: tuple[tuple[str, int], ...]) -> Amount | None:
        value = self.value(key)
        if value is None:
            return None
        amount = self._read(key, value)
        if amount is not None and amount.unit.dimension == dimension and amount.value > 0:
            return amount
        span, unit = self.span(key), _UNIT[dimension, self.sheet.units]
        bare = shown(value if isinstance(value, str) else span.text).strip()
        if (isinstance(value, (int, float)) and not isinstance(value, bool)) or value_of(bare) is not None:
            self.sheet.say(
                "job-no-unit", span, f"{key} of {self.what} is {bare} without a unit", f'Write {key} = "{bare} {unit}".'
            )
            return None
        if not isinstance(value, str):
            self.wrong(key, f"{_MEASURES[dimension]} in quotes", f"Write it as {_SAMPLE[dimension]}.")
            return None
        if amount is None:
            near = self._meant(value, dimension)
            self.sheet.say(
                "job-unreadable-amount",
                span,
                f'{key} of {self.what} cannot be read: "{bare}" is no {_MEASURES[dimension].split()[-1]}',
                (f"Did you mean {near}? " if near else "") + f"Write it as {_SAMPLE[dimension]}.",
            )
            return None
        if amount.unit.dimension != dimension:
            is_a = _MEASURES.get(amount.unit.dimension, "a count")
            self.sheet.say(
                "job-wrong-unit",
                span,
                f"{key} of {self.what} is {is_a} ({bare}); {_MEASURES[dimension]} is wanted",
                f"Write it as {_SAMPLE[dimension]}.",
            )
            return None
        self.sheet.say(
            "job-out-of-range",
            span,
            f"{key} of {self.what} is {bare}; it must be more than zero",
            "Leave out what is not there at all.",
        )
        return None

    def _read(self, key: str, value: object) -> Amount | None:
        """A text as an amount, whatever it measures; None where it spells none."""
        if not isinstance(value, str) or len(value) > _LONGEST:
            return None
        try:
            return Amount.read(value, self._origin(key, value), key)
        except UnitError:
            return None

    def _meant(self, text: str, dimension: tuple[tuple[str, int], ...]) -> str:
        """What a measure that cannot be read was meant to be: with a decimal point, or with the unit nearest to its letters."""
        point = re.sub(r"(?<=[0-9]),(?=[0-9])", ".", text[:_LONGEST])
        if point != text:
            try:
                Amount.read(point)
            except UnitError:
                pass
            else:
                return f'"{shown(point).strip()}", with a point'
        letters = "".join(c if c.isalpha() else " " for c in text[:_LONGEST]).strip()
        spelled = {s: u.name for u in UNITS.values() if u.dimension == dimension for s in (u.name, *u.spellings)}
        near = self.sheet.nearest(letters, list(spelled)) if letters and letters.casefold() not in spelled else ""
        return spelled[near] if near else ""
