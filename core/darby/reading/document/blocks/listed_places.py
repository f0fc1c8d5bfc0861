"""Places that are named in a row: `Live Tank Hall, Wet Bench Rooms and Attic: ..`, `COURTROOM 3A, JURY ROOM` as the key of a row.

A label, a heading or a key is looked at whole: where one of its members is a room, the others are rooms too, whatever their words mean
elsewhere, unless one of them speaks of something else.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from attrs import evolve, frozen

from darby.reading.parsing.naming.names import ARTICLES, LEADING, Names
from darby.reading.parsing.tagging.room_names import singular
from darby.reading.parsing.tagging.tag import Tag, within

Tags = Sequence[Tag]
_LONGEST = 140
"""Letters in a label."""
_PART = re.compile(r"\s*(?:,|;|/|&|\+|\band\b|\bAND\b)\s*")
_WORD = re.compile(r"[^\W\d_][\w'’.-]*")
_NAME = re.compile(r"[^\W\d_][\w'’.-]*(?:\s[^\W_][\w'’.-]*){0,3}")
_ROOM = re.compile(r"[^\W\d_][\w'’-]+\s(?:rooms?|offices?|areas?|rm\.?)", re.IGNORECASE)
_NUMBER = re.compile(r"[0-9]{1,4}[A-Za-z]?|[A-Z]")
_SPEAKS = frozenset(
    "subject surface where condition mark type sheen color class layer COAT LAYER A_LAYER SINGLE LAYERING LEVEL LENGTH_UNIT THIN_UNIT AREA_UNIT "
    "hint NO EXCEPT ELSEWHERE EVERYWHERE REFERENCE CONDITION STOP CELL SECTION CODE".split()
)
"""Words that say something of goods, or where they go, and are no part of a name."""
_BESIDE = frozenset("surface where condition ALL BOTH OF AND COMMA PER SIGN ROOM_HEAD facing".split())
"""What a member of such a list may be instead of a place: `Lobby, walls and ceiling`."""
_NO_LABEL = ("STOP", "SEMICOLON", "COAT", "LAYER", "subject", "LENGTH_UNIT")
_LEADS = LEADING | ARTICLES | {"@", "&"}


@frozen
class _Member:
    start: int
    end: int
    """The end of its name, without a surface behind it."""
    what: str
    """`place`, `open` (words that could name one), `surface`, or "" where it can be none of a list of places."""
    room: Tag | None = None


def label_end(tags: Tags) -> int:
    """Where the label of a text ends; 0 where it has none."""
    for tag in tags:
        if tag.name == "COLON" or (tag.name == "DASH" and tag.value != "-"):
            return tag.start
        if tag.name in _NO_LABEL:
            return 0
    return 0


def listed_places(tags: Tags, text: str, end: int, names: Names, *, sure: bool = False, start: int = 0) -> Tags:
    """The tags of a text whose letters up to `end` are a label, a heading or a key, with a room for every place in it; `sure`
    says that it names places though no list knows any of them."""
    if not 0 < end <= _LONGEST or not (sure or len(_PART.split(text[:end], maxsplit=1)) > 1):
        return tags
    own = [t for t in tags if start <= t.start < end]
    members = list(_members(own, text, end, names, start))
    if not members or any(not m.what for m in members):
        return tags
    open_ = [m for m in members if m.what == "open"]
    told = sure or any(m.what == "place" for m in members) or _before_a_surface(members, own, text)
    told = told or _of_goods(members, [t for t in tags if t.start >= end], text)
    if not told or not (open_ or any(m.what == "place" for m in members)):
        return tags
    new = [_named(m, text) for m in members if m.what in ("place", "open")]
    kept = [
        evolve(t, name="AND") if t.name == "PLUS" else t
        for t in own
        if t.name in _KEPT and not within(new, t.start, t.end)
    ]
    around = (t for t in tags if t.start >= end or t.start < start)
    return sorted([*new, *kept, *around], key=lambda t: t.start)


_KEPT = (*_SPEAKS, *_BESIDE, "PLUS", "COLON", "DASH", "SEMICOLON")


def _named(member: _Member, text: str) -> Tag:
    room = member.room
    if room is not None and (room.start, room.end) == (member.start, member.end):
        return evolve(room, loose=False)
    return Tag(member.start, member.end, "room", singular(" ".join(text[member.start : member.end].lower().split())))


def _members(tags: Tags, text: str, end: int, names: Names, at: int) -> Iterator[_Member]:
    cuts = [(m.start(), m.end()) for m in _PART.finditer(text, at, end) if not _in_a_room(m.start(), m.end(), tags)]
    for low, high in [*cuts, (end, end)]:
        if text[at:low].strip(" .:"):
            yield _member(at, low, tags, text, names)
        at = high


def _in_a_room(start: int, end: int, tags: Tags) -> bool:
    """Whether a sign that could part two members is part of one known name: `Plant/Boiler room`."""
    return any(t.name in ("room", "surface") and t.start < start and end < t.end for t in within(tags, start, end))


def _member(low: int, high: int, tags: Tags, text: str, names: Names) -> _Member:
    words = list(_WORD.finditer(text, low, high))
    over = within(tags, low, high)
    led = [n for n, w in enumerate(words) if n and w[0].lower() in LEADING]
    if led and any(t.name == "room" and t.start > words[led[-1]].start() for t in over):
        words = words[led[-1] :]  # `LININGS TO FOYER AND BAR`: what stands before is what the places have
        low = words[0].start()
    while words and words[0][0].lower() in _LEADS:
        low = words.pop(0).end()
    own = within(tags, low, high)
    last = next((t for t in own if t.name in _BESIDE and t.start > low), None)
    if own and all(t.name in _BESIDE for t in own) and _covered(own, text, low, high):
        return _Member(low, high, "surface")
    if last is not None and last.name in ("surface", "where") and not text[last.end : high].strip(" .()"):
        if low and text[low:high].lstrip()[:1].islower() and not any(t.name == "room" for t in own):
            return _Member(low, high, "surface")  # `Old Weigh House, street wall`
        high, own = last.start, [t for t in own if t.start < last.start]
    low, high = high - len(text[low:high].lstrip()), low + len(text[low:high].rstrip(" .:"))
    low = low if low < high else high
    name = text[low:high]
    rooms = [t for t in own if t.name == "room"]
    if any(t.name in _SPEAKS for t in own) and not _ROOM.fullmatch(name):
        return _Member(low, high, "")
    if len(rooms) == 1:
        room = rooms[0]
        before, behind = text[low : room.start].strip(), text[room.end : high].strip()
        titled = name[:1].isupper() and text[room.start].isupper() and _NAME.fullmatch(name) is not None
        if _NUMBER.fullmatch(behind) or (behind[:1].islower() and all(names.can_name(w) for w in behind.split())):
            # `Stair 2`, `cellar wash-up`
            return _Member(low if titled or not before else room.start, high, "place")
        if not behind and (not before or titled):
            return _Member(low, high, "place", room if not before else None)
        return _Member(room.start, room.end, "place", room)
    if _ROOM.fullmatch(name):
        return _Member(low, high, "place")
    said = [w.lower() for w in _WORD.findall(name)]
    if len(said) == 1 and said[0] in names.beside:
        return _Member(low, high, "open")
    known = (
        said[:1] == [] or said[0] in names.labels or not any(names.can_name(w, titled=name[:1].isupper()) for w in said)
    )
    usable = _NAME.fullmatch(name) is not None and not rooms and not known and (name[:1].isupper() or len(said) > 1)
    return _Member(low, high, "open" if usable else "")


def all_beside(tags: Tags, text: str) -> bool:
    """Whether a text names surfaces and nothing else."""
    return all(t.name in _BESIDE for t in tags) and _covered(tags, text, 0, len(text))


def _covered(tags: Tags, text: str, low: int, high: int) -> bool:
    """Whether tags are all that a stretch says."""
    left = low
    for tag in tags:
        if text[left : tag.start].strip(" .()-"):
            return False
        left = max(left, tag.end)
    return not text[left:high].strip(" .()-")


_GOODS = ("subject", "sheen", "type", "mark", "COAT", "LAYER", "LEVEL")


def _of_goods(members: Sequence[_Member], behind: Tags, text: str) -> bool:
    """`Judge's Chambers and Evidence Intake: Level 5`: names in capitals before a colon, each of two words or more, and what is
    behind it speaks of goods."""
    if not behind or behind[0].name != "COLON" or text.isupper():
        return False
    titled = all(all(w[0][:1].isupper() for w in _WORD.finditer(text, m.start, m.end)) for m in members)
    several = all(m.what == "open" and " " in text[m.start : m.end] for m in members)
    return titled and several and any(t.name in _GOODS for t in _sentence(behind))


def _sentence(tags: Tags) -> Iterator[Tag]:
    for tag in tags:
        if tag.name == "STOP":
            return
        yield tag


def _before_a_surface(members: Sequence[_Member], tags: Tags, text: str) -> bool:
    """`WET BAR AND KEG WASH WALLS: ..`: names of two words and more, and what they have, behind the last."""
    last = members[-1]
    behind = next((t for t in tags if t.start >= last.end), None)
    return (
        last.what == "open"
        and behind is not None
        and behind.name == "surface"
        and all(m.what == "open" and " " in text[m.start : m.end] and text[m.start].isupper() for m in members)
    )
