"""Kinds of dwellings by their letters: `Type A` of flats is a place, and no mark of a system."""

from __future__ import annotations

import re
from collections.abc import Sequence

from darby.reading.layout.clause import Clause
from darby.reading.parsing.tagging.tag import Tag, put, within
from darby.rules.name_matching import SORT

LETTERED = re.compile(r"(?:Type|TYPE|type)\s(?P<letter>[A-Z]|[0-9]{1,2})(?![A-Za-z0-9/.\"'’-])")
"""A kind by its letter or number."""
_WORDS_OF_TRADE = frozenset("CXSWG")


def lettered(clauses: Sequence[Clause]) -> bool:
    """Whether two kinds or more are told apart by letters that mean nothing in the trade."""
    found = {m["letter"] for clause in clauses for m in LETTERED.finditer(clause.view.text)}
    return len(found - _WORDS_OF_TRADE) > 1


def without_letters(tags: Sequence[Tag], text: str) -> list[Tag]:
    """The tags of a text without those of `Type C` where it is one of the kinds of a thing that a document letters, and no word of the trade."""
    return [t for n, t in enumerate(tags) if not _is_letter(tags, n, text)]


def _is_letter(tags: Sequence[Tag], at: int, text: str) -> bool:
    tag = tags[at]
    if tag.name != SORT or not LETTERED.fullmatch(text[tag.start : tag.end]):
        return False
    beside = tags[max(0, at - 2) : at + 2]
    return not any(t.name in _GOODS for t in beside if t is not tag)


_GOODS = ("subject", "LENGTH_UNIT", "LAYER", "THIN_UNIT")
_NOUN = r"(?:units?|apartments?|flats?|dwellings?|houses?|homes?|suites?|villas?|plots?|[0-9][ -]?bed(?:room)?s?)"
_NO_WALL = r"(?!\s(?:sides?|to|and|or|separation|separating|party|demising|walls?|partitions?|doors?)\b)"
_DWELLING = re.compile(
    rf"\b{_NOUN}\s(?:of\s)?types?\s|(?<!between\s)(?<!between the\s)\b{_NOUN}\b{_NO_WALL}",
    re.IGNORECASE,
)
"""A word for dwellings; what a wall stands between or looks to says nothing of kinds of them."""


def of_dwellings(clauses: Sequence[Clause]) -> bool:
    """Whether `Type A` is a kind of dwelling: a clause says of how many units or flats it is. That a wall has a `unit side` or stands
    between flats says it not."""
    return any(
        _DWELLING.search(c.view.text)
        and any(m["letter"] not in _WORDS_OF_TRADE for m in LETTERED.finditer(c.view.text))
        for c in clauses
    )


_DWELLINGS = re.compile(r"\b(?:[Ff]lats|[Ff]lat\s[0-9]{1,3}|FLATS)\b")
_FLAT = re.compile(
    r"(?<![A-Za-z-])(?:(?<=the )|(?<=each )|(?<=every )|(?<=per )|(?<=all )|(?<=any )|(?<=corner )|(?<=in ))(?P<noun>flats?)(?![A-Za-z-])"
    r"|(?<![A-Za-z-])flat(?= (?:entrance|front|kitchens?|bathrooms?|lobb))|(?<![A-Za-z-])(?P<plural>flats)(?![A-Za-z-]|\s?[0-9])",
    re.IGNORECASE,
)


def has_dwellings(text: str) -> bool:
    """Whether a text speaks of flats that are lived in."""
    return _DWELLINGS.search(text) is not None


def with_flats(tags: Sequence[Tag], text: str) -> list[Tag]:
    """The tags of a text in which a flat that is lived in is a place and no look: `in the flats`, `flat entrance doors`."""
    parts = any(t.name == "where" for t in tags)  # `flats and angles` are parts of the work
    found = [m for m in _FLAT.finditer(text) if not (m["plural"] and parts)]
    new = [Tag(m.start(), m.end(), "room", "flat") for m in found]
    new = [t for t in new if not any(other.name == "room" for other in within(tags, t.start, t.end))]
    return put(new, tags)


_VACANT = re.compile(r"void\s+(?:&|(?!(?:by|see|as|until|from|per|since|and\s+not)\b)[a-z])", re.IGNORECASE)


def says_vacant(tag: Tag, text: str) -> bool:
    """Whether `void` only describes what stands behind it: `VOID & REDECORATION TEAM`, `void properties`."""
    return tag.name == "ASIDE_ALL" and _VACANT.match(text, tag.start) is not None
