"""The ledger: every number of a document, once, and what became of it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import Literal

from attrs import define, field, frozen

from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import Source, Span, View

Became = Literal["read", "set aside", "unread"]

_DIGITS = re.compile(r"[0-9]{1,4000}|[^\x00-\x7f]")
"""A run of digits, or a sign beyond ASCII, of which `digits_in` keeps those that stand for a number: `²`, `⑫`, `٣`."""

_FIRST_TO_LAST = re.compile(r"[0-9].*[0-9]|[0-9]")
_NAMED = {
    "room": "the number of a room",
    "where": "says how far up something goes",
    "color": "part of the name of a color",
}

_SIDE = "says which side something goes on"

MAY_BE_ORDERED = frozenset(
    {
        "a product that no trade here orders",
        "goods that no trade here orders",
        "a mark of goods that no trade here orders",
        "the size of something that no trade here orders",
        "layers of something that no trade here orders",
        "a count of something else",
        "a quantity that a bill gives",
        "a number of packages, not what one holds",
        "a number of pieces",
        "a length that orders nothing by itself",
        "an allowance",
        "part of a condition",
    }
)
"""Reasons to set a number aside under which it may be one to order all the same: goods, counts and quantities of other things, and
what is wanted only in a case. The others are of no goods at all: a time, a standard, the number of a paragraph.
"""

_WHOLE = re.compile(r"[0-9]{1,4000}(?:[.,/][0-9]{1,40}){1,8}")
"""A number with its fraction, or a date, which is one number."""
_RAISED = re.compile(r"(?:[ckmµ]?m|ft|in|yd)[²³]")
"""The word of a square or cubic unit, of which the raised sign is a part."""


def digits_in(text: str, start: int, end: int) -> Iterator[re.Match[str]]:
    """Runs of digits of a stretch of text, and every single sign of another kind that stands for a number."""
    return (m for m in _DIGITS.finditer(text, start, end) if m[0][0] < "\x80" or _is_number(text, m.start()))


def _is_number(text: str, at: int) -> bool:
    word = at
    while word and text[word - 1].isalpha() and at - word < 3:
        word -= 1
    return unicodedata.category(text[at])[0] == "N" and not _RAISED.fullmatch(text, word, at + 1)


@frozen
class Number:
    """A number of the text and what became of it; `why` says it in words ("a standard", "coats of ..")."""

    span: Span
    became: Became
    why: str


@define(eq=False)
class Ledger:
    """Numbers as they are accounted for. Of two entries for one place the first in order, and the longer, stays."""

    entries: list[Number] = field(factory=list)
    words: list[Span] = field(factory=list)

    def enter(self, span: Span, became: Became, why: str) -> None:
        """Account for one number."""
        self.entries.append(Number(span, became, why))

    def set_aside(self, span: Span, why: str, *, whole: bool = False) -> int:
        """Set aside every run of digits (or `whole` numbers) in a stretch that is no part of what the document says; how many."""
        return self._all(span, "set aside", why, whole=whole)

    def give_up(self, span: Span, why: str) -> None:
        """Leave every number in a stretch unread."""
        self._all(span, "unread", why, whole=True)

    def _all(self, span: Span, became: Became, why: str, *, whole: bool) -> int:
        end = count = 0
        for match in digits_in(span.source.text, span.start, span.end):
            if match.start() >= end:
                number = _WHOLE.match(span.source.text, match.start(), span.end) if whole else None
                end = (number or match).end()
                self.enter(span.source.span(match.start(), end), became, why)
                count += 1
        return count

    def pass_over(self, span: Span) -> None:
        """A word with a digit in it, as `m2`: the digit is no number of the text."""
        self.words.append(span)

    def mark(self, view: View, tag: Tag, *, ours: bool) -> None:
        """The number in the mark of a system, or of goods of others."""
        if any(c.isdigit() for c in view.text[tag.start : tag.end]):
            why = "a mark" if ours else "a mark of goods that no trade here orders"
            self.enter(view.span(tag.start, tag.end), "set aside", why)

    def name(self, view: View, tag: Tag) -> None:
        """The digits in a word: those of a room are its number, those of a part of a surface say where it ends."""
        digits = _FIRST_TO_LAST.search(view.text, tag.start, tag.end)
        if tag.name in _NAMED and digits is not None:
            span = view.span(digits.start(), digits.end())
            sided = tag.name == "where" and tag.value.endswith(" side")
            self.enter(span, "set aside", _SIDE if sided else _NAMED[tag.name])
        else:
            self.pass_over(view.span(tag.start, tag.end))

    def closed(self, source: Source, within: Span | None = None) -> list[Number]:
        """All numbers in order, no place twice, digits that nobody accounted for set aside as markup."""
        kept: list[Number] = []
        end = -1
        for number in sorted(self.entries, key=lambda n: (n.span.start, -n.span.end)):
            if number.span.start >= end:
                kept.append(number)
                end = number.span.end
        taken = sorted([(n.span.start, n.span.end) for n in kept] + [(s.start, s.end) for s in self.words])
        rest = list(_unaccounted(source, within, taken))
        return sorted((*kept, *rest), key=lambda n: n.span.start)


def _unaccounted(source: Source, within: Span | None, taken: list[tuple[int, int]]) -> Iterator[Number]:
    low, high = (within.start, within.end) if within is not None else (0, len(source.text))
    at = 0
    for match in digits_in(source.text, low, high):
        while at < len(taken) and taken[at][1] <= match.start():
            at += 1
        if at == len(taken) or taken[at][0] >= match.end():
            span = source.span(match.start(), match.end())
            if _in_markup(source.text, match.start()):
                yield Number(span, "set aside", "markup")
            else:
                # digits that no tag holds: an over-long run, one grown together with letters, a raised or circled one
                plain = match[0][0] < "\x80"
                yield Number(span, "unread", "grown together with other signs" if plain else "no plain digit")


def _in_markup(text: str, at: int) -> bool:
    before = text[max(0, at - 300) : at]
    return before.rfind("<") > before.rfind(">") or re.search(r"&#?\w{0,8}$", before) is not None
