"""Places that are called by a noun of places and plain words before it: `common areas`, `shell space`, `main house`, `guest wing`.

Each of their words may mean nothing by itself; together, where a place stands, they limit what is said. A noun behind a word that only
counts or points (`all areas`, `these spaces`) names nothing, and without any only one that is a place by itself (`Entrance:`).
Behind a word that leads to a place a name in capitals is one too (`in Metal Shop`), whatever its first word means elsewhere.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import accumulate

from darby.reading.parsing.naming.names import ARTICLES, LEADING, Names
from darby.reading.parsing.naming.place_names import Word, words_of
from darby.reading.parsing.tagging.phrase_index import any_phrase
from darby.reading.parsing.tagging.room_names import singular
from darby.reading.parsing.tagging.tag import Tag, put, within

_MOST = 3
"""Words before the noun."""
_WEAK = ("ROOM_HEAD", "SPACED", "DRY", "WET", "HIGH", "FOREIGN", "REFERENCE", "KEEP", "LEAVE", "hint", "SIGN")
"""What words of a name may mean elsewhere."""
_BULLETS = "-•*>"
_CLOSES = re.compile(r"\s?[:–—]|\s-\s")
_LED = re.compile(
    r"\b(?:in|at|of|on|to|for|throughout|within)\s(?:(?:the|all|our|both|each|every|any)\s)*\Z", re.IGNORECASE
)
_REACH = 40


def with_headed_places(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """The tags with such places."""
    if not names.heads:
        return list(tags)
    words = list(words_of(text, tags))
    new = [*_told_apart(tags, text, names), *_headed(words, tags, text, names), *_titled(words, tags, text, names)]
    led = (m for m in _dwellings(tuple(names.dwellings)).finditer(text) if not within(new, *m.span("name")))
    new += [Tag(*m.span("name"), "room", singular(" ".join(m["name"].lower().split()))) for m in led]
    return put(new, tags) if new else list(tags)


@lru_cache(4)
def _dwellings(words: tuple[str, ...]) -> re.Pattern[str]:
    """A pattern for kinds of dwellings that a word leads to, and nothing behind tells apart: `in units`, and no `in units of 4 ft`."""
    return re.compile(
        rf"(?<![A-Za-z-])(?:in|within|inside|throughout)\s(?:(?:the|all|each|every)\s)?(?P<name>{any_phrase(words)})"
        r"(?=\s{0,2}(?:[.,;:)]|\Z|(?:and|or|is|are|gets?|only|to|shall)\b))",
        re.IGNORECASE,
    )


def with_dividers(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """The tags with a `where` for each wall that stands between two places: `kitchen/dining wall`, `garage/house separation`, `walls
    between shop and store`. What is said of it is said of no other wall of these places."""
    new = [*_slashed(tags, text, names), *_between(tags, text, names)]
    return put(new, tags) if new else list(tags)


_SLASH = re.compile(r"(?<=[A-Za-z])\s?/\s?(?=[A-Za-z])")
_LAST = re.compile(r"(?<![A-Za-z-])[A-Za-z][A-Za-z'’]{2,20}\Z")
_FIRST = re.compile(r"[A-Za-z][A-Za-z'’]{2,20}(?![A-Za-z-])")
_DIVIDER = re.compile(r"\s(?:(?P<sort>[A-Za-z]{3,12})\s)?(?P<noun>[A-Za-z]{4,12})(?![A-Za-z-])")


def _slashed(tags: Sequence[Tag], text: str, names: Names) -> Iterator[Tag]:
    for slash in _SLASH.finditer(text):
        left = next((t for t in within(tags, slash.start() - 1, slash.start()) if t.name in _PLACED), None)
        right = next((t for t in within(tags, slash.end(), slash.end() + 1) if t.name in _PLACED), None)
        before, after = _LAST.search(text, max(0, slash.start() - 24), slash.start()), _FIRST.match(text, slash.end())
        if (left is None and right is None) or before is None or after is None:
            continue
        start, end = left.start if left is not None else before.start(), right.end if right is not None else after.end()
        noun = _DIVIDER.match(text, end)
        if noun is not None and noun["sort"] and noun["sort"].lower() in names.dividing:
            last = noun.end("sort")
        elif noun is not None and (noun["noun"] if noun["sort"] is None else noun["sort"]).lower() in names.dividing:
            last = noun.end()
        else:
            last = end
        surface = next((t for t in within(tags, last, last + 2) if t.name == "surface" and t.start == last + 1), None)
        one = surface is not None and not text[surface.start : surface.end].lower().endswith("s")
        if one or last > end:
            said = text[start : surface.end if one and surface is not None else last]
            yield Tag(start, last, "where", " ".join(said.lower().split()))


_BETWEEN = re.compile(
    r"between\s(?P<what>(?:(?:the|two|adjoining|adjacent)\s)?[A-Za-z][A-Za-z'’-]{2,20}(?:\s[A-Za-z][A-Za-z'’-]{2,20}){0,4})"
    r"(?=\s?(?:[:,.;)]|\Z))",
    re.IGNORECASE,
)
_VERB = re.compile(r"\s(?:shall|are|is|get|gets|receive|receives|to|has|have|will|must|need|needs)\s", re.IGNORECASE)
_PLACED = ("room", "ROOM_HEAD")


def _between(tags: Sequence[Tag], text: str, names: Names) -> Iterator[Tag]:
    for tag in tags:
        if tag.name != "BETWEEN":
            continue
        surface = next((t for t in within(tags, tag.start - 2, tag.start) if t.name == "surface"), None)
        led = _LAST.search(text, max(0, tag.start - 24), max(0, tag.start - 1))
        if surface is None and (led is None or led[0].lower() not in names.dividing):
            continue
        verb = _VERB.search(text, tag.end, tag.end + _FAR)
        match = _BETWEEN.match(text, tag.start, verb.start() if verb is not None else len(text))
        end = match.end() if match is not None else None
        if end is not None and all(t.name in (*_PLACED, "AND", "BETWEEN") for t in within(tags, tag.start, end)):
            yield Tag(tag.start, end, "where", " ".join(text[tag.start : end].lower().split()))


_FAR = 60
_APART = re.compile(
    r"\s(?:with(?:out)?|having|facing|next\sto|adjoining|adjacent\sto|opposite|near|outside|above|below|beneath|over|under|beside)\s"
    r"(?:the\s|a\s|an\s)?[A-Za-z][A-Za-z'’ -]{1,50}(?=\s?:)",
    re.IGNORECASE,
)


def _opens(text: str, start: int) -> bool:
    """Whether a sentence, an item or a line opens at a place, but for blanks and bullets: looked for backwards, as far as these go."""
    at = start
    while at and (text[at - 1].isspace() or text[at - 1] in _BULLETS):
        if text[at - 1] == "\n":
            return True
        at -= 1
    return not at or text[at - 1] in ".;"


def _told_apart(tags: Sequence[Tag], text: str, names: Names) -> Iterator[Tag]:
    """`Rooms without windows: ..`, `Offices facing the street: ..`: a label that tells some rooms from others is a place, as it is
    written; what it tells them by has nothing itself."""
    heads = [(t.start, t.end) for t in tags if t.name in ("ROOM_HEAD", "room")]
    for start, end in (*heads, *(m.span() for m in _A_NOUN.finditer(text) if m[0].lower() in names.several)):
        match = _APART.match(text, end) if _opens(text, start) else None
        if match is not None and not any(t.name in _SAYS for t in within(tags, end + 1, match.end())):
            yield Tag(start, match.end(), "room", " ".join(text[start : match.end()].lower().split()))


_A_NOUN = re.compile(r"(?<![A-Za-z-])[A-Za-z]{4,12}(?![A-Za-z-])")


_SAYS = (
    "NUMBER",
    "A_COAT",
    "A_LAYER",
    "LEVEL",
    "COAT",
    "LAYER",
    "mark",
    "sheen",
    "type",
    "where",
    "STOP",
    "SEMICOLON",
    "CELL",
    "ELSEWHERE",
    "EVERYWHERE",
)
"""What says something of its own in such a label."""


def _headed(words: Sequence[Word], tags: Sequence[Tag], text: str, names: Names) -> Iterator[Tag]:
    for n, word in enumerate(words):
        if word.low not in names.heads or not _free(word):
            continue
        low = n
        while low and n - low < _MOST and _describes(words[low - 1], words[low], names):
            low -= 1
        if low == n and word.low not in names.alone:
            continue
        start, end = words[low].start, word.end
        behind = next((t for t in within(tags, end, end + 2) if t.start > end - 1), None)
        before_surface = behind is not None and behind.name == "surface" and behind.start == end + 1
        opens = _opens(text, start)
        if before_surface and word.low in names.alone and (low < n or not opens):
            continue  # `Flat entrance doors`, `to entrance doors`: it tells the surface from others
        led = _LED.search(text, max(0, start - _REACH), start) is not None
        if (opens and (before_surface or _CLOSES.match(text, end))) or led:
            yield Tag(start, end, "room", singular(" ".join(text[start:end].lower().split())))


def _free(word: Word) -> bool:
    return word.tag is None or word.tag.name in _WEAK


def _describes(word: Word, behind: Word, names: Names) -> bool:
    """Whether a word before a noun of places tells it from others of its kind."""
    points = word.low in LEADING or word.low in ARTICLES or word.low in names.plain or word.low in names.counted
    return word.end + 1 == behind.start and _free(word) and not points and not word.text[0].isdigit()


_TITLED = re.compile(
    r"(?<![A-Za-z-])(?:in|at|inside|within|throughout)\s(?:(?:the|all)\s)?"
    r"(?P<name>[A-Z][a-z]{2,24}(?:\s[A-Z][a-z]{2,24}){0,2})"
    r"(?=\s*(?:[.,;:)]|\s(?:and|or|is|are|gets?|only)\b|$))"
)
_ANY = (*_WEAK, "subject", "surface", "type", "condition", "NUMBER")
"""What the words of such a name may mean elsewhere."""


def _titled(words: Sequence[Word], tags: Sequence[Tag], text: str, names: Names) -> Iterator[Tag]:
    """Names in capitals in a sentence that has small letters elsewhere, none of whose words is known to name a place."""
    starts = [w.start for w in words]
    cased = list(accumulate(map(_cased, words), initial=0))
    for match in _TITLED.finditer(text):
        start, end = match.span("name")
        inside = within(tags, start, end)
        first, behind = bisect_left(starts, start), bisect_left(starts, end)
        own = words[first:behind]
        last = own[-1]
        if (
            last.tag is not None
            or last.low in names.labels
            or last.low in names.papers
            or any(t.name not in _ANY for t in inside)
        ):
            continue
        if last.low in names.described and (len(own) == 1 or last.low not in names.buildings):
            continue
        if cased[first] + cased[-1] - cased[behind] < 0:
            continue
        yield Tag(start, match.end(), "room", singular(match[0][start - match.start() :].lower()))


def _cased(word: Word) -> int:
    """Whether a word speaks for a sentence, 1, or for a title, in which each begins with a capital, -1."""
    return word.text[0].islower() - word.text[0].isupper() if len(word.text) > _LONG else 0


_LONG = 3
"""Letters of words that a title writes with a capital."""
