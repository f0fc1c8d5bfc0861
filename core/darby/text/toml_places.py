"""TOML with places: what tomllib reads, and where in the text each key and value stands.

tomllib gives values without places, so a scanner walks the same text and notes them. It runs first and refuses what
would make tomllib slow or deep; on text that is no TOML it stops where it no longer follows, and tomllib says why.
"""

from __future__ import annotations

import tomllib
from functools import lru_cache
from typing import Any

from attrs import field, frozen

from darby.text.spans import Source
from darby.text.toml_mistakes import PAIR, Mistake, mistake_at, offset_of
from darby.text.toml_scanner import Path, Place, Scanner

_TRIES = 20
_READ_AT_MOST = 2_000_000  # characters in all tries together


@frozen(eq=False)
class Places:
    """The places of one TOML text, by path."""

    source: Source
    known: dict[Path, Place] = field(factory=dict, repr=False)
    broken: frozenset[int] = frozenset()
    """Offsets of values that could not be read and whose mistake has been told."""

    def at(self, path: Path) -> Place:
        """The place of a path, or of the nearest table around it."""
        for length in range(len(path), 0, -1):
            if (place := self.known.get(path[:length])) is not None:
                return place
        top = self.source.span(0, 0)
        return Place(top, top)

    def is_broken(self, path: Path) -> bool:
        """Whether the value of a path was no TOML and something else was put in its place."""
        place = self.known.get(path) if self.broken else None
        return place is not None and place.value.start in self.broken


@lru_cache(2)
def loaded(text: str) -> dict[str, Any]:
    """What tomllib reads of a text, once where it is asked for again; nobody changes it. Raises what tomllib does."""
    return tomllib.loads(text)


@lru_cache(4)
def source_of(name: str, text: str) -> Source:
    """A file as one and the same source wherever it is asked for again, so that its places are looked for once."""
    return Source(name, text)


@lru_cache(2)
def read_toml(source: Source) -> tuple[dict[str, Any] | None, Places, tuple[Mistake, ...]]:
    """The data of a TOML text, its places and its mistakes; data is None where nothing could be made of it. Nobody changes them.

    A line that is no TOML is told and put aside, and the rest is read on, so that one run tells as much as can be told.
    """
    text = source.text
    if text.startswith("\ufeff"):
        text = " " + text[1:]
    mistakes: list[Mistake] = []
    broken: set[int] = set()
    blamed: set[int] = set()
    for _ in range(min(_TRIES, 1 + _READ_AT_MOST // (len(text) + 1))):
        scanner = Scanner(source, text)
        refused = scanner.run()
        places = Places(source, scanner.known, frozenset(broken))
        if refused is not None:
            return None, places, (*mistakes, refused)
        try:
            return loaded(text), places, tuple(mistakes)
        except (ValueError, RecursionError) as error:
            offset = offset_of(text, str(error))
            start = text.rfind("\n", 0, offset) + 1
            if start not in blamed:
                mistakes.append(mistake_at(source, text, offset, str(error)))
            mended = _without(text, start, whole=start in blamed or "overwrite" in str(error), broken=broken)
            blamed.add(start)
            if mended is None:
                return None, places, tuple(mistakes)
            text = mended
    return None, places, tuple(mistakes)


def _without(text: str, start: int, *, whole: bool, broken: set[int]) -> str | None:
    """The text, as long as before, with 0 for the value of the line at `start`, or blanks for the line; None where it cannot be."""
    end = text.find("\n", start)
    end = len(text) if end < 0 else end
    pair = PAIR.match(text, start, end)
    if pair is None:
        return None
    if whole:
        return text[:start] + " " * (end - start) + text[end:]
    stand_in = pair[1] + "=0"
    if len(stand_in) > end - start:
        return text[:start] + " " * (end - start) + text[end:]
    broken.add(start + len(stand_in) - 1)
    return text[:start] + stand_in.ljust(end - start) + text[end:]
