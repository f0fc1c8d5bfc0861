"""What has been read once need not be read again: the same text, read by the same language, has the same rules."""

from __future__ import annotations

import hashlib
import re
import sys
import unicodedata
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from threading import Lock
from types import ModuleType
from typing import Any

from attrs import define, field

from darby.reading.parsing.vocabulary import Vocabulary
from darby.reading.read import ROOMS, Language, Reading, read
from darby.rules.rule import Layer
from darby.text.spans import Source

_MOST_KEPT = 256
_CODE = (".py", ".lark", ".toml", ".txt")


def mark_of(language: Language) -> str:
    """A name for everything that takes part in reading: words, grammars and the code behind both, the engine's included.

    Nothing where some of that code cannot be looked at; then no reading can be known to be still true.
    """
    code = code_mark((__name__, *(type(reader.meaning).__module__ for reader in language.readers)))
    if not code:
        return ""
    digest = hashlib.sha256(code.encode())
    for reader in language.readers:
        digest.update(f"{reader.name}\0{reader.grammar}\0".encode("utf-8", "replace"))
    for words in language.vocabularies:
        digest.update(f"{words.name}\0{words.source.text}\0".encode("utf-8", "replace"))
    return digest.hexdigest()[:32]


def code_mark(modules: Iterable[str]) -> str:
    """A name for the code of the packages that some modules belong to; nothing where it cannot be looked at."""
    digest = hashlib.sha256()
    try:
        for top in sorted({name.partition(".")[0] for name in modules} - {"builtins"}):
            digest.update(f"{top}\0".encode() + _code_of(top))
    except (OSError, AttributeError, KeyError, TypeError):
        return ""
    return digest.hexdigest()[:32]


_looked_at: dict[str, tuple[ModuleType, bytes]] = {}


def _code_of(top: str) -> bytes:
    """A name for the files of a package, or of a module alone.

    They count as they were when they were first looked at: a program that goes on running goes on with what it loaded,
    whatever has been installed over it since.
    """
    module = sys.modules[top]
    known = _looked_at.get(top)
    if known is None or known[0] is not module:
        file = Path(str(module.__file__))
        files = sorted(p for p in file.parent.rglob("*") if p.suffix in _CODE) if file.name == "__init__.py" else [file]
        digest = hashlib.sha256()
        for path in files:
            digest.update(f"{path.relative_to(file.parent)}\0".encode() + path.read_bytes() + b"\0")
        known = _looked_at[top] = (module, digest.digest())
    return known[1]


_DEFAULTS: dict[Hashable, Reading] = {}
_SPOKEN: dict[Hashable, bool] = {}
_ONE_AT_A_TIME = Lock()


def read_once(source: Source, layer: Layer, language: Language, **how: Any) -> Reading:
    """As `darby.reading.read.read`, but for default lines, which all jobs of a program share: these are read once for each language."""
    if layer.rank:
        return read(source, layer, language, **how)
    with _ONE_AT_A_TIME:
        return Memory(shelf=_DEFAULTS, spoken=_SPOKEN)(source, layer, language, **how)


