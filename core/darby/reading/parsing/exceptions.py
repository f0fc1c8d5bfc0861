"""Exceptions among words: the places that `except`, or `behind`, takes out of what a line is about."""

from __future__ import annotations

from collections.abc import Sequence

from darby.reading.parsing.tagging.tag import Tag

_PLACES = ("surface", "room", "where")
_NAMED = (*_PLACES, "subject", "type", "sheen")


def with_exceptions(tags: Sequence[Tag]) -> list[Tag]:
    """The tags with every exception before what it takes out: `.., ceilings excepted` is `.., except ceilings`."""
    out: list[Tag] = []
    for tag in tags:
        if tag.name != "EXCEPTED":
            out.append(tag)
            continue
        first = len(out)
        while first and out[first - 1].name in (*_PLACES, "AND"):
            first -= 1
        if any(t.name in _PLACES for t in out[first:]):
            out.insert(first, Tag(out[first].start, out[first].start, "EXCEPT"))
        else:
            out.append(Tag(tag.start, tag.end, "ASK", _LOST))
    return out


_LOST = "an exception behind what it is one of: see which of the two holds"


def unexcepted(tags: Sequence[Tag]) -> list[Tag]:
    """Words without the places that an exception among them takes out: what is said holds everywhere but there.

    `Walls, except in baths: two coats` is not said of baths; `except in baths: one coat` by itself is.
    """
    kept: list[Tag] = []
    out = False
    for tag in tags:
        if tag.name == "PLACE_BEHIND" or (tag.name == "EXCEPT" and any(t.name in _NAMED for t in kept)):
            out = True  # `the wall behind the base cabinets` is said of no base
        elif tag.name not in (*_PLACES, "AND", "EITHER"):
            out = False
        if not out:
            kept.append(tag)
    return kept
