"""Phrases by how they begin: one look-up finds the longest that stands at a place."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

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


def _reach(entry: tuple[str, str, Meaning]) -> tuple[int, bool]:
    """How far a phrase reaches: of two that stand at one place the longer counts."""
    return len(entry[0]), bool(entry[1])


class PhraseIndex:
    """Phrases by their first letters (or first sign), the longest first.

    A phrase that ends in a subject in braces stands only right before that subject, which is no part of it:
    `standard {varnish}` is the `standard` of `standard lacquer`; `{=where}` is any word of that table.
    """

    def __init__(self, phrases: Mapping[str, Meaning]) -> None:
        self._by_start: dict[str, list[tuple[str, str, Meaning]]] = {}
        self._by_second: dict[str, dict[str, list[tuple[str, str, Meaning]]]] = {}
        self._add(phrases)

    def and_(self, phrases: Mapping[str, Meaning]) -> PhraseIndex:
        """The same with some phrases more; one that it knows means here what it means among these."""
        if not phrases:
            return self
        made = PhraseIndex({})
        made._by_start, made._by_second = dict(self._by_start), dict(self._by_second)
        made._add(phrases)
        return made

    def _add(self, phrases: Mapping[str, Meaning]) -> None:
        touched: dict[str, dict[tuple[str, str], tuple[str, str, Meaning]]] = {}
        for phrase, meaning in phrases.items():
            said, _, ahead = phrase.partition(" {")
            first = said.partition(" ")[0]
            if not (first.isalpha() and first.isascii()):
                first = first_letters(said, 0)
            if (some := touched.get(first)) is None:
                some = touched[first] = {entry[:2]: entry for entry in self._by_start.get(first, ())}
            ahead = ahead.rstrip("}")
            some[said, ahead] = said, ahead, meaning
        for first, entries in touched.items():
            found = self._by_start[first] = sorted(entries.values(), key=_reach, reverse=True)
            if len(found) > _MANY:
                self._by_second[first] = _parted(first, found)

    def at(self, low: str, start: int, first: str) -> tuple[int, Meaning] | None:
        """End and meaning of the longest phrase that stands at `start` of a lower-case text and begins with `first`."""
        for phrase, ahead, meaning in self._near(low, start, first):
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

    def _near(self, low: str, start: int, first: str) -> Sequence[tuple[str, str, Meaning]]:
        """The phrases that may stand at a place: of many that begin alike, as a job's rooms do, those with the second word there."""
        parted = self._by_second.get(first)
        if parted is None:
            return self._by_start.get(first, ())
        second = _SECOND.match(low, start + len(first))
        return parted.get(second[1] if second else "", parted[""])

    def _ahead(self, low: str, end: int, subject: str) -> bool:
        """Whether a word for a subject stands right behind `end`, or behind one more word that describes it."""
        for _ in range(2):
            begin = behind_blanks(low, end)
            found = self.at(low, begin, first_letters(low, begin)) if begin > end else None
            if found is None:
                return False
            end, (name, value) = found
            key = name.split(" ")[0]
            if subject == f"={key}" or (key == "subject" and value.split(" / ")[0] == subject):
                return True
            if key != "condition":
                return False
        return False


_MANY = 32
"""Phrases with one first word that are looked through one by one."""
_SECOND = re.compile(r"\s{1,3}([^\W_]+)")


def _parted(first: str, some: Sequence[tuple[str, str, Meaning]]) -> dict[str, list[tuple[str, str, Meaning]]]:
    """Phrases that begin alike by their second word, each with those that have none; the order kept."""
    seconds = [m[1] if (m := _SECOND.match(said, len(first))) else "" for said, _, _ in some]
    parted: dict[str, list[tuple[str, str, Meaning]]] = {second: [] for second in ("", *seconds)}
    bare = [n for n, second in enumerate(seconds) if not second]
    places: dict[str, list[int]] = {}
    for n, second in enumerate(seconds):
        places.setdefault(second, []).append(n)
    for second in parted:
        parted[second] = [some[n] for n in (sorted((*places[second], *bare)) if second else bare)]
    return parted


def _loosely(phrase: str) -> re.Pattern[str]:
    """A phrase with any few blanks between its words; the re module keeps the compiled ones."""
    return re.compile(r"\s{1,3}".join(map(re.escape, phrase.split(" "))))


def any_phrase(phrases: Iterable[str]) -> str:
    """A pattern for any of some phrases, the longest first, whatever blanks are between their words; for none of none."""
    longest = sorted(phrases, key=lambda phrase: (-len(phrase), phrase))
    return "|".join(re.escape(phrase).replace(r"\ ", r"\s") for phrase in longest) or "(?!)"