@define(eq=False)
class Memory:
    """A reader for `estimating.estimate` that knows readings beforehand and keeps those it makes.

    `known` holds readings by the `id` of their source, as `language` reads them, whatever rooms a job adds to it. `shelf`
    keeps what many jobs share, default and house lines, each for the language that read it.
    """

    known: Mapping[int, Reading] = field(factory=dict)
    shelf: dict[Hashable, Reading] = field(factory=dict)
    reader: Callable[..., Reading] = read
    language: Language | None = None
    spoken: dict[Hashable, bool] = field(factory=dict)
    """Whether a text speaks of the rooms of a job."""
    readings: dict[int, Reading] = field(factory=dict, init=False)
    """What whole documents say, by the `id` of their source."""

    def __call__(self, source: Source, layer: Layer, language: Language, **how: Any) -> Reading:
        """As `darby.reading.read.read`."""
        if how.get("within") is not None:
            return self.reader(source, layer, language, **how)
        known = self.known.get(id(source))
        if known is None or self.language is None or not _alike(language, self.language):
            known = self._shared(source, layer, language, **how)
        self.readings[id(source)] = known
        return known

    def _shared(self, source: Source, layer: Layer, language: Language, **how: Any) -> Reading:
        if how.keys() != {"strict"} or not how["strict"]:
            return self.reader(source, layer, language, **how)
        words = tuple(v for v in language.vocabularies if v.name != ROOMS)
        rooms = tuple(v.source.text for v in language.vocabularies if v.name == ROOMS)
        alone: Hashable = (layer, source.name, source.text, language.readers, words)
        exact: Hashable = (alone, rooms)
        common = not rooms or not self._speaks_of_rooms(source, language, rooms)
        kept = self.shelf.get(alone if common else exact) or self.shelf.get(exact)
        if kept is None or (kept.source is not source and layer.rank == 0):
            kept = self.reader(source, layer, language, **how)
            # what is told of a line that is not understood may name the job's rooms
            self.shelf[alone if common and not kept.diagnostics else exact] = kept
            if len(self.shelf) > _MOST_KEPT:
                del self.shelf[next(iter(self.shelf))]
        return kept

    def _speaks_of_rooms(self, source: Source, language: Language, rooms: tuple[str, ...]) -> bool:
        """Whether a text may have something of a job's rooms in it: a name, or a word that none but they make a known one.

        `rooms` are these words as they are written. A job that is worked out again and again has the same, and there may be thousands.
        """
        asked = (source.text, rooms)
        if asked not in self.spoken:
            if len(self.spoken) >= _MOST_KEPT:
                self.spoken.clear()
            self.spoken[asked] = self._found(source, language)
        return self.spoken[asked]

    def _found(self, source: Source, language: Language) -> bool:
        text = _squeezed(source.text)
        names = (name for v in language.vocabularies if v.name == ROOMS for name in _names(v))
        known = self.language.known if self.language is not None else lambda _: False
        return any(_may_speak(text, name, known) for name in names)


def for_text(source: Source, language: Language) -> Language:
    """The language with those rooms of a job alone that a text may speak of, by which it is read as by all of them.

    A room more, or another name for one, then leaves a document as it was read unless it has a word of it.
    """
    rooms = next((v for v in language.vocabularies if v.name == ROOMS), None)
    if rooms is None:
        return language
    plain = Language.of(language.readers, (v for v in language.vocabularies if v.name != ROOMS))
    text = _squeezed(source.text)
    spoken = [name for name in _listed(rooms, "room") if _may_speak(text, name, plain.known)]
    return plain.naming(spoken, _listed(rooms, "marks"))


def _may_speak(text: str, name: str, known: Callable[[str], bool]) -> bool:
    """Whether a squeezed text may have a name in it, or a word that nothing but the name makes a known one."""
    parts = [name, *(word for word in re.findall(r"[a-z]+", name.lower()) if not known(word))]
    return any(not (part := _squeezed(one)) or part in text for one in parts)


def _names(rooms: Vocabulary) -> Iterator[str]:
    for table in rooms.tables:
        yield from _listed(rooms, table)


def _listed(rooms: Vocabulary, table: str) -> Iterator[str]:
    if table in rooms.tables:
        for said in rooms.tables[table].values():
            yield from map(str, said) if isinstance(said, list) else (str(said),)


@lru_cache(4_096)
def _squeezed(text: str) -> str:
    """Letters and digits alone, so that what a broken line or a soft hyphen parts is found as well."""
    return "".join(filter(str.isalnum, unicodedata.normalize("NFKC", text).casefold()))


def _alike(one: Language, other: Language) -> bool:
    """Whether two languages have the same readers and words, but for the rooms of a job."""
    words, others = ([v for v in language.vocabularies if v.name != ROOMS] for language in (one, other))
    return (
        one.readers == other.readers
        and len(words) == len(others)
        and all(v is w or (v.source is w.source and v.tables == w.tables) for v, w in zip(words, others, strict=True))
    )
