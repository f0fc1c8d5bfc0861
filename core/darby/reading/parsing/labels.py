"""Labels: what stands before the colon of a part, and is said of all that follows it."""

from __future__ import annotations

from collections.abc import Sequence

from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.tagging.tag import Tag

_COUNTERS = ("LEVEL", "COAT", "LAYER")
_SILENT = ("COMMA", "AND", "OPEN", "CLOSE", "DASH", "SIGN", "OF")
_OF_PLACES = ("surface", "room", "condition", "COMMA", "AND", "PER", "ALL")
_LABEL_WORDS = 4


def label_end(tags: Sequence[Tag], facts: Sequence[Fact], low: int, high: int, inside: set[int]) -> int:
    """Behind the last colon (or spaced dash) before the first fact that may be a rule; `low` where there is no label."""
    firsts = (f for f in facts if f.start >= low and _may_rule(f))
    first = next((f.start for f in firsts if not _names_work(f, tags, high)), high)
    first_colon = next((n for n in range(low, min(first, high)) if tags[n].name == "COLON"), 0)
    counted = any(t.name in _COUNTERS for t in tags[low:first_colon]) if first_colon else False
    if counted and any(f.start > first_colon and not f.why for f in facts if f.start < first):
        return first_colon + 1  # `Finish level: 4 (lobby: 5)`
    ends = [
        n
        for n in range(low, min(first, high))
        if n not in inside and (tags[n].name == "COLON" or _is_dash(tags, low, n))
    ]
    return ends[-1] + 1 if ends and ends[-1] > low else low


def _is_dash(tags: Sequence[Tag], low: int, at: int) -> bool:
    """Whether a sign is a dash that closes a label; a hyphen is one where it stands apart, behind nothing but names of places."""
    if tags[at].name != "DASH" or tags[at].value != "-":
        return tags[at].name == "DASH"
    apart = low < at < len(tags) - 1 and tags[at - 1].end < tags[at].start and tags[at].end < tags[at + 1].start
    return apart and all(t.name in _OF_PLACES for t in tags[low:at]) and any(t.name == "surface" for t in tags[low:at])


def _may_rule(fact: Fact) -> bool:
    united = fact.amount is not None and fact.amount.unit.name != "each"
    return not fact.why and bool(fact.kind or fact.per or united)


def _names_work(fact: Fact, tags: Sequence[Tag], high: int) -> bool:
    """Whether a fact in words is a label, or opens one: `Walls, single layer: pins ..`, `Single layer, walls: pins ..`"""
    if tags[fact.start].name != "A_LAYER":
        return False
    behind = next((t for t in tags[fact.end : high] if t.name not in _OF_PLACES), None)
    return behind is not None and behind.name == "COLON"


def is_strange(tags: Sequence[Tag], low: int, begin: int, text: str) -> bool:
    """Whether a colon closes a label of a few words of which none says anything here: `Skim filler: ..`"""
    if begin <= low or tags[begin - 1].name != "COLON":
        first = tags[low] if low < len(tags) else None
        if first is None or first.name != "COLON":
            return False
        begin = low + 1
    if any(t.name not in _SILENT for t in tags[low : begin - 1]):
        return False
    before = text[: tags[begin - 1].start]
    words = before[max(before.rfind("."), before.rfind(";"), before.rfind("|")) + 1 :].split()
    return 0 < len(words) <= _LABEL_WORDS and words[0][:1].isalpha()
