"""What has been read once need not be read again: the same text, read by the same language, has the same rules."""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from attrs import define, field

from darby.reading import Language, Reading, read
from darby.rules import Layer
from darby.text import Source

_MOST_KEPT = 256
_CODE = (".py", ".lark", ".toml", ".txt")


def mark_of(language: Language) -> str:
    """A name for everything that takes part in reading: words, grammars and the code behind both, the engine's included.

    Nothing where some of that code cannot be looked at; then no reading can be known to be still true.
    """
    digest = hashlib.sha256()
    try:
        core = sorted(Path(__file__).parent.glob("*.py"))
        for path in (*core, *_code_of(type(reader.meaning).__module__ for reader in language.readers)):
            digest.update(f"{path.name}\0".encode() + path.read_bytes() + b"\0")
    except (OSError, AttributeError, KeyError, TypeError):
        return ""
    for reader in language.readers:
        digest.update(f"{reader.name}\0{reader.grammar}\0".encode("utf-8", "replace"))
    for words in language.vocabularies:
        digest.update(f"{words.name}\0{words.source.text}\0".encode("utf-8", "replace"))
    return digest.hexdigest()[:32]


def code_mark(modules: Iterable[str]) -> str:
    """A name for the code of the packages that some modules belong to; nothing where it cannot be looked at."""
    digest = hashlib.sha256()
    try:
        for path in _code_of(modules):
            digest.update(f"{path.name}\0".encode() + path.read_bytes() + b"\0")
    except (OSError, AttributeError, KeyError, TypeError):
        return ""
    return digest.hexdigest()[:32]


def _code_of(modules: Iterable[str]) -> list[Path]:
    """The files of the packages that some modules belong to."""
    found: set[Path] = set()
    for name in modules:
        top = sys.modules[name.partition(".")[0]]
        if name == "builtins":
            continue
        file = Path(str(top.__file__))
        packaged = file.name == "__init__.py"
        found.update(p for p in file.parent.rglob("*") if p.suffix in _CODE) if packaged else found.add(file)
    return sorted(found)


@define(eq=False)
class Memory:
    """A reader for `estimating.estimate` that knows readings beforehand and keeps those it makes.

    `known` holds readings by the `id` of their source. `shelf` keeps what many jobs share: default and house lines.
    """

    known: Mapping[int, Reading] = field(factory=dict)
    shelf: dict[tuple[Layer, str, str], Reading] = field(factory=dict)
    reader: Callable[..., Reading] = read
    readings: dict[int, Reading] = field(factory=dict, init=False)
    """What whole documents say, by the `id` of their source."""

    def __call__(self, source: Source, layer: Layer, language: Language, **how: Any) -> Reading:
        """As `darby.reading.read`."""
        if how.get("within") is not None:
            return self.reader(source, layer, language, **how)
        reading = self.known.get(id(source)) or self._shared(source, layer, language, **how)
        self.readings[id(source)] = reading
        return reading

    def _shared(self, source: Source, layer: Layer, language: Language, **how: Any) -> Reading:
        if not how.get("strict"):
            return self.reader(source, layer, language, **how)
        key = (layer, source.name, source.text)
        kept = self.shelf.get(key)
        if kept is None or (kept.source is not source and layer.rank == 0):
            kept = self.reader(source, layer, language, **how)
            if len(self.shelf) < _MOST_KEPT:
                self.shelf[key] = kept
        return kept
