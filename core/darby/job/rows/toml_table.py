"""One table of the job file, read key by key; every mistake in it becomes a diagnostic at its place."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any, Self

from attrs import field, frozen

from darby.job.rows.sheet import Sheet, shown
from darby.text.spans import Span
from darby.text.toml_scanner import Path

_KINDS = ((bool, "true or false"), (str, "text"), ((int, float), "a number"), (list, "a list"), (dict, "a table"))


@frozen(eq=False)
class Table:
    """A table: `path` leads to it, `what` calls it in messages (`wall "north"`)."""

    sheet: Sheet
    path: Path
    data: Mapping[str, Any]
    what: str
    slips: Mapping[str, list[str]] = field(factory=dict)
    """Keys that were probably meant, and how they are spelled in the file; their mistake has been told."""

    @classmethod
    def of(cls, sheet: Sheet, path: Path, data: Mapping[str, Any], *, what: str, keys: Collection[str]) -> Self:
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
                (f"Did you mean {near}? " if near else "")
                + (f"What may stand here: {', '.join(keys)}." if keys else "Nothing may stand here: take it out."),
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

    def texts(self, key: str, needed: str = "") -> tuple[tuple[str, Span], ...]:
        """A list of texts with their places; a single text counts as a list of one. `needed` is the help where there is no text in it."""
        value = self.value(key)
        if value is None:
            return ()
        if needed and not (isinstance(value, str) and value.strip()) and not (isinstance(value, list) and any(value)):
            self.sheet.say("job-missing-key", self.span(key), f"{key} of {self.what} is empty", needed)
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
