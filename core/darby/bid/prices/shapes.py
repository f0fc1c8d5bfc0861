"""Descriptions that differ in their numbers alone: of such all words and signs mean the same, and stand at the same places.

A supplier's list has few ways of saying what a thing is, and many sizes and numbers. What is left of a description without the numbers
that nothing but their own value depends on is its shape; the tags of all descriptions of one shape are the same in number, name and place.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from darby.reading.parsing.tagging.tag import Tag

FREE = "\0"
"""Stands for each digit of a number that is free to differ."""

_NUMBER = re.compile(r"[0-9]++(?![IOSBYZ]|l(?!b)|\s?(?:[sS][tT]|[nN][dD]|[rR][dD]|[tT][hH])(?![A-Za-z0-9])|/[BSO])")
"""A number that is no ordinal, with no letter behind it that a scanner may have made of a digit."""
_LETTERS = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")
_SCANNED = frozenset("IlOSBYZ")
_BARS = ("/", "⁄")


class Shapes:
    """Tells the shapes of texts. `phrases` are all that the tagger knows: a number that stands in one of them is free nowhere."""

    def __init__(self, phrases: Iterable[str]) -> None:
        self._said = frozenset(run for phrase in phrases for run in re.findall("[0-9]+", phrase)) | {"1"}

    def of(self, text: str) -> str:
        """A text with `FREE` in the place of each digit that is free; letter for letter as long."""
        return _NUMBER.sub(self._freed, text)

    def _freed(self, match: re.Match[str]) -> str:
        """A number with `FREE` for its digits, as many as mean nothing but the number's value."""
        said, text, at = match[0], match.string, match.start()
        if said in self._said:
            return said
        before = text[at - 1 : at]
        if before in _LETTERS and not (before in "xX" and at > 1 and text[at - 2] not in _LETTERS):
            # the first digit may make a unit of the letters: `m2`
            return said if before in _SCANNED else said[0] + FREE * (len(said) - 1)
        if said[0] == "0" and (before in _BARS or text[match.end() :][:1] in _BARS or said.lstrip("0") in ("", "1")):
            return said
        if before in _BARS and _is_one(text, at - 1, said):
            return said
        if len(said) > 3 and said[:2] in ("19", "20"):
            return said[:2] + FREE * (len(said) - 2)  # a year
        return FREE * len(said)


def _is_one(text: str, bar: int, below: str) -> bool:
    """Whether as much stands above a bar as below it: `1 in 50` is a share, and so would `2/2 in 50` be."""
    above = bar - len(below)
    return text.startswith(below, max(above, 0), bar) and not text[max(above - 1, 0) : max(above, 0)].isdigit()


def share_tags(tags: Sequence[Tag]) -> bool:
    """Whether the tags of a text are those of all texts of its shape: inches behind feet are joined with them only where they are few."""
    for n, tag in enumerate(tags):
        if tag.name == "FEET_INCHES":
            return False
        if tag.name == "LENGTH_UNIT" and tag.value == "ft":
            behind = [t.name for t in tags[n + 1 : n + 5] if t.name not in ("STOP", "DASH")]
            if behind[:2] == ["NUMBER", "LENGTH_UNIT"]:
                return False
    return True
