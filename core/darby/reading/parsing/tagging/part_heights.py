"""Parts of the height of a surface: `lower 4 ft of the walls`, `walls to 2.1 m high`, `to dado height`, `upper half`.

How much of a surface such a part is a job does not say. What is said of it is said of no whole surface, so that the part is kept as
written and limits what it stands with.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from attrs import frozen

from darby.reading.parsing.tagging.phrase_index import any_phrase
from darby.reading.parsing.tagging.tag import EXTENT, Tag, first_behind, put, within

_REACH = 44
"""Letters before a length, and behind it, that are looked at."""
_ABOUT = r"(?:about\s|approx(?:imately|\.)?\s|(?:a\s)?(?:minimum|maximum)(?:\sof)?\s|at\sleast\s|(?:a\s)?nominal\s)?"
_UP_TO = re.compile(
    rf"(?<![A-Za-z-])(?:(?P<from>from\s(?:the\s)?(?:finished\s)?floor\s(?:level\s)?)?(?:up\s)?to\s(?:(?:a|the)\s)?(?:height\sof\s)?|(?:below|above)\s){_ABOUT}\Z",
    re.IGNORECASE,
)
_FLOOR = re.compile(
    r"\s?(?:high(?![A-Za-z-])|(?:in\s)?height(?![A-Za-z-])|a\.?f\.?f\.?(?:l\.?)?(?![A-Za-z])|"
    r"(?:above|from|off)\s(?:the\s)?(?:finished\s|fin\.\s)?(?:floors?|slab|f\.?f\.?l\.?)(?![A-Za-z]))",
    re.IGNORECASE,
)
_TWIN = re.compile(r"\s?\([^()]{1,20}\)")
_UNMEASURED = (
    "ON_CENTER",
    "THICK",
    "WIDE",
    "LONG",
    "BY",
    "BY_X",
    "PER",
    "RANGE",
    "LARGER_THAN",
    "LENGTHS",
    "PLACE_BEHIND",
)
"""What makes something else of the length before it."""
_BEYOND = re.compile(
    r"(?<![A-Za-z-])(?:(?:thence|elsewhere|from\sthere)\s)?(?P<which>above|below)(?:\s(?:it|that|this|the\sline))?(?=\s{0,2}(?:[.,;:)]|$))",
    re.IGNORECASE,
)
"""The other part of a surface, of which one has been named."""
_FURTHER = 60
"""Letters behind a height within which the other part is spoken of: `gloss up to 1200 mm and flat above`."""
_POINTS = re.compile(r"(?:\b(?:as|see|from|in|and|or|per|the)|[a-z]ed|[a-z]own|\bset out)\s\Z", re.IGNORECASE)
"""What leads to `above` where it means an earlier page."""


@frozen(eq=False)
class Heights:
    """The words of a vocabulary for parts of a height, made ready."""

    ends: re.Pattern[str]
    """The end that is meant, right before a length."""
    shares: re.Pattern[str]
    some: re.Pattern[str]
    """A share, and what leads to that of which it is."""
    lines: re.Pattern[str]
    """Lines on a surface, and what leads to one."""
    beyond: re.Pattern[str]
    """What is no height of a part, behind a length: `walls to 150 mm above the ceiling`, `walls to 3.6 m deck`."""

    @classmethod
    def of(cls, words: Mapping[str, Sequence[str]]) -> Heights:
        """Of lists named `ends` (lower, top), `shares` (half), `lines` (dado), `heights` (what may stand behind a line) and `beyond`."""
        ends, shares, lines, heights, beyond = (
            any_phrase(words.get(key, ())) for key in ("ends", "shares", "lines", "heights", "beyond")
        )
        return cls(
            re.compile(rf"(?<![A-Za-z-])(?:{ends})\s{_ABOUT}\Z", re.IGNORECASE),
            re.compile(rf"(?<![A-Za-z-])(?:{ends})\s(?:{shares})(?![A-Za-z-])", re.IGNORECASE),
            re.compile(
                rf"(?<![A-Za-z-])(?P<share>(?:(?:an?|one)\s)?(?:{shares}))\sof\s(?:(?:the|each|every|all)\s)?",
                re.IGNORECASE,
            ),
            re.compile(
                rf"(?<![A-Za-z-])(?:(?:up\s)?to|above|below|from)\s(?:the\s)?(?:underside\sof\s)?(?:the\s)?(?:{lines})(?:\s(?:{heights}))?(?![A-Za-z-])",
                re.IGNORECASE,
            ),
            re.compile(rf"\s(?:{beyond})(?![A-Za-z-])", re.IGNORECASE),
        )


def with_part_heights(tags: list[Tag], text: str, heights: Heights) -> list[Tag]:
    """The tags, with a `where` for each part of a height that is named, its value as written."""
    spans = [
        *_measured(tags, text, heights),
        *_shared(tags, text, heights),
        *((m.start(), m.end()) for p in (heights.shares, heights.lines) for m in p.finditer(text)),
    ]
    new = [
        Tag(start, end, "where", " ".join(text[start:end].lower().split()), also=EXTENT)
        for start, end in spans
        if not any(t.name == "where" for t in within(tags, start, end))
    ]
    if not new:
        return tags
    first = min(t.end for t in new)
    new += [
        Tag(m.start(), m.end(), "where", f"{m['which'].lower()} it", also=EXTENT)
        for m in _BEYOND.finditer(text, first)
        if not _POINTS.search(text, max(0, m.start() - _REACH), m.start()) and not within(new, m.start(), m.end())
    ]
    return put(new, tags)


def _shared(tags: Sequence[Tag], text: str, heights: Heights) -> Iterator[tuple[int, int]]:
    """Where shares of a surface stand: `half of the hall walls`, and not `half of the mix`."""
    for match in heights.some.finditer(text):
        of = first_behind(tags, match.end())
        room = of is not None and of.name == "room"
        end = of.end if of is not None and room else match.end()
        surface = first_behind(tags, end) if room else of
        if surface is not None and surface.name == "surface" and surface.start - end <= 1:
            yield match.span("share")


def _measured(tags: Sequence[Tag], text: str, heights: Heights) -> Iterator[tuple[int, int]]:
    """Where parts stand that a length tells."""
    for n, tag in enumerate(tags):
        unit = tags[n + 1] if n + 1 < len(tags) else tag
        if tag.name == "NUMBER" and unit.name == "LENGTH_UNIT":
            end, behind = unit.end, tags[n + 2 : n + 3]
        elif tag.name == "FEET_INCHES":
            end, behind = tag.end, tags[n + 1 : n + 2]
        else:
            continue
        twin = _TWIN.match(text, end)
        end = twin.end() if twin is not None else end
        low = max(0, tag.start - _REACH)
        last = _to_the_top(tags, text, low, tag, end)
        if last is not None:
            yield last
        elif ended := heights.ends.search(text, low, tag.start):
            if not behind or behind[0].name not in _UNMEASURED:
                yield ended.start(), end
        elif led := _UP_TO.search(text, low, tag.start):
            floor = _FLOOR.match(text, end) or (led if led["from"] else None)
            before = [t for t in tags[max(0, n - 4) : n] if t.end <= led.start()][-1:]
            on = before and before[0].name == "surface" and not text[before[0].end : led.start()].strip()
            on = on and not heights.beyond.match(text, end) and (not behind or behind[0].name not in _UNMEASURED)
            both = "up" in led[0].lower() and _BEYOND.search(text, end, end + _FURTHER) is not None
            if floor is not None or on or both:
                yield led.start(), max(end, floor.end()) if floor is not None else end


_FROM = re.compile(rf"(?<![A-Za-z-])from\s{_ABOUT}\Z", re.IGNORECASE)
_TO = re.compile(r"\s(?:up\s)?to\s(?:the\s)?(?:underside\sof\s)?(?:the\s)?", re.IGNORECASE)


def _to_the_top(tags: Sequence[Tag], text: str, low: int, number: Tag, end: int) -> tuple[int, int] | None:
    """`from 4 ft to ceiling`: where a part goes on from a height to the surface that ends it, which nothing is said of."""
    led, to = _FROM.search(text, low, number.start), _TO.match(text, end)
    over = first_behind(tags, to.end()) if led is not None and to is not None else None
    ends = over is not None and to is not None and over.name == "surface" and over.start == to.end()
    return (led.start(), over.end) if ends and led is not None and over is not None else None
