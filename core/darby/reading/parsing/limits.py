"""Work that stops at what comes underneath: `oil only`, `one coat of oil and nothing else`, `oiled, no wax`, `oil, wax by others`.

Such words leave out what would go over it. What stops at what, and by which words, a vocabulary says of its own (`[stops_at]`). What is
found is told like goods of others that take the place of ours: it holds where it is said, and nowhere else.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, lru_cache

from attrs import frozen

from darby.reading.parsing.tagging.phrase_index import any_phrase
from darby.reading.parsing.tagging.tag import ENDS, SET, Tag, put
from darby.reading.parsing.vocabulary import Vocabulary, strings

STOPS_AT = "stops_at"
"""What else a tag says of goods that are left out: what the work stops at."""
_NAMES = ("subject", "COAT", "APPLIED", "REPLACED")
_COUNTS = ("NUMBER", "A_COAT", "COAT", "OF", "FULL", "SIGN", "OPEN", "CLOSE")
_PLACES = ("surface", "room")
_LOOKS = ("subject", "COAT", "APPLIED", "sheen")
_BETWEEN = 12
"""Letters that may stand between a count and what it counts: `one coat of the oil`."""
_CLOSED = re.compile(r"(?=\s*(?:[.,;:()\]/|–—-]|$|(?:and|but|throughout|by)\b))", re.IGNORECASE)
_PLACED = re.compile(r"\s+(?:in|on|at|to|for|within)\b", re.IGNORECASE)
_ELSEWHERE_MADE = re.compile(r"\b(?:factory|shop|works|mill|pre)[- ]?\Z", re.IGNORECASE)
_UNSURE = "whether nothing goes over it, or it goes nowhere else, is not said"


@frozen(eq=False, slots=False)
class Stop:
    """Goods that work may stop at, and the words that say so."""

    at: str
    leaves_out: tuple[str, ...]
    surfaces: tuple[str, ...]
    closing: tuple[str, ...]
    opening: tuple[str, ...]
    over: tuple[str, ...]
    parties: tuple[str, ...]

    @cached_property
    def behind(self) -> re.Pattern[str]:
        """Words right behind the goods that make them the last."""
        return re.compile(
            rf"[\s,-]{{1,3}}(?:coats?\s)?(?P<words>{any_phrase(self.closing)})(?![A-Za-z-])", re.IGNORECASE
        )

    @cached_property
    def before(self) -> re.Pattern[str]:
        """Words right before the goods that make them the last."""
        return re.compile(rf"(?<![A-Za-z-])(?P<words>{any_phrase(self.opening)})\s(?:an?\s|the\s)?\Z", re.IGNORECASE)

    @cached_property
    def refused(self) -> re.Pattern[str]:
        """What would go over the goods, refused or given to somebody else."""
        over = rf"(?:{any_phrase(self.over)})"
        more, are = r"(?:(?:further|subsequent|additional|other)\s)?", r"(?:(?:is|are|to be|will be|shall be)\s)?"
        who = rf"(?:(?:done|applied|provided|carried out)\s)?by\s(?:the\s)?(?:{any_phrase(self.parties)})"
        return re.compile(
            rf"(?<![A-Za-z-])(?:(?:no|without|omit)\s(?:an?\s|the\s)?{more}{over}|{over}\s{are}{who})(?![A-Za-z-])",
            re.IGNORECASE,
        )


@lru_cache(maxsize=8)
def stops_of(vocabularies: tuple[Vocabulary, ...]) -> tuple[Stop, ...]:
    """What each vocabulary says of goods that work stops at."""
    tables = (v.tables.get(STOPS_AT, {}) for v in vocabularies)
    return tuple(
        Stop(at, *(tuple(strings(said.get(key))) for key in _KEYS))
        for table in tables for at, said in table.items() if isinstance(said, Mapping)
    )  # fmt: skip


_KEYS = ("leaves_out", "surfaces", "closing", "opening", "over", "parties")


def with_limits(tags: list[Tag], text: str, stops: Sequence[Stop]) -> list[Tag]:
    """The tags, with one of goods that are left out for every stretch that stops at what comes under them."""
    for stop in stops:
        if any(tag.value == stop.at and tag.name in _NAMES for tag in tags):
            found = _told_once(sorted(_found(tags, text, stop), key=lambda t: t.start), tags)
            tags = put(found, tags) if found else tags
    return tags


def _found(tags: Sequence[Tag], text: str, stop: Stop) -> Iterator[Tag]:
    refused = [(m.start(), m.end()) for m in stop.refused.finditer(text)]
    first = next(t.start for t in tags if t.value == stop.at and t.name in _NAMES)
    for start, end in refused:
        if start > first and not _of_others_alone(tags, start, end, stop):
            yield _left_out(text, start, end, stop)
    for n, tag in enumerate(tags):
        if tag.value != stop.at or tag.name not in _NAMES:
            continue
        low, high = _counted(tags, n)
        named = tags[low].start, tags[high].end
        said, before = stop.behind.match(text, named[1]), stop.before.search(text, 0, named[0])
        if _goes_on(tags, low, high, refused, stop, text) or not (said or before):
            continue
        if said is not None:
            start, end = said.span("words")
            if _PLACED.match(text, end) and not _has_place(tags, low):
                yield Tag(start, end, "ASK", f"{stop.at} alone: {_UNSURE}")
                continue
            if not (_CLOSED.match(text, end) or _PLACED.match(text, end)):
                continue
        else:
            assert before is not None
            start, end = before.span("words")
        if _denied(tags, low):
            yield Tag(start, end, "ASK", f"{stop.at} alone, and a word before it denies it: nothing is left out")
            continue
        if tag.name == "REPLACED" or _ELSEWHERE_MADE.search(text, 0, tag.start):
            yield Tag(start, end, "ASK", f"{stop.at} put on elsewhere: whether nothing goes over it is not said")
            continue
        if _again(tags, low, high, refused, stop):
            yield Tag(start, end, "ASK", f"{stop.at} alone, and what goes over it: which holds there is not said")
            continue
        yield _left_out(text, start, end, stop, named)


def _of_others_alone(tags: Sequence[Tag], start: int, end: int, stop: Stop) -> bool:
    """Whether the work of others is spoken of in a sentence that does not name what would go under it: that may be theirs too."""
    if not any(t.name == "ASIDE_ALL" and start <= t.start < end for t in tags):
        return False
    low = max((t.end for t in tags if t.name == "STOP" and t.end <= start), default=0)
    return not any(t.value == stop.at and low <= t.start < start for t in tags if t.name in _NAMES)


def _denied(tags: Sequence[Tag], low: int) -> bool:
    """Whether a word before it denies it: `no area is oil only`."""
    for tag in reversed(tags[:low]):
        if tag.name in (*ENDS, "COLON", "COMMA"):
            return False
        if tag.name in ("NO", "INSTEAD_OF"):
            return True
    return False


def _left_out(text: str, start: int, end: int, stop: Stop, named: tuple[int, int] | None = None) -> Tag:
    low, high = (min(start, named[0]), max(end, named[1])) if named is not None else (start, end)
    said = " ".join(text[low:high].lower().split())
    return Tag(start, end, "REPLACED", SET.join(stop.leaves_out), also=(("replaced", said), (STOPS_AT, stop.at)))


def _told_once(found: Sequence[Tag], tags: Sequence[Tag]) -> list[Tag]:
    """What is said again of the same place says nothing more: `oil only; no wax`."""
    out: list[Tag] = []
    for tag in found:
        since = out[-1].end if out else 0
        placed = any(t.name in _PLACES for t in tags if since <= t.start < tag.start)
        again = bool(out) and not placed and out[-1].name == tag.name == "REPLACED"
        out.append(Tag(tag.start, tag.end, "NEUTRAL") if again else tag)
    return out


def _counted(tags: Sequence[Tag], at: int) -> tuple[int, int]:
    """The first and the last tag of a name with its count: `one coat of oil`, `oil one coat`."""
    low = high = at
    while low and tags[low - 1].name in _COUNTS and tags[low].start - tags[low - 1].end <= _BETWEEN:
        low -= 1
    while high + 1 < len(tags) and tags[high + 1].name in _COUNTS[:4] and tags[high + 1].start - tags[high].end <= 1:
        high += 1
    return low, high


def _goes_on(
    tags: Sequence[Tag], low: int, high: int, refused: Sequence[tuple[int, int]], stop: Stop, text: str
) -> bool:
    """Whether what would go over it is named with it, before another place is: then `only` is of its count. What goes on something else
    (`oil only, wax to benches`) is not over it."""
    for side in (tags[high + 1 :], tags[:low][::-1]):
        for tag in side:
            if tag.name in (*ENDS, *_PLACES):
                break
            if _over(tag, refused, stop):
                if tag.start > tags[high].end and _PLACED.match(text, tag.end):
                    break
                return True
    return False


def _again(tags: Sequence[Tag], low: int, high: int, refused: Sequence[tuple[int, int]], stop: Stop) -> bool:
    """Whether what would go over it is counted for the same place further on: `Den: oil only. Two coats wax over it.`"""
    here = {t.value for t in tags[:low] if t.name == "surface"}
    counted = False
    for tag in tags[high + 1 :]:
        if tag.name in ("room", "ELSEWHERE") or (tag.name == "surface" and tag.value not in here):
            return False
        counted = counted or tag.name in ("NUMBER", "A_COAT")
        if counted and _over(tag, refused, stop):
            return True
    return False


def _over(tag: Tag, refused: Sequence[tuple[int, int]], stop: Stop) -> bool:
    """Whether a tag names what would go over the goods, and is not what refuses it."""
    named = tag.name == "sheen" or (tag.name in _LOOKS and tag.value in stop.leaves_out)
    return named and not any(start <= tag.start < end for start, end in refused)


def _has_place(tags: Sequence[Tag], low: int) -> bool:
    """Whether a place is named before it in its sentence."""
    for tag in reversed(tags[:low]):
        if tag.name in ENDS:
            return False
        if tag.name in _PLACES:
            return True
    return False
