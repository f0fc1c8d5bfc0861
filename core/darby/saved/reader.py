"""A saved estimate read back: within bounds, checked part by part, older versions brought up to date.

What is wrong with a file is a diagnostic at its place, and never more than that.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from darby.quantities.gc_pause import in_bulk
from darby.rules.rule import Kind
from darby.saved.builder import FAILURES, Builder
from darby.saved.damage import WAY_OUT, changed, damaged, explained
from darby.saved.model import VERSION, Saved
from darby.text.bounded_json import MOST_BYTES, locate, parse
from darby.text.diagnostics import Diagnostic, problem
from darby.text.files import missing_file
from darby.text.spans import Source

MIGRATIONS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}
"""For each older version, what makes the next one of its data. Version 1 is the first, so there is none yet."""

Reopened = tuple[Saved | None, tuple[Diagnostic, ...]]


def open_saved(path: Path, kinds: Mapping[str, Kind] | None = None, name: str = "") -> Reopened:
    """The saved estimate in a file, or None and what is wrong with it. Nothing raises, however damaged the file."""
    source, told = read_saved(path, name)
    return (None, told) if source is None else reopen(source, kinds)


def read_saved(path: Path, name: str = "") -> tuple[Source | None, tuple[Diagnostic, ...]]:
    """The text of a saved file, or None and the reason; a file too large for an estimate is not read at all."""
    name = name or str(path)
    try:
        if not path.is_file():
            if path.exists():
                return None, (problem("saved-damaged", f"{name} is no file.", file=name),)
            return None, (missing_file(path, name),)
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        why = (getattr(error, "strerror", None) or str(error)).lower()
        return None, (problem("file-unreadable", f"{name} cannot be opened: {why}.", file=name),)
    return decoded(data, name)


def decoded(data: bytes, name: str) -> tuple[Source | None, tuple[Diagnostic, ...]]:
    """The text in some bytes, or None and the reason."""
    if len(data) > MOST_BYTES:
        message = f"{name} is larger than {MOST_BYTES // 1_000_000} MB, and no saved estimate is."
        return None, (problem("saved-damaged", message, file=name),)
    try:
        return Source(name, data.decode("utf-8")), ()
    except UnicodeDecodeError as error:
        source = Source(name, data.decode("utf-8", "replace"))
        at = len(data[: error.start].decode("utf-8", "replace"))
        return None, (damaged(source, source.span(at, at + 1), "holds bytes that are no text"),)


@in_bulk()
def reopen(source: Source, kinds: Mapping[str, Kind] | None = None) -> Reopened:
    """The saved estimate in a text, or None and what is wrong with it. `kinds` are the kinds of rule known today."""
    data, mistake = parse(source)
    if mistake is not None:
        return None, (damaged(source, mistake.span, mistake.message),)
    version = _version(data)
    if version is None:
        span = locate(source, ("schema",)) if isinstance(data, dict) and "schema" in data else source.span(0, 1)
        message = f"{source.name} is no saved estimate: it does not begin with the schema darby.saved/{VERSION}."
        return None, (problem("saved-damaged", message, span, help=WAY_OUT),)
    if version > VERSION:
        message = f"{source.name} was saved by a newer Darby (darby.saved/{version}); this one reads up to {VERSION}."
        way_out = "Update Darby, or make the file again with this version."
        return None, (problem("saved-newer", message, locate(source, ("schema",)), help=way_out),)
    whole = version == VERSION
    try:
        while version < VERSION:
            data, version = MIGRATIONS[version](data), version + 1
        saved = Builder(data, kinds or {}).saved()
    except FAILURES as error:
        return None, (explained(source, data, error) if whole else _too_old(source, version),)
    wrong = changed(source.text, data.get("checks"))
    return (None, (damaged(source, *wrong(source)),)) if wrong else (saved, ())


def _version(data: object) -> int | None:
    said = data.get("schema") if isinstance(data, dict) else None
    found = re.fullmatch(r"darby\.saved/([0-9]{1,6})", said) if isinstance(said, str) else None
    return int(found[1]) if found else None


def _too_old(source: Source, version: int) -> Diagnostic:
    message = f"is a saved estimate of version {version} that cannot be brought up to date"
    return damaged(source, locate(source, ("schema",)), message)
