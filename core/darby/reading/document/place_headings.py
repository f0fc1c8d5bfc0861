"""Headings that are nothing but places of a building: `CORRIDORS`, `LEVEL 2 OFFICES`, `GUEST ROOMS, 2ND FLOOR (201-208)`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.naming.larger_places import with_floors
from darby.reading.parsing.naming.names import ARTICLES, LEADING, Names
from darby.reading.parsing.tagging.tag import Tag, within

Tags = Sequence[Tag]
_OF_PLACES = ("room", "surface", "AND", "COMMA", "EITHER", "SIGN", "ALL", "ROOM_HEAD")
_BRACKET = re.compile(r"\((?P<inside>[^()]{2,60})\)\s?:?$")
_A_WORD = re.compile(r"[^\W\d_]{2,40}")
_JOINING = frozenset({*ARTICLES, *LEADING, "and"})
_PAIRED = re.compile(r"\s*(?:/|&|\band\b)\s*", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*(?:,|/|&|\band\b)\s*", re.IGNORECASE)


def of_places(text: str, tags: Tags, lexicon: Lexicon, names: Names, low: int = 0, high: int | None = None) -> bool:
    """Whether a stretch of a text is nothing but places that the language knows, and no project's name. What stands beside one of them
    in a list is one too; a bracket behind them, with the numbers of the rooms or a remark, takes nothing from it, nor does a colon."""
    high = len(text.rstrip(" :")) if high is None else high
    bracket = _BRACKET.search(text, low, high)
    if bracket is not None and not any(t.name in ("room", "surface") for t in within(tags, *bracket.span("inside"))):
        high = bracket.start()
    said = within(tags, low, high)
    if not any(t.name == "room" for t in said) or any(t.name not in _OF_PLACES for t in said):
        return False
    known = [t for t in with_floors(lexicon.tags(text), text) if t.name in _OF_PLACES]
    strange = [
        m
        for m in _A_WORD.finditer(text, low, high)
        if not within(known, m.start(), m.end())
        and m[0].lower().rstrip("s") not in names.numbered
        and m[0].lower() not in _JOINING
    ]
    return not strange or _listed(strange, [t for t in said if t.name == "room"], known, text)


def _listed(strange: Sequence[re.Match[str]], rooms: Tags, known: Tags, text: str) -> bool:
    """Whether words that no list knows are each a place by itself in a row of places of which another is known: `LOBBY AND BAR`."""
    own = [t for t in rooms if any(k.name == "room" for k in within(known, t.start, t.end))]
    joined = all(_BETWEEN.fullmatch(text, one.end, other.start) for one, other in pairwise(rooms))
    paired = all(_PAIRED.fullmatch(text, one.end, other.start) for one, other in pairwise(rooms))
    held = (
        rooms if paired else [t for t in rooms if t not in own]
    )  # `Entrance Hall and Stairs`, and `HARBOUR OFFICES, SUITE 12`
    named = all(any(t.start <= m.start() and m.end() <= t.end for t in held) for m in strange)
    return len(rooms) > 1 and bool(own) and joined and named


def inside_bracket(text: str) -> tuple[int, int] | None:
    """Where what a bracket at the end of a heading holds begins and ends: `TRIM (Kitchen)`."""
    bracket = _BRACKET.search(text)
    return bracket.span("inside") if bracket is not None else None
