"""Walls of a room that are told by what they stand against: under `SITTING ROOM`, `Party wall and hall wall: ..` speaks of two of its own.

Elsewhere a hall wall is a wall of the hall. In the block of another room it is the one wall that looks there; the job calls it so too
(`Sitting room hall wall`), as it does walls by the compass.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from attrs import evolve

from darby.reading.binding.site.finding import Context
from darby.reading.parsing.naming.larger_places import holds_others
from darby.reading.parsing.naming.names import ARTICLES, LEADING, Names
from darby.reading.parsing.tagging.tag import Tag, within
from darby.rules.name_matching import in_room

FACING = "facing"
_WALL = "wall"
_WORD = re.compile(r"(?<![A-Za-z-])([A-Za-z]{3,16})\s\Z")
_REACH = 18


def by_neighbour(tags: Sequence[Tag], text: str, context: Context, names: Names) -> Sequence[Tag]:
    """The tags of a text, where one wall (`hall wall`) in the block of another room is that of the block's room which faces there.

    A word that only tells one wall from another (`accent wall`) is such a name wherever it stands.
    """
    if not any(_is_wall(tag) for tag in tags):
        return tags
    own = _block_of(context, names)
    out: list[Tag] = []
    for tag in tags:
        start, word = _told(tag, out, text, own, names) if _is_wall(tag) else (tag.start, "")
        if not word:
            out.append(tag)
            continue
        if out and out[-1].start >= start:
            out.pop()
        out.append(evolve(tag, start=start, also=(*tag.also, (FACING, word))))
    return out


def _is_wall(tag: Tag) -> bool:
    return (tag.name, tag.value) == ("surface", _WALL)


def _told(tag: Tag, before: Sequence[Tag], text: str, own: Sequence[str], names: Names) -> tuple[int, str]:
    """Where the name of a wall begins, and the word that tells it from the others; no word where it has none of its own."""
    last = before[-1] if before else None
    beside = last is not None and not text[last.end : tag.start].strip()
    if last is not None and beside and last.name == "where" and last.value.split()[-1] in (_WALL, f"{_WALL}s"):
        return last.start, last.value.split()[0]
    if not own or text[tag.start : tag.end].lower() != _WALL:
        return tag.start, ""
    if last is not None and beside and last.name == "room":
        same = any(in_room(last.value, room) or in_room(room, last.value) for room in own)
        return last.start, "" if same else last.value.split()[0]
    found = _WORD.search(text, max(0, tag.start - _REACH), tag.start)
    word = found[1].lower() if found is not None else ""
    free = found is not None and not within(before, found.start(1), found.end(1))
    plain = free and word not in ARTICLES and word not in LEADING and names.can_name(word)
    return (found.start(1), word) if found is not None and plain else (tag.start, "")


def _block_of(context: Context, names: Names) -> list[str]:
    """The rooms that a text stands under; none where the nearest place above holds rooms."""
    for above in context.all:
        rooms = [t.value for t in above.tags if t.name == "room"] if above.role != "column" else []
        if rooms:
            return [] if any(holds_others(room, names.numbered) for room in rooms) else rooms
    return []
