"""The measured rows of a job file as they stand in it, to be told apart and put together anew."""

from __future__ import annotations

import json
import tomllib
from collections import Counter
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any

from attrs import frozen

from darby.text import Source, Span
from darby.toml_text import Path, Places, read_toml

_ELSEWHERE = frozenset({"name", "units", "rules", "documents", "plugins", "schedules"})
"""Keys of the file that hold no measured row: the estimator's own lines are rules, documents are texts of their own."""


@frozen
class Row:
    """One table of the job file. `key` tells it from every other row of the job and is the same in the next version of it."""

    key: tuple[str, ...]
    table: str
    name: str
    data: tuple[tuple[str, Any], ...]
    """Its keys and values in the order of the file."""
    source: Source
    path: Path
    """Where it is named, or begins: the way there, since the place itself is dear and seldom wanted."""

    @property
    def span(self) -> Span:
        """Where it is named, or begins."""
        return _places(self.source).at(self.path).value

    @property
    def what(self) -> str:
        """How one would call it: `wall "north"`, `2 inside corners`."""
        return f'{self.table.removesuffix("s")} "{self.name}"' if self.name else self.table.removesuffix("s")


def rows_of(source: Source) -> dict[tuple[str, ...], Row]:
    """The rows of a job file that holds no mistakes, by key, in the order of the file."""
    try:
        data = tomllib.loads(source.text)
    except (tomllib.TOMLDecodeError, RecursionError):
        data = {}
    seen: Counter[tuple[str, ...]] = Counter()
    found: dict[tuple[str, ...], Row] = {}
    for table, tables in data.items():
        if table in _ELSEWHERE or not isinstance(tables, list):
            continue
        for number, row in enumerate(tables):
            if not isinstance(row, dict):
                continue
            name = str(row.get("name") or row.get("kind") or row.get("product") or "")
            key = (table, " ".join(name.casefold().split()), str(row.get("wall", row.get("room", "")) or ""))
            seen[key] += 1
            path: Path = (table, number, "name") if "name" in row else (table, number)
            made = Row((*key, str(seen[key])), table, name, tuple(row.items()), source, path)
            found[made.key] = made
    return found


@lru_cache(4)
def _places(source: Source) -> Places:
    return read_toml(source)[1]


def written(name: str, units: str, rows: Iterable[Row], schedules: Iterable[Source] = ()) -> Source:
    """A job file of these rows and the names of these schedules, with nothing else in it."""
    lines = [f"name = {_toml(name)}", f"units = {_toml(units)}"]
    named = [source.name for source in schedules]
    if named:
        lines.append(f"schedules = {_toml(named)}")
    for row in rows:
        lines += ["", f"[[{row.table}]]", *(f"{_toml_key(key)} = {_toml(value)}" for key, value in row.data)]
    return Source("job", "\n".join(lines) + "\n")


def differing(before: Row, after: Row) -> dict[str, tuple[Any, Any]]:
    """The keys whose values differ, with both values; None where there is none."""
    one, other = dict(before.data), dict(after.data)
    return {
        k: (one.get(k), other.get(k)) for k in (*one, *(k for k in other if k not in one)) if one.get(k) != other.get(k)
    }


def _toml(value: Any) -> str:
    """A value as TOML has it. JSON's texts are TOML's but for one control character."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_toml_key(k)} = {_toml(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return f"[{', '.join(map(_toml, value))}]"
    return (
        json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
        if isinstance(value, str | bool | int)
        else str(value)
    )


def _toml_key(key: str) -> str:
    return key if key.replace("_", "a").replace("-", "a").isalnum() and key.isascii() else _toml(key)
