"""Places of which words say that nothing is done there: `none in the attic`, `attic walls left as they are`.

In a list behind what is done elsewhere, or alone in a sentence. Such places are of no fact: one tag takes the place of the words, so that
nothing around it is said of them. Which words say so a vocabulary tells (`[undone]`); what of, whoever reads the clause finds out.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from attrs import frozen

from darby.reading.binding.places import chains, pairs
from darby.reading.parsing.tagging.phrase_index import any_phrase
from darby.reading.parsing.tagging.tag import ENDS, Tag, put, sentence_bounds
from darby.reading.parsing.vocabulary import Vocabulary, strings

UNDONE = "UNDONE"
"""A tag of places where something is left undone; its value has the goods, where these are named."""
_PLACED = ("room", "surface")
_RUN = (*_PLACED, "AND", "COMMA", "OF", "ALL", "BOTH", "ITS", "THOSE", "PER", "SIGN")
_COUNTS = ("NUMBER", "A_COAT", "A_LAYER", "COAT", "LAYER", "LEVEL", "CODE")
_SAYS = (*_COUNTS, "subject", "mark", "EXCEPT", "REPLACED")
"""What says something besides."""
_OTHERWISE = ("LEFT_OUT", "REPLACED", "NOT_PERMITTED", "EXCEPTED", "NO", "DEDUCT", "subject", "APPLIED")
_TOLD = (*_OTHERWISE, "ASIDE_ALL")
"""What a sentence alone says by other words, which others read."""
_CONDITIONS = ("CONDITION", "EXCEPT", "PLACE_BEHIND", "INSTEAD_OF", "NO")
_FILLS = r"(?:(?:is|are|be|to|shall|will|should|get|gets|receive|receives|has|have|need|needs)\s)*"
_OPENS = r"(?:\A|[.;:,(\n–—-]\s*|\b(?:and|but|with)\s)"
_FILLED = re.compile(r"\s*(?:(?:the|all|any|of|in|its|their|those)\s)*\Z", re.IGNORECASE)
_BEGINS = re.compile(
    r"(?:\A|[.;:,(\n–—-]|\b(?:and|but|while|with)\b)\s*(?P<words>(?:leave|leaving|keep|keeping|retain)\s)?"
    r"(?P<old>(?:(?:the|all|any|of|those|its|their|but|and|existing|old)\s)*)\Z",
    re.IGNORECASE,
)
_ENDS = re.compile(r"\s*(?:[.,;)\n]|\Z)")


@frozen(eq=False)
class _Said:
    """Patterns of the words before and behind such places, of those before a room that take it out, and of those that are all a line says."""

    before: re.Pattern[str]
    behind: re.Pattern[str]
    but: re.Pattern[str]
    alone: re.Pattern[str]


@lru_cache(8)
def _said(vocabularies: tuple[Vocabulary, ...]) -> _Said:
    tables = [v.tables.get("undone", {}) for v in vocabularies]
    before, behind, but, alone = (any_phrase(w for t in tables for w in strings(t.get(key))) for key in _KEYS)
    return _Said(
        re.compile(
            rf"{_OPENS}(?P<words>{before})(?:\s(?:in|on|at|to|of|for|from|the|any|all|those|either))*\s\Z", re.I
        ),
        re.compile(rf"\s*[:(=–—-]?\s*{_FILLS}(?P<words>(?:{behind})(?:\s(?:{behind}))?)(?=\s*(?:[.,;)\n]|\Z))", re.I),
        re.compile(rf"(?<=\s)(?P<words>{but})(?:\s(?:those|in|of|the|any|all|for))*\s\Z", re.I),
        re.compile(rf"\s*(?:{alone})[\s.]*", re.I),
    )


_KEYS = ("before", "behind", "but", "alone")


def places_of(tag: Tag) -> list[tuple[str, str]]:
    """The rooms and surfaces of such a tag, in pairs."""
    named = [value for key, value in tag.also if key == UNDONE]
    return list(zip(named[::2], named[1::2], strict=True))


def with_undone(tags: Sequence[Tag], text: str, vocabularies: tuple[Vocabulary, ...]) -> Sequence[Tag]:
    """The tags with one for each run of places where nothing is done, in the place of the words that say so."""
    said, new = _said(vocabularies), list[Tag]()
    if said.alone.fullmatch(text) and not any(t.name in ("LEFT_OUT", "REPLACED", "EXCEPTED") for t in tags):
        return [Tag(0, len(text), UNDONE)]
    if not any(t.name in (*_PLACED, "ELSEWHERE") for t in tags):
        return tags
    if tags[0].name == "room" and (stop := next((t for t in tags[:_WORDS] if t.name == "STOP"), None)) is not None:
        rest = text[stop.end :]  # `Attic. No work.`
        if said.alone.fullmatch(rest):
            return [*(t for t in tags if t.start <= stop.start), Tag(len(text) - len(rest.lstrip()), len(text), UNDONE)]
    for first, end in _runs(tags, text):
        near = tags[max(0, first - _FAR) : end + _FAR]
        found = _around(tags, first, end, text, said)
        if found is None or not _stands(near, *found[:2], denied=bool(found[2])):
            continue
        low, high, goods = found
        named = [value for pair in _pairs(tags[first:end]) for value in pair]
        if tags[first].name == "room" and _leads(near, low, high):
            low = tags[first].end  # the room is that of what stands behind: `Attic walls bare, ceiling two coats`
        new.append(Tag(low, high, UNDONE, goods, also=tuple((UNDONE, value) for value in named)))
    for n, tag in enumerate(tags):
        behind = said.behind.match(text, tag.end) if tag.name == "surface" and text[: tag.end].strip() else None
        near = tags[max(0, n - _FAR) : n + _FAR]
        if behind is not None and _asks(near, tag) and not any(u.start <= tag.start < u.end for u in new):
            new.append(Tag(tag.start, behind.end("words"), "ASK", _UNSURE))
    for tag in tags:
        others = said.behind.match(text, tag.end) if tag.name == "ELSEWHERE" else None
        if others is not None and not any(t.name == "ASK" for t in tags):
            new.append(Tag(tag.start, others.end("words"), "ASK", _OTHERS))
    for at, tag in enumerate(tags):
        out = said.but.search(text, max(0, tag.start - _REACH), tag.start) if at and tag.name == "room" else None
        if out is not None and not any(t.name == "EXCEPT" and t.end > out.start("words") for t in tags[:at]):
            new.append(Tag(out.start("words"), out.end("words"), "EXCEPT"))
    return put(new, tags) if new else tags


def _asks(tags: Sequence[Tag], tag: Tag) -> bool:
    """Whether a sentence says of some surfaces of which other words say which that they are left, and nothing else: `Leave the brick wall
    bare.`"""
    first, last = sentence_bounds(tags, tag.start, tags[-1].end + 1)
    said = {t.name for t in tags if first < t.start < last}
    return said.isdisjoint((*_SAYS, *_TOLD, "CONDITION", "ASK", "COMMA", "ITS", UNDONE))


_UNSURE = "some of them are left as they are: which, and what is left out, was not understood"


def _around(tags: Sequence[Tag], first: int, end: int, text: str, said: _Said) -> tuple[int, int, str] | None:
    """Where the words around a run of places stand that say that nothing is done there, and which goods they name: `no oil on walls`."""
    start, over = tags[first].start, tags[end - 1].end
    ends = _ENDS.match(text, over) is not None
    denied = [t for t in tags[max(0, first - _WORDS) : first] if t.name not in ("PER", "RANGE", "OF", "ALL")]
    if [t.name for t in denied[-2:]] == ["NO", "subject"] and ends and _LEADS.fullmatch(text, denied[-1].end, start):
        return denied[-2].start, over, denied[-1].value
    if before := said.before.search(text, max(0, start - _REACH), start):
        return (min(start, before.start("words")), over, "") if ends else None
    begins = _BEGINS.search(text, max(0, start - _REACH), start)
    behind = said.behind.match(text, over) if begins is not None else None
    if begins is None or not (behind or (begins["words"] and ends)):
        return None
    low = begins.start("words") if begins["words"] else begins.start("old")
    return min(start, low), behind.end("words") if behind else over, ""


_WORDS, _FAR = 4, 160
_LEADS = re.compile(r"\s(?:(?:is|are|required|needed|wanted|on|in|to|at|for|the|any|all)\s)*", re.IGNORECASE)
_REACH = 40
_OTHERS = "all other places are left as they are, or to somebody else: nothing was left out there"


def _pairs(run: Sequence[Tag]) -> list[tuple[str, str]]:
    return [pair for chain in chains(run) for pair in pairs(chain)]


def _runs(tags: Sequence[Tag], text: str) -> list[tuple[int, int]]:
    """Lists of places, each from its first to behind its last; behind a comma places of rooms go on no list of surfaces alone."""
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(tags):
        if tags[at].name not in _PLACED:
            at += 1
            continue
        end = at + 1
        while end < len(tags) and tags[end].name in _RUN and _FILLED.match(text, tags[end - 1].end, tags[end].start):
            end += 1
        while tags[end - 1].name not in _PLACED:
            end -= 1
        found.append((_last_list(tags, at, end), end))
        at = end
    return found


def _last_list(tags: Sequence[Tag], first: int, end: int) -> int:
    """Where in a run of places the list begins that its end belongs to: `on walls, attic walls ..` are two."""
    commas = [n for n in range(first, end) if tags[n].name == "COMMA"]
    for comma in reversed(commas):
        start = next((c + 1 for c in reversed(commas) if c < comma), first)
        before = {t.name for t in tags[start:comma] if t.name in _PLACED}
        behind = {t.name for t in tags[comma + 1 : end] if t.name in _PLACED}
        if before != behind and not (
            before == {"room"} and comma + 1 < end and tags[comma + 1].name in ("AND", "room")
        ):
            return next(n for n in range(comma + 1, end) if tags[n].name in _PLACED)
    return first


def _stands(tags: Sequence[Tag], low: int, high: int, *, denied: bool) -> bool:
    """Whether the words stand in a list with something that is done elsewhere, or alone in their sentence, and under no condition. What is
    `denied` by the name of goods is read elsewhere where it stands alone."""
    opens, closes = sentence_bounds(tags, low, tags[-1].end + 1, ENDS)
    first, last = sentence_bounds(tags, low, tags[-1].end + 1)
    inside = [t for t in tags if low <= t.start < high]
    if not denied and inside and inside[0].name == "NO" and inside[0].start == low:
        inside = inside[1:]  # `no work in the attic`, `do not include the attic`
    ahead = [t for t in tags if first < t.start < low]
    near = [t for t in ahead if t.start > opens]
    behind = [t for t in tags if high <= t.start < last]
    if any(t.name in _CONDITIONS for t in near[-_NEAR:]):
        return False
    if any(t.name in _COUNTS for t in ahead):
        return True
    opening = (not near or near[-1].name == "COLON") and any(t.name in _COUNTS for t in behind)
    if opening and (denied or any(t.name == "ELSEWHERE" for t in behind)):
        return not any(t.name == "EXCEPTED" for t in inside)
    if denied or any(t.name in _OTHERWISE for t in inside):
        return False
    if opening:
        return True
    alone = not ahead and not any(t.name in _SAYS for t in behind if t.start < closes)
    told = _OTHERWISE if any(t.name == "room" for t in inside) else _TOLD
    return alone and not any(t.name in told for t in inside)


def _leads(tags: Sequence[Tag], low: int, high: int) -> bool:
    """Whether such words open a sentence in which something is said of a surface of their room."""
    first, last = sentence_bounds(tags, low, tags[-1].end + 1)
    names = {t.name for t in tags if high <= t.start < last}
    ahead = any(first < t.start < low for t in tags)
    return not ahead and "surface" in names and names.isdisjoint(("room", "ELSEWHERE", "EVERYWHERE", "ALL"))


_NEAR = 2
