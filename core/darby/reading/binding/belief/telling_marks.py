"""Marks that give nothing to a place: they tell which sort of a surface is meant, or label what is said of them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

from darby.reading.binding.site.finding import Finding
from darby.reading.parsing.phrases import COUNTED
from darby.reading.parsing.tagging.tag import Tag

MARK = "mark"


def only_tells(mark: Tag, findings: Sequence[Finding], tags: Sequence[Tag]) -> bool:
    """Whether a mark gives nothing to a surface, but tells which sort of it is meant: `Wall type W1:`, or, where no room stands beside it
    and an amount before it is said of the mark, `two layers each side of wall type W1`."""
    if [t.name for t in tags[:2]] == [*_SORTED] and all(t.name == "COLON" for t in tags[2:]):
        return len(tags) > len(_SORTED) or tags[1].start - tags[0].end > 1
    low = max((t.end for t in tags if t.name == "STOP" and t.end <= mark.start), default=0)
    high = min((t.start for t in tags if t.name == "STOP" and t.start > mark.start), default=tags[-1].end + 1)
    behind = any(low <= f.fact.place < mark.start and mark.value in f.marks and f.kind in COUNTED for f in findings)
    behind = behind or _tells_which(mark, findings, tags, high)
    return behind and not any(t.name == "room" and low <= t.start < high for t in tags)


def labels(tags: Sequence[Tag], at: int) -> bool:
    """Whether a mark is the label of a later sentence that says how it looks, and of no place: `.. in halls. PT-1: color Oat.`"""
    if not at or tags[at - 1].name not in _ENDED or [t.name for t in tags[at + 1 : at + 2]] != ["COLON"]:
        return False
    said = {t.name for t in takewhile(lambda t: t.name != "STOP", tags[at + 2 :])}
    return said.isdisjoint(_PLACES) and any(name.islower() or name in _LOOKS for name in said)


_PLACES, _LOOKS = ("surface", "room", "condition", MARK), ("COLOR_WORD", "COAT")


def _tells_which(mark: Tag, findings: Sequence[Finding], tags: Sequence[Tag], high: int) -> bool:
    """`Walls with PT-1 get three coats`: a mark joined to a surface by `with`, and an amount behind it."""
    at = next(n for n, t in enumerate(tags) if t is mark)
    joined = [t.name for t in tags[max(0, at - 2) : at]] == ["surface", "NEW_VALUE"]
    return joined and any(mark.end <= f.fact.place < high and f.kind in COUNTED for f in findings)


_SORTED = ("surface", MARK)
_ENDED = ("STOP", "SEMICOLON", "ON_CENTER")  # `o.c.` ends a sentence too
