"""Phrases by how they begin: one look-up finds the longest that stands at a place."""

from __future__ import annotations

import re
from collections.abc import Mapping

from darby.reading.parsing.tagging.tag import Meaning

_LETTERS = re.compile(r"[a-z]+")
_BLANKS = re.compile(r"[\s\u00a0-]{0,3}")


def first_letters(low: str, at: int) -> str:
    """The word or the sign that begins at a place of a lower-case text."""
    letters = _LETTERS.match(low, at)
    return letters[0] if letters else low[at : at + 1]


def behind_blanks(low: str, at: int) -> int:
    """The place behind a few blanks or a hyphen, if any stand there."""
    return _BLANKS.match(low, at).end()  # type: ignore[union-attr]  # it matches nothing at the least


class PhraseIndex:
    """Phrases by their first letters (or first sign), the longest first.

    A phrase that ends in a subject in braces stands only right before that subject, which is no part of it:
    `standard {varnish}` is the `standard` of `standard lacquer`.
    """

    def __init__(self, phrases: Mapping[str, Meaning]) -> None:
        self._by_start: dict[str, list[tuple[str, str, Meaning]]] = {}
        entries = [(*phrase.partition(" {")[::2], meaning) for phrase, meaning in phrases.items()]
        for said, ahead, meaning in sorted(entries, key=lambda entry: (len(entry[0]), bool(entry[1])), reverse=True):
            first = _LETTERS.match(said)
            entry = (said, ahead.rstrip("}"), meaning)
            self._by_start.setdefault(first[0] if first else said[0], []).append(entry)

    def at(self, low: str, start: int, first: str) -> tuple[int, Meaning] | None:
        """End and meaning of the longest phrase that stands at `start` of a lower-case text and begins with `first`."""
        for phrase, ahead, meaning in self._by_start.get(first, ()):
            end = start + len(phrase)
            if not low.startswith(phrase, start):
                # several blanks between the words of a phrase are looked for only where several stand
                if " " not in phrase or "  " not in low[start : end + 4]:
                    continue
                far = _loosely(phrase).match(low, start)
                if far is None:
                    continue
                end = far.end()
            if not (phrase[-1].isalnum() and low[end : end + 1].isalnum()) and (
                not ahead or self._ahead(low, end, ahead)
            ):
                return end, meaning
        return None

    def _ahead(self, low: str, end: int, subject: str) -> bool:
        """Whether a word for a subject stands right behind `end`, or behind one more word that describes it."""
        for _ in range(2):
            begin = behind_blanks(low, end)
            found = self.at(low, begin, first_letters(low, begin)) if begin > end else None
            if found is None:
                return False
            end, (name, value) = found
            if name.split(" ")[0] == "subject" and value.split(" / ")[0] == subject:
                return True
            if name.split(" ")[0] != "condition":
                return False
        return False


def _loosely(phrase: str) -> re.Pattern[str]:
    """A phrase with any few blanks between its words; the re module keeps the compiled ones."""
    return re.compile(r"\s{1,3}".join(map(re.escape, phrase.split(" "))))
