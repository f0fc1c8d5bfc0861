"""A clause's tags to sentences, and these to parts at their semicolons."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import pairwise

from attrs import evolve

from darby.reading.parsing.exceptions import opens_with_exception, unexcepted
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.labels import is_strange, label_end
from darby.reading.parsing.phrases import BREAKS, cut_phrases
from darby.reading.parsing.sentence import Part, Sentence
from darby.reading.parsing.tagging.tag import Tag, comes_so, is_extent, tells_one
from darby.reading.parsing.whole_labels import OTHER_SURFACES
from darby.rules.name_matching import SORT

_NAMING = ("surface", "room", "mark", "COMMA", "AND", "PER", "condition", "NEUTRAL", "ALL", "OF", "where", "HOLDS")
_ONLY = (*_NAMING, "ONLY", "ROOM_HEAD", "COLON")
_PLACES = ("surface", "room")
_NEAR = 8
_OF_ALL = ("ELSEWHERE", "EVERYWHERE")
_SMALL = frozenset("in at of on to the a an all and".split())
_WORD = re.compile(r"[A-Za-z][A-Za-z'’-]*")
_LONGEST = 160
"""Tags in one sentence; real ones have a quarter of that."""


def sentences(tags: Sequence[Tag], facts: Sequence[Fact], text: str = "") -> list[Sentence]:
    """Take the tags of one clause apart. Facts carry the tags they span; a break inside a fact is none."""
    inside = {n for fact in facts for n in range(fact.start, fact.end)}
    uncut = {n for fact in facts for n in range(fact.start + 1, fact.end)}
    starts = [fact.start for fact in facts]
    out: list[Sentence] = []
    title = opening = _before_dash(tags, text)
    for low, high in _split(tags, 0, len(tags), {"STOP"}, inside):
        begins = tags[low - 1].end if low else 0
        if _only_names(tags[low:high], text, begins):
            title = [evolve(t, loose=True) for t in tags[low:high]]
        for start, end in _windows(tags, low, high, uncut):
            own = facts[bisect_left(starts, start) : bisect_left(starts, end)]
            if out and not own and tags[start].name == "OPEN" and tags[end - 1].name == "CLOSE":
                out[-1].parts[-1].tail.extend(tags[start:end])  # a remark in brackets is on the sentence before it
                continue
            title = _held(title, tags[start:end], tags[max(0, start - _LONGEST) : start])
            out.append(_sentence(tags, own, start, end, inside, text, title if low > 0 or opening else []))
            if out[-1].parts and (label := _named_in(out[-1].parts[0].label)):
                title = label
        if out and high >= len(tags) - 1 and low:
            out[-1].places = _only_names(tags[low:high], text, begins, most=0)
        if out and high < len(tags):
            mark = tags[high].start
            out[-1].asks = re.match(r"\w\?(?!\w)", text[mark - 1 : mark + 2]) is not None
    return out


def _held(title: list[Tag], tags: Sequence[Tag], before: Sequence[Tag]) -> list[Tag]:
    """What holds of a label in a sentence that speaks of all other places: the rooms of it no more, its surfaces where these are all that it has
    and the sentence names none: `Walls: fill. Two coats in the hall, one coat elsewhere.`
    """
    others = {one.value for t, one in pairwise(tags) if (t.name, t.value) == ("ELSEWHERE", OTHER_SURFACES)}
    spoken = {t.value for t in before if t.name == "surface"}
    if not tells_one(title) and (
        not others.isdisjoint(t.value for t in title if t.name == "surface") or (others and others.isdisjoint(spoken))
    ):
        return [t for t in title if t.name != "room"]  # `Attic walls: three coats. All other walls: two coats.`
    of_all = {t.name for t in tags if t.name in _OF_ALL and t.value != OTHER_SURFACES}
    if not of_all:
        return title
    own = all(t.name in ("surface", "condition", "AND", "COMMA") for t in title)
    placed = any(t.name == "room" for t in tags) and not any(t.name == "surface" for t in tags)
    return title if own and placed and of_all == {"ELSEWHERE"} else []


def _sentence(
    tags: Sequence[Tag], facts: Sequence[Fact], start: int, end: int, inside: set[int], text: str, title: Sequence[Tag]
) -> Sentence:
    sentence = Sentence(list(tags[start:end]))
    first = next((f.start for f in facts), start)
    if title and any(t.name == "room" for t in tags[start:first]):
        title = [t for t in title if t.name != "room"]  # it names its own place before anything else
    label: list[Tag] = list(title)
    opening = tags[start] if opens_with_exception(sentence.tags) else None
    for low, high in _split(tags, start, end, {"SEMICOLON"}, inside, _before_labels(tags, facts, start, end)):
        part = Part([], sentence)
        begin = label_end(tags, facts, low, high, inside)
        part.label = unexcepted(tags[low : max(low, begin - 1)], opening) if begin > low else list(label)
        if title and begin > low:
            own = {t.name for t in part.label}
            part.label = [
                *([t for t in title if t.name not in own] if "surface" not in own else _rooms(title, own)),
                *part.label,
            ]
        if low > start and begin > low:
            part.label = [*_over_label(label, {t.name for t in part.label}), *part.label]
        part.start = tags[begin].start if begin < high else tags[low].start
        part.strange = is_strange(tags, low, begin, text)
        if low == start:
            label = part.label
        cut_phrases(part, tags, facts, begin, high, inside)
        for phrase in part.phrases:
            phrase.tags, phrase.lead = unexcepted(phrase.tags, opening), unexcepted(phrase.lead, opening)
        sentence.parts.append(part)
    return sentence


def _over_label(first: Sequence[Tag], own: set[str]) -> list[Tag]:
    """The goods and places that head a label of several steps, which hold for a label behind it too that has none of its own: `Hall:
    walls: A; ceilings: B`, `Walls: edges: 8 in.; field: 12 in.`
    """
    step = next((n for n, t in enumerate(first) if t.name in ("COLON", "DASH")), 0)
    held = {"subject", "room", *(() if "room" in own else ("surface",))} - own
    return [t for t in first[:step] if t.name in held]


def _rooms(title: Sequence[Tag], own: set[str]) -> list[Tag]:
    """What a title adds to a label that names a surface of its own: its places, unless the label has those too."""
    return [t for t in title if t.name == "room"] if "room" not in own else []


def _before_dash(tags: Sequence[Tag], text: str) -> list[Tag]:
    """The places that open a clause before a dash: `Ground floor hall - Prepare walls. Apply two coats ..`"""
    at = next((n for n, t in enumerate(tags[:_NEAR]) if t.name == "DASH"), 0)
    named = at > 0 and any(t.name == "room" for t in tags[:at]) and _only_names(tags[:at], text[: tags[at].start], 0)
    apart = (
        at > 0
        and text[tags[at].start - 1 : tags[at].start].isspace()
        and text[tags[at].end : tags[at].end + 1].isspace()
    )
    return list(tags[:at]) if named and apart else []


def _named_in(label: Sequence[Tag]) -> list[Tag]:
    """The places and surfaces of a label, which hold for the later sentences of its clause too."""
    label = [evolve(t, loose=True) for t in label]  # what is carried over limits no goods: `X comes in rolls of ..`
    bracket = next((n for n, t in enumerate(label) if t.name == "OPEN"), len(label))  # what stands in it only describes
    found = [t for t in label[:bracket] if t.name in (*_PLACES, "condition", "AND", "COMMA") or is_extent(t)]
    return found if any(t.name in _PLACES or is_extent(t) for t in found) else []


def _only_names(tags: Sequence[Tag], text: str, start: int, most: int = 1) -> bool:
    """Whether a sentence only names surfaces or places, as a title does: `Corridor walls. Two coats semi-gloss.` At `most` so many of its
    words may be nobody's."""
    only = _NAMING if most else _ONLY
    if (
        not text
        or not any(t.name in _PLACES or is_extent(t) for t in tags)
        or any(t.name not in only and not comes_so(t) for t in tags)
    ):
        return False
    words, at = 0, start
    for begin, end in [*((t.start, t.end) for t in tags), (tags[-1].end, tags[-1].end)]:
        words += sum(word.lower() not in _SMALL for word in _WORD.findall(text, at, begin))
        at = end
    return words <= most


