"""Codes that give a place a system which nothing defines: alone in a cell of a schedule, or behind a surface and like the marks there are."""

from __future__ import annotations

from collections.abc import Sequence

from darby.reading.binding.site.finding import Context
from darby.reading.document.document_words import DocumentWords
from darby.reading.parsing.tagging.tag import Tag

_ROOM_BY_SURFACE = {("key", "room"), ("column", "surface")}
_IN_A_CELL = 4
"""Tags in a cell that gives a system and little else."""
_NUMBER = "-.0123456789"


def is_undefined(tags: Sequence[Tag], at: int, text: str, context: Context, words: DocumentWords) -> bool:
    """Whether a code that is no mark of the document is used as one."""
    return _assigned(tags, context, words) or _behind_surface(tags, at, text, words)


def _assigned(tags: Sequence[Tag], context: Context, words: DocumentWords) -> bool:
    """Whether a cell stands in the row of a room and under the name of a surface that something of ours goes on."""
    on = {t.value for a in context.heads if a.role == "column" for t in a.tags if t.name == "surface"}
    if on and on.isdisjoint(words.lexicon.finished):
        return False
    roles = {a.role for a in context.heads for t in a.tags if (a.role, t.name) in _ROOM_BY_SURFACE}
    return {"key", "column"} <= roles and len(tags) <= _IN_A_CELL


def _behind_surface(tags: Sequence[Tag], at: int, text: str, words: DocumentWords) -> bool:
    """Whether a code right behind a surface is like the marks that are defined, and none of them: `end wall P-4`."""
    tag, before = tags[at], tags[at - 1] if at else None
    close = before is not None and before.name in ("surface", "room") and tag.start - before.end <= 1
    stem = text[tag.start : tag.end].rstrip(_NUMBER)
    return close and bool(stem) and stem in {mark.rstrip(_NUMBER) for mark in words.marks.defined}
