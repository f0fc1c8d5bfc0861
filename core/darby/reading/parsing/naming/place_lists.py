"""Places that are listed with one that is known: `walls of the Wheelhouse Exhibit and the Fish Cleaning Station`, `dye kitchen and wool
wash get two coats`.

What stands beside a place behind `and`, a comma or a sign that joins is one too where no list knows its words, and where it ends as
such a list does: before a surface, a stop, the next of the list, or a verb of giving.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from attrs import evolve

from darby.reading.parsing.naming.names import ARTICLES, LEADING, Names
from darby.reading.parsing.naming.strange_goods import NO_NOUN
from darby.reading.parsing.tagging.room_names import singular
from darby.reading.parsing.tagging.tag import Tag, first_behind, put, within

_JOIN = r"(?:,\s*(?:and\s+|or\s+)?|\s+(?:and|or|&|\+)\s+|\s*/\s*)"
_SMALL = r"(?:(?:in|at|of|on|for)\s+)?(?:(?:the|all|each|every|any|old|new)\s+){0,2}"
_RUN = r"[A-Za-z][A-Za-z'’-]{1,24}(?: [A-Za-z'’-]{2,25}){0,3}"
_NEXT = re.compile(rf"(?:\s?\((?:[^()]{{1,30}})\))?(?P<join>{_JOIN}){_SMALL}(?P<run>{_RUN})")
_BEFORE = re.compile(rf"(?P<run>{_RUN})(?P<join>{_JOIN}){_SMALL}$")
_REACH = 90
_ENDS = re.compile(
    r"\s*(?:$|[.,;:)(|]|(?:and|or|&|\+|gets?|takes?|receives?|has|have|are|is|shall|will|to|only|as|which)\b)",
    re.IGNORECASE,
)
_CUTS = re.compile(
    r"\s(?:gets?|takes?|receives?|has|have|are|is|shall|will|to|only|and|or|as|which|where|with|from|unless|except)\b.*",
    re.IGNORECASE,
)
_WEAK = ("REFERENCE", "FOREIGN", "HOLDS", "KEEP", "LEAVE", "PACK_SIZE", "HIGH", "WET", "DRY")
"""What a word in capitals may mean elsewhere, and is a part of a name here."""
_FIRST = re.compile(r"([A-Za-z'’-]+)\s+")
_LEADS = frozenset({*LEADING, *ARTICLES, "of", "except", "to", "both", "all", "every", "each"})
_LED_BY = re.compile(
    r"\b(?:in|at|of|on|to|except|throughout|within)(?:\s+(?:the|all|both|every|each))?$", re.IGNORECASE
)
_LED = 40
"""Letters before a place in which what leads to it stands."""
_MOST = 400
"""Places that one clause can list."""


def with_listed_places(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """The tags of a text with a `room` for each place that is listed beside another."""
    sorts = list(_of_two_sorts(tags, text))
    tags = put(sorts, tags) if sorts else tags
    tags = _meant_as_rooms(tags, text, names)
    rooms = [t for t in tags if t.name == "room"][:_MOST]
    new: list[Tag] = []
    at = 0
    while at < len(rooms) and len(rooms) < 2 * _MOST:
        room = rooms[at]
        at += 1
        if not room.loose or room.start == 0:
            for found in (_behind(room, tags, text, names), _ahead(room, tags, text, names)):
                if found is not None and not any(t.start < found.end and found.start < t.end for t in (*rooms, *new)):
                    new.append(found)
                    rooms.append(found)
    return _numbered(_joined(put(new, tags) if new else list(tags)), text)


def _meant_as_rooms(tags: Sequence[Tag], text: str, names: Names) -> Sequence[Tag]:
    """The tags, those that mean something else elsewhere being rooms where they are members of a list of rooms: `Walls of Powder and Bath`."""
    if not any(t.name not in ("room", *_LISTS) and text[t.start : t.end].lower() in names.beside for t in tags):
        return tags
    out = list(tags)
    for n, tag in enumerate(tags):
        said = text[tag.start : tag.end]
        if said.lower() not in names.beside or not said[:1].isupper():
            continue
        ahead, behind = [t.name for t in out[max(0, n - 2) : n]], [t.name for t in tags[n + 1 : n + 3]]
        listed = ahead[:1] == ["room"] and ahead[1:] and ahead[1] in _LISTS
        leads = behind[1:] == ["room"] and behind[0] in _LISTS
        if (listed or leads) and (not behind or behind[0] in _CLOSING):
            out[n] = Tag(tag.start, tag.end, "room", singular(said.lower()))
    return out


_LISTS = ("COMMA", "AND", "EITHER", "PLUS")
_CLOSING = (*_LISTS, "CLOSE", "COLON", "STOP", "SEMICOLON", "surface", "DASH")


def _of_two_sorts(tags: Sequence[Tag], text: str) -> Iterator[Tag]:
    """`wet and soiled rooms` are two sorts of rooms, of which the noun is said once."""
    for room in tags:
        noun = _ROOMS.search(text, room.start, room.end) if room.name == "room" else None
        sort = _SORT.search(text, max(0, room.start - _REACH), room.start) if noun is not None else None
        if sort is not None and all(t.name in ("WET", "DRY") for t in within(tags, *sort.span("word"))):
            yield Tag(*sort.span("word"), "room", f"{sort['word'].lower()} room")


_ROOMS = re.compile(r"\srooms$", re.IGNORECASE)
_SORT = re.compile(
    r"(?:\A|[,;:(]\s|\b(?:in|at|of|to|for|all|the)\s)(?P<word>[A-Za-z]{3,14})(?:\sand\s|\s&\s|\s?/\s?)\Z", re.IGNORECASE
)
"""Such a word before the noun of another: it opens a part, or a word leads to it."""


_NUMBER = re.compile(r"room\s(?P<number>[0-9]{1,4}[a-z]?)")
_SAME = re.compile(r",\s|\s[-–—]\s")
_CLOSES = re.compile(r"\s?(?:[:,]|\s[-–—]\s|$)")


def _numbered(tags: list[Tag], text: str) -> list[Tag]:
    """`Room 105, Scullery, walls: ..`: a number and a name that close a label are those of one room, `scullery 105`."""
    out: list[Tag] = []
    for n, tag in enumerate(tags):
        at = len(out) - 1 - (bool(out) and out[-1].name in ("COMMA", "DASH"))
        number = _NUMBER.fullmatch(out[at].value) if at >= 0 and out[at].name == tag.name == "room" else None
        joined = number is not None and _SAME.fullmatch(text, out[at].end, tag.start) is not None
        named = not any(c.isdigit() for c in tag.value) and _CLOSES.match(text, tag.end) is not None
        listed = n + 2 < len(tags) and tags[n + 1].name in ("COMMA", "AND") and tags[n + 2].name == "room"
        if number is not None and joined and named and not listed:
            out[at:] = [evolve(tag, start=out[at].start, value=f"{tag.value} {number['number']}")]
        else:
            out.append(tag)
    return out


def _joined(tags: list[Tag]) -> list[Tag]:
    """The tags, a sign of addition between two places being an `and`."""
    return [
        evolve(tag, name="AND")
        if 0 < n < len(tags) - 1 and tag.name == "PLUS" and tags[n - 1].name == tags[n + 1].name == "room"
        else tag
        for n, tag in enumerate(tags)
    ]


def _behind(room: Tag, tags: Sequence[Tag], text: str, names: Names) -> Tag | None:
    match = _NEXT.match(text, room.end, room.end + _REACH)
    if match is None or (match["join"].strip() == "/" and not match["run"][0].isupper()):
        return None
    start = match.start("run")
    end = start + len(_CUTS.sub("", match["run"]))
    held = [t for t in within(tags, start, end) if t.name not in _WEAK or not text[t.start].isupper()]
    if held:  # a list of places ends before a surface
        end = min(t.start for t in held)
        if end <= start or held[0].name != "surface":
            return None
        end -= len(text[start:end]) - len(text[start:end].rstrip())
    after = first_behind(tags, end)
    surface = after is not None and after.name == "surface" and not text[end : after.start].strip()
    if not (surface or _ENDS.match(text, end)):
        return None
    goes_on = (
        after is not None
        and after.name in ("AND", "COMMA")
        and (second := first_behind(tags, after.end)) is not None
        and second.name == "room"
        and not text[after.end : second.start].strip()
    )
    loose = "," in match["join"] and "and" not in match["join"] and not surface and not goes_on
    return _named(text[start:end], start, end, names, comma=loose)


def _ahead(room: Tag, tags: Sequence[Tag], text: str, names: Names) -> Tag | None:
    low = max(0, room.start - _REACH)
    match = _BEFORE.search(text[low : room.start])
    if match is None:
        return None
    start, end = low + match.start("run"), low + match.end("run")
    if end > 0 and start > 0 and text[start - 1].isalnum():
        return None
    held = within(tags, start, end)
    if held:
        start = max(t.end for t in held)
        start += len(text[start:end]) - len(text[start:end].lstrip())
    while (word := _FIRST.match(text, start, end)) is not None and word[1].lower() in _LEADS:
        start = word.end()  # what leads to a place is none of its name
    before = text[:start].rstrip()
    led = _LED_BY.search(before[-_LED:])
    opens = not before.strip(" -•*") or before.endswith((".", ";", ":", "(", "|"))
    if start >= end or (held and not led) or not (led or opens):
        return None
    return _named(text[start:end], start, end, names, comma=False)


def _named(name: str, start: int, end: int, names: Names, *, comma: bool) -> Tag | None:
    """The place of a name that means nothing else here; behind a mere comma only one in capitals."""
    words = name.split()
    titled = all(w[:1].isupper() for w in words)
    lows = [w.lower() for w in words]
    called = titled and not name.isupper() and len(words) > 1 and names.can_name(lows[0], titled=True)
    known = not called and any(w in names.plain or w in names.labels for w in lows)
    able = [names.can_name(low, titled=titled) and (titled or not NO_NOUN.match(low)) for low in lows]
    if known or not any(able) or (comma and not titled) or (not titled and not able[0]):
        return None
    return Tag(start, end, "room", singular(" ".join(lows)))
