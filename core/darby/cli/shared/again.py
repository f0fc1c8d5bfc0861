"""What a job that is worked out again and again, as beside a page in the browser, need not open, load or read twice."""

from __future__ import annotations

import hashlib
from collections.abc import Hashable, Iterable, Mapping
from pathlib import Path
from typing import Any

from attrs import define, field

from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Plugins
from darby.reading.cache import for_text, read_once
from darby.reading.read import Language, Reading
from darby.rules.rule import Layer
from darby.text.files import Opened, decode
from darby.text.spans import Source, Span

_MOST_READINGS = 4
"""Of one text: by a language that was, and the one that is, each with the marks of other documents and without."""


@define(eq=False)
class _Known:
    """A file as it was met last, and what was read in it."""

    digest: bytes
    opened: Opened
    readings: dict[Hashable, Reading] = field(factory=dict)


@define(eq=False)
class Again:
    """Opens the documents of one job, loads its plugins and reads: what is as it was the time before is taken from there.

    A reading is kept with the very text that it is of, so that its places are places of the documents of the next estimate too. One
    estimate is made at a time, and `begin` begins it.
    """

    _known: dict[tuple[str, bool], _Known] = field(factory=dict, init=False)
    _met: dict[int, _Known] = field(factory=dict, init=False)
    """What this estimate has opened, by the `id` of its text."""
    _loaded: tuple[Hashable, Plugins] | None = field(default=None, init=False)

    def begin(self) -> None:
        """Another estimate is to be made."""
        self._met.clear()

    def decoded(self, data: bytes, name: str, span: Span | None = None, *, table: bool = False) -> Opened:
        """As `darby.text.files.decode`. A file that a job names twice is two documents."""
        digest = hashlib.blake2b(data).digest()
        known = self._known.get((name, table))
        if known is None or known.digest != digest or id(known.opened[0]) in self._met:
            known = _Known(digest, decode(data, name, span, table=table))
        if known.opened[0] is not None:  # what is wrong with a file is told at the place that names it
            self._known[name, table] = self._met[id(known.opened[0])] = known
        return known.opened

    def plugins(self, without: tuple[str, ...], only: Iterable[str] | None, files: tuple[Path, ...]) -> Plugins:
        """As `load_plugins`: loaded anew where a file is another one, or something of them failed."""
        asked = (without, None if only is None else tuple(only), tuple((file, _bytes(file)) for file in files))
        if self._loaded is None or self._loaded[0] != asked or self._loaded[1].failed:
            self._loaded = asked, load_plugins(without=without, only=only, files=files)
        return self._loaded[1]

    def __call__(self, source: Source, layer: Layer, language: Language, **how: Any) -> Reading:
        """As `darby.reading.read.read`."""
        known = self._met.get(id(source))
        if known is None or how.get("within") is not None:
            return read_once(source, layer, language, **how)
        if not how.get("strict"):  # what is told of a strict line may name any room of the job
            language = for_text(source, language)
        key = (layer, language, *sorted((name, _frozen(value)) for name, value in how.items()))
        reading = known.readings.pop(key, None)
        if reading is None:
            reading = read_once(source, layer, language, **how)
        known.readings[key] = reading  # the last that was asked for stands last
        if len(known.readings) > _MOST_READINGS:
            del known.readings[next(iter(known.readings))]
        return reading


def _frozen(value: Any) -> Any:
    return tuple(sorted(value.items())) if isinstance(value, Mapping) else value


def _bytes(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError:
        return b""
