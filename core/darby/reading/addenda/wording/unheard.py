"""Sentences of an addendum that tell a change in words that nothing was made of: they are asked about, and never passed over."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from darby.reading.addenda.wording.paragraph_names import DEEPER, NUMBER, TELLS, Path, path_named
from darby.reading.addenda.wording.topics import ROOM, SURFACE, marks_in
from darby.reading.parsing.tagging.tag import Tag

_DENIES = ("NOT_PERMITTED", "NO", "LEFT_OUT")
_SAYS_OF_GOODS = ("COLOR_WORD", "COAT", "LAYER", "LEVEL", "ASIDE_ALL")
_PLACES = (SURFACE, ROOM, "condition", "mark")
_STAYS = re.compile(
    r"\b(?:un(?:changed|amended|revised)|remains?|no\s+(?:further\s+)?changes?|(?:not|never)\s+(?:been\s+)?(?:changed|amended|revised|affected|deleted)"
    r"|denied|rejected|declined|request(?:ed|s)?|clarification|\?)",
    re.IGNORECASE,
)
"""What says that nothing changes, or that something was asked."""
_REF = re.compile(rf"(?<![0-9./]){NUMBER}{DEEPER}")


_GROWS = re.compile(
    r"\b(?:increase|reduce|raise|lower|decrease|upgrade|downgrade|extend|add|insert)[sd]?(?:ed)?\b", re.IGNORECASE
)


def names_of(sentence: str, marks: set[str], known: Iterable[Path]) -> bool:
    """Whether a sentence says something of one of some marks or of a known paragraph."""
    if _STAYS.search(sentence):
        return False
    return any(marks_in(sentence, marks)) or not {path_named(m[0]) for m in _REF.finditer(sentence)}.isdisjoint(known)


def tells_of(sentence: str, tags: Sequence[Tag]) -> bool:
    """Whether a sentence tells a change of goods, or of what they are like."""
    if _STAYS.search(sentence):
        return False
    tells = TELLS.search(sentence) or _GROWS.search(sentence) or any(t.name in _DENIES for t in tags)
    return bool(tells) and any(t.name in _SAYS_OF_GOODS or (t.name.islower() and t.name not in _PLACES) for t in tags)
