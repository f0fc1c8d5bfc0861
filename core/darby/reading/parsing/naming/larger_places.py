"""Places that hold others: floors, blocks, wings, kinds of flats. A room said to lie in one is the room of that place alone.

`corridors on 2nd and 3rd floors` are two places, the corridors of either, and never all corridors; `Corridors in Block B` are not all
that Block B has. Which words a number makes such a place of is data, the lexicon's `[numbered_place]`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import product

from attrs import evolve

from darby.quantities.numerals import ORDINALS
from darby.reading.parsing.tagging.tag import Tag, put

_NTH = r"[0-9]{1,2}\s?(?:st|nd|rd|th)"
_WHICH = rf"(?:{_NTH}|{'|'.join(ORDINALS)}|(?:(?:lower|upper)\s)?ground|top|upper|lower|main|topmost|typical|intermediate|middle)"
_JOIN = r"(?:,\s(?:and\s|or\s)?|\s(?:and|&|or)\s)"
_RUN = r"\s?(?:to|through|thru|–|-)\s?"
_FLOORS = re.compile(
    rf"(?<![A-Za-z0-9-])(?P<all>{_WHICH}(?:(?:{_JOIN}|{_RUN}){_WHICH}){{0,12}})[\s-](?P<noun>floor|storey|story|stories)s?(?![A-Za-z-])"
    rf"|(?<![A-Za-z0-9-])(?P<which>(?:top|upper|lower|bottom|first|last)\s(?:two|three|four|five|six|[2-9])|"
    rf"(?:upper|lower|typical|intermediate|middle|main|top)(?=\slevels))\s(?P<kind>floors|levels|storeys|stories)(?![A-Za-z-])"
    rf"|(?<![A-Za-z0-9-])(?P<levels>{_NTH}(?:(?:{_JOIN}|{_RUN}){_NTH}){{0,12}})[\s-]levels?(?![A-Za-z-])",
    re.IGNORECASE,
)
_NTH_OR_NUMBER = r"(?:[0-9]{1,2}(?:st|nd|rd|th)?)"
_EVERY = re.compile(
    r"(?<![A-Za-z-])(?:both|all(?:\s(?:two|three|four|[2-9]))?)\s(?:floors|storeys|stories)(?![A-Za-z-])", re.IGNORECASE
)
"""All that a building has, beside other surfaces: `walls on both floors`."""
_BRACKETED = re.compile(
    rf"(?<![A-Za-z0-9-])(?:typical\s)?(?P<noun>floor|level|storey|story|stories)s?\s(?:(?P<open>\()|(?=[0-9]{{1,2}}(?:st|nd|rd|th)))"
    rf"(?P<all>{_NTH_OR_NUMBER}(?:(?:{_JOIN}|{_RUN}){_NTH_OR_NUMBER}){{0,12}})(?(open)\)|(?![A-Za-z0-9-]))",
    re.IGNORECASE,
)
_NUMBERED = re.compile(rf"{_NTH_OR_NUMBER}(?:{_RUN}{_NTH_OR_NUMBER})?", re.IGNORECASE)
_ONE = re.compile(rf"{_WHICH}(?:{_RUN}{_WHICH})?", re.IGNORECASE)
_ON = re.compile(r"\s*[,(]?\s*(?:(?:on|of|at|in|to|throughout)\s)?(?:the\s|all\s|both\s)?", re.IGNORECASE)
"""What may stand between a room and the floor that it is on."""
_BEFORE = re.compile(r"(?:['’]s?)?\s+(?:the\s)?")
_OF = re.compile(r"\sof\s(?:the\s|each\s|every\s)?", re.IGNORECASE)
"""What stands between half of a place and the place: `front half of the shop`."""
_JOINS = ("AND", "COMMA", "EITHER", "SIGN", "PER")


def with_floors(tags: Sequence[Tag], text: str) -> list[Tag]:
    """The tags of a text with one `room` for each floor that an ordinal names: `2nd and 3rd floors`."""
    new: list[Tag] = []
    for match in _FLOORS.finditer(text):
        if match["which"]:
            new.append(Tag(match.start(), match.end(), "room", " ".join(match[0].lower().split())))
            continue
        said = "all" if match["all"] else "levels"
        noun = (match["noun"] or "level").lower().replace("stories", "storey")
        members = list(_ONE.finditer(text, match.start(said), match.end(said)))
        for one in members:
            end = match.end() if one is members[-1] else one.end()
            new.append(Tag(one.start(), end, "room", f"{' '.join(one[0].lower().split())} {noun}"))
        part = next((t for t in tags if t.name == "surface" and t.start < match.end() < t.end), None)
        if part is not None:  # `Second floor deck`
            new.append(Tag(match.end() + 1, part.end, "surface", part.value))
    new.extend(_bracketed(text))
    if any(t.name == "surface" and t.value != "floor" for t in tags):
        new.extend(Tag(m.start(), m.end(), "NEUTRAL") for m in _EVERY.finditer(text))
    new.extend(tag for match in _HALF.finditer(text) for tag in _halves(match))
    found = put(new, tags) if new else list(tags)
    return [evolve(t, loose=False) if t.name == "room" and t.value in _ADVERBS else t for t in found]


def _bracketed(text: str) -> Iterator[Tag]:
    """`Typical floors (2nd to 9th)`, `floors 2nd and 3rd`: which floors are meant stands behind the word."""
    for match in _BRACKETED.finditer(text):
        noun = match["noun"].lower().replace("stories", "storey")
        members = list(_NUMBERED.finditer(text, match.start("all"), match.end("all")))
        for n, one in enumerate(members):
            start, end = match.start() if n == 0 else one.start(), match.end() if one is members[-1] else one.end()
            said = _RUNS.sub(" to ", " ".join(one[0].lower().split()))
            yield Tag(start, end, "room", f"{said} {noun}" if said[-1].isalpha() else f"{noun} {said}")


def _halves(match: re.Match[str]) -> Iterator[Tag]:
    noun = match["noun"].lower().replace("halves", "half").rstrip("s")
    yield Tag(
        match.start(), match.end("first" if match["second"] else "noun"), "room", f"{match['first']} {noun}".lower()
    )
    if match["second"]:
        yield Tag(match.start("second"), match.end(), "room", f"{match['second']} {noun}".lower())


_SIDE = r"(?:(?:north|south|east|west)(?:ern)?|front|rear|back|left|right|far|near)"
_NOUNS = "half|end|part|portion|third"
_HALF = re.compile(
    rf"(?<![A-Za-z-])(?P<first>{_SIDE})(?:\s(?:and|&)\s(?P<second>{_SIDE}))?[\s-](?P<noun>{_NOUNS}|halves|ends|parts|portions)(?![A-Za-z-])",
    re.IGNORECASE,
)
"""Half of a building, or of a room: it holds others, and is less than what it is of."""
_RUNS = re.compile(r"\s?(?:–|-)\s?")
_ADVERBS = ("upstairs", "upstair", "downstairs", "downstair")
"""Places that need no word before them."""


@lru_cache(1024)
def _larger(words: tuple[str, ...]) -> re.Pattern[str]:
    either = "|".join(map(re.escape, (*words, "floor", "level", "storey", "story", "stage")))
    noun = r"(?: (?:apartment|flat|unit|home|house|suite|dwelling|villa)s?)?"
    return re.compile(
        rf"(?:{either}) (?:[a-z]|[0-9]{{1,3}}[a-z]?)(?: to (?:[a-z]|[0-9]{{1,3}}))?{noun}|.*\b(?:floor|storey)s?|(?:sub-?)?basement|mezzanine|(?:up|down)stairs?|{_SIDE} (?:{_NOUNS})",
        re.IGNORECASE,
    )


_NAMED = re.compile(r"[0-9]{1,4}[A-Za-z]?|[A-Z]")


def called(kind: str, which: str) -> str:
    """What a place is called of which a label says the kind: `zone a` of `Zone: A`, `ground floor` of `Floor: Ground`; else nothing."""
    which = " ".join(which.split())
    if _NAMED.fullmatch(which):
        return f"{kind} {which}".lower()
    return f"{which} {kind}".lower() if kind in ("floor", "storey") and _ONE.fullmatch(which) else ""


_NO_LARGER = re.compile(r"(?:sales|shop|trading|factory|production|dance|gaming) floors?")


def holds_others(place: str, words: Sequence[str]) -> bool:
    """Whether a place is one that holds rooms, as a floor or a block; `words` are those that a number makes a place of."""
    return _larger(tuple(words)).fullmatch(place) is not None and _NO_LARGER.fullmatch(place) is None


def within_larger(tags: Sequence[Tag], text: str, words: Sequence[str]) -> list[Tag]:
    """The tags of a text with every room under the name of the larger place that it is said to lie in, once for each of these."""
    out = _with_parts(tags, text)
    runs, n = _runs(out, words), 0
    while n + 1 < len(runs):
        (first, large), (second, other) = runs[n], runs[n + 1]
        n += 1
        between = text[first[-1].end : second[0].start]
        fits = (_BEFORE if large else _ON).fullmatch(between) or (large and _is_half(first) and _OF.fullmatch(between))
        listed = between.strip() == "," and not (
            text.startswith(":", second[-1].end) or (not first[0].start and _WHOLE.match(text, second[-1].end))
        )
        if large == other or not fits or listed:
            continue
        holders, rooms = (first, second) if large else (second, first)
        names = [f"{holder.value} {room.value}" for room, holder in product(rooms, holders)]
        spots = [*first[:-1], evolve(first[-1], end=second[0].end), *second[1:]]
        if len(names) < len(spots):  # one floor and many rooms: no spot of its own for the floor
            spots = [*spots[: len(names) - 1], evolve(spots[len(names) - 1], end=spots[-1].end)]
        spots += [evolve(spots[-1], start=spots[-1].end)] * (len(names) - len(spots))
        new = [evolve(spot, value=name) for spot, name in zip(spots, names, strict=True)]
        low, high = first[0].start, second[-1].end
        kept = [t for t in out if t.end <= low or t.start >= high or (t.name in _JOINS and not _covered(t, new))]
        out = sorted([*kept, *new], key=lambda t: (t.start, t.end))
        n += 1
    return out


_WHOLE = re.compile(r"\s?(?:\([^()]{1,40}\))?\s?$")
"""What stands behind places that are a whole heading: nothing, or a bracket."""


_PART_OF = re.compile(r"(?:\sof\s(?:the\s)?[A-Za-z]{3,12})?\s?[,(–-]\s?(?:the\s)?", re.IGNORECASE)


def _with_parts(tags: Sequence[Tag], text: str) -> list[Tag]:
    """The tags, with half of a place that stands behind it as one: `second floor, rear half`."""
    out: list[Tag] = []
    for tag in tags:
        last = next((t for t in reversed(out[-3:]) if t.name == "room"), None)
        half = tag.name == "room" and _HALVED.fullmatch(tag.value) is not None
        of = half and last is not None and not _HALVED.match(last.value)
        if of and last is not None and _PART_OF.fullmatch(text[last.end : tag.start]):
            while out.pop() is not last:
                pass
            out.append(evolve(last, end=tag.end, value=f"{tag.value} {last.value}"))
        else:
            out.append(tag)
    return out


_HALVED = re.compile(rf"{_SIDE} (?:{_NOUNS})(?:\s|$)")


def lies_in(holder: str, place: str) -> str:
    """What a place is called that lies in another one: the rear half of what was spoken of as a front half is a half of the same."""
    whole = _HALVED.match(place) if _HALVED.fullmatch(holder) else None
    place = place[whole.end() :] if whole is not None else place
    return place if holder in place else f"{holder} {place}".rstrip()


def _is_half(places: Sequence[Tag]) -> bool:
    return all(_HALVED.fullmatch(place.value) for place in places)


def _covered(tag: Tag, new: Sequence[Tag]) -> bool:
    return any(n.start <= tag.start < n.end for n in new)


Run = tuple[list[Tag], bool]
"""Places that are listed together, and whether they hold others."""


def _runs(tags: Sequence[Tag], words: Sequence[str]) -> list[Run]:
    """Places listed together, each run of one sort."""
    runs: list[Run] = []
    open_ = False
    for tag in tags:
        if tag.name == "room":
            large = holds_others(tag.value, words)
            if open_ and runs[-1][1] == large:
                runs[-1][0].append(tag)
            else:
                runs.append(([tag], large))
            open_ = True
        elif tag.name not in _JOINS:
            open_ = False
    return runs