def _windows(tags: Sequence[Tag], low: int, high: int, uncut: set[int]) -> Iterator[tuple[int, int]]:
    """A sentence whole, or one of monstrous length in pieces cut at its commas: reading stays linear whatever the text."""
    while high - low > _LONGEST:
        end = next(
            (n for n in range(low + _LONGEST, low + _LONGEST // 2, -1) if tags[n].name in BREAKS and n not in uncut),
            0,
        )
        end = end or next((n for n in range(low + _LONGEST, high) if n not in uncut), high)
        yield low, end
        low = end
    yield low, high


_LABELLING = (
    "surface",
    "room",
    "where",
    "layer",
    "facing",
    "subject",
    "mark",
    SORT,
    "note",
    "hint",
    "condition",
    "ALL",
    "OF",
    "AND",
    "SIGN",
)
_LABEL = 6
"""Tags in a label within a list, with the joint before it."""
_BEHIND = 3
"""Tags behind the fact of a member of such a list."""


def _before_labels(tags: Sequence[Tag], facts: Sequence[Fact], start: int, end: int) -> frozenset[int]:
    """The commas of a list before a member with a label of its own: `Pins - field: 12 in., edges: 8 in.` parts there as at semicolons."""
    found = []
    for colon in range(start + 2, end - 1):
        if tags[colon].name != "COLON" or not any(f.start == colon + 1 for f in facts):
            continue
        own = [n for n in range(max(start + 1, colon - _LABEL), colon) if tags[n].name not in _LABELLING]
        comma = own[-1] if own else start
        stated = any(0 <= comma - f.end <= _BEHIND and not f.why for f in facts)
        if comma < colon - 1 and tags[comma].name == "COMMA" and stated:
            found.append(comma)
    return frozenset(found)


def _split(
    tags: Sequence[Tag], low: int, high: int, at: set[str], inside: set[int], also: frozenset[int] = frozenset()
) -> Iterator[tuple[int, int]]:
    start = low
    for n in range(low, high):
        if (tags[n].name in at or n in also) and n not in inside:
            if n > start:
                yield start, n
            start = n + 1
    if high > start:
        yield start, high
