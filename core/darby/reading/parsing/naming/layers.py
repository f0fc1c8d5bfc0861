"""Short words that mean something only beside goods: layers named by a bare word behind what they are of, `two layers: 5/8 in. base, 1/2 in.
face`, and sorts by their letters, `5/8 in. AB`."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise

from darby.reading.parsing.tagging.tag import Tag, put
from darby.rules.name_matching import SORT

_BEHIND = ("type", "subject", "LENGTH_UNIT", "THICK", "ON_CENTER")
"""What such a word stands right behind."""
_WORD = re.compile(r"\s{1,2}(?P<word>[a-z]{3,12})\b(?!\s*:)(?=\s*(?:[,.;)]|$|and\b|over\b|on\b))", re.IGNORECASE)

_BEFORE = re.compile(r"(?:^|[,;:.]\s{1,2}|\band\s)(?P<word>[a-z]{4,7})\s{1,2}(?=[0-9(])", re.IGNORECASE)
"""Such a word right before a number: `Two layers: base 16 in., face 12 in.`"""

_ALONE = re.compile(
    r"\b(?:for|to|in|at|through|on)\s{1,2}the\s{1,2}(?P<word>[a-z]{3,12})\b(?:\s{1,2}ones?\b)?(?=\s{0,3}(?:[.,;)]|$|and\b))|(?:\band|,)\s{1,2}the\s{1,2}(?P<next>[a-z]{3,12})(?=\s{1,2}(?:with|by|at|using)\b)",
    re.IGNORECASE,
)
"""Such a word with nothing behind it, where another layer is named in full: `12 in. for the first layer and 8 in. for the second`."""

_AS = re.compile(r"\bas\s{1,2}(?:the\s{1,2})?(?P<word>[a-z]{3,12})\b(?=\s{0,3}(?:[.,;)]|$|and\b))", re.IGNORECASE)
"""Such a word as what something is put up for: `12 mm A as base, 12 mm B as the outer layer`."""


def with_layers(tags: list[Tag], text: str, words: Mapping[str, str]) -> list[Tag]:
    """The tags with one for each bare word that names a layer, in a text that speaks of layers or names two of them.

    `words` has the layer that each word names. A word of the lexicon that stands there gives way.
    """
    if not words:
        return tags
    found = [
        Tag(at.start("word"), at.end("word"), "layer", words[at["word"].lower()])
        for tag in tags
        if tag.name in _BEHIND and (at := _WORD.match(text, tag.end)) and at["word"].lower() in words
    ]
    found += [
        Tag(at.start("word"), at.end("word"), "layer", words[at["word"].lower()])
        for at in (*_BEFORE.finditer(text), *_AS.finditer(text))
        if at["word"].lower() in words
    ]
    if any(tag.name == "layer" for tag in tags):
        taken = {tag.start for tag in found}
        alone = ((at, "next" if at["next"] else "word") for at in _ALONE.finditer(text))
        found += [
            Tag(at.start(key), at.end(key), "layer", words[at[key].lower()])
            for at, key in alone
            if at[key].lower() in words and at.start(key) not in taken
        ]
    if not found or not (_speaks(tags) or len({tag.value for tag in found}) > 1):
        return tags
    starts = {tag.start for tag in found}
    return sorted([*(t for t in tags if t.start not in starts), *found], key=lambda t: t.start)


def _speaks(tags: Sequence[Tag]) -> bool:
    return any(tag.name in ("LAYER", "layer") for tag in tags)


def without_sorts_of_others(tags: list[Tag], chosen: Callable[[Tag], str]) -> list[Tag]:
    """The tags without a sort that stands right before other goods than it is one of: they are made in sorts of their own, of the same letter.
    `chosen` tells of what a sort is."""
    others = {
        id(tag)
        for tag, behind in pairwise(tags)
        if tag.name == SORT and behind.name == "subject" and 0 <= behind.start - tag.end <= 1
        if chosen(tag) not in ("", behind.value) and not tag.also
    }
    return [tag for tag in tags if id(tag) not in others] if others else tags


def with_courses(tags: list[Tag], text: str) -> list[Tag]:
    """The tags with the layer that each of two amounts is of that are laid one over the other: `one layer A over two layers B` has A as
    its face."""
    new: list[Tag] = []
    for n, tag in enumerate(tags):
        if tag.name != "LARGER_THAN" or text[tag.start : tag.end].lower() != "over":
            continue
        low = max((m + 1 for m in range(n) if tags[m].name in _ENDS), default=0)
        high = next((m for m in range(n + 1, len(tags)) if tags[m].name in _ENDS), len(tags))
        under, upper = tags[n + 1 : high], tags[low:n]
        first = next((t for t in upper if t.name in _AMOUNTS), None)
        if first is None or not under or under[0].name not in _AMOUNTS or not (_laid(upper) and _laid(under)):
            continue
        new += [Tag(first.start, first.start, "layer", "face"), Tag(under[0].start, under[0].start, "layer", "base")]
    return sorted([*tags, *new], key=lambda t: (t.start, t.end)) if new else tags


def _laid(tags: Sequence[Tag]) -> bool:
    """Whether words say how many layers or how thick of what, and not of which layer."""
    names = [tag.name for tag in tags]
    counted = "LAYER" in names or "A_LAYER" in names or "LENGTH_UNIT" in names
    return counted and "layer" not in names and ("subject" in names or SORT in names)


_ENDS, _AMOUNTS = ("COMMA", "SEMICOLON", "STOP", "COLON"), ("NUMBER", "A_LAYER")


_TO_SORT = re.compile(r"(?:\s{0,2}[,/&+]\s{0,2}|\s{1,2}(?:and\s)?|\s?\()?", re.IGNORECASE)
"""What stands between a short word for a sort and the goods, or another sort, that it stands beside."""


def with_short_sorts(tags: list[Tag], text: str, words: Mapping[str, str]) -> list[Tag]:
    """The tags with a sort for each short word in capitals that stands beside another sort or goods, or right behind a size where layers or
    goods are spoken of: `AB, plain paper`, `two layers 5/8 in. AB each side`. Two of them may stand in one list."""
    if not words or text.islower():
        return tags
    pattern = _either(tuple(sorted(words, key=len, reverse=True)))
    spoken = any(tag.name in (SORT, "subject", "LAYER", "A_LAYER") for tag in tags)
    for at in reversed(list(pattern.finditer(text))) if spoken else ():
        tags = _with_sort(tags, text, at, words[at[0]])
    for at in list(pattern.finditer(text)) if spoken else ():
        tags = _with_sort(tags, text, at, words[at[0]])
    return tags


def _with_sort(tags: list[Tag], text: str, at: re.Match[str], sort: str) -> list[Tag]:
    low = bisect_left(tags, at.start(), key=lambda t: t.start)
    inside = next((t for t in tags[max(0, low - 1) : low + 2] if t.start < at.end() and at.start() < t.end), None)
    if inside is not None and inside.name != "CODE":
        return tags
    before = [t for t in tags[:low] if t.name not in _JOINS and t is not inside][-1:]
    behind = [t for t in tags[low : low + _NEAR] if t.name not in _JOINS and t is not inside and t.start >= at.end()][
        :1
    ]
    beside = any(t.name in (*_GOODS, *_SIZES) and _TO_SORT.fullmatch(text, t.end, at.start()) for t in before)
    beside |= any(t.name in _GOODS and _TO_SORT.fullmatch(text, at.end(), t.start) for t in behind)
    return put([Tag(at.start(), at.end(), SORT, sort)], tags) if beside else tags


@lru_cache(8)
def _either(words: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile(rf"(?<![A-Za-z0-9.-])(?:{'|'.join(map(re.escape, words))})(?![A-Za-z0-9-])")


_GOODS, _SIZES, _JOINS, _NEAR = (SORT, "subject"), ("LENGTH_UNIT", "THICK"), ("COMMA", "AND", "PER", "SIGN", "OPEN"), 4
