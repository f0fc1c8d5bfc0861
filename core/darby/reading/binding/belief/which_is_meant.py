"""Which of several surfaces or rooms of a kind is meant: what stands beside a name and was not read may say so.

`112 walls`, `Type A walls`, `walls that are not tiled` are some walls and no others. Where the words that tell them apart made no place,
no mark and no limit, what is said would hold on all of them, and waits to be confirmed.
"""

from __future__ import annotations

import re
from collections.abc import Container, Sequence
from itertools import pairwise

from darby.reading.binding.site.conditions import GOODS
from darby.reading.binding.site.finding import Finding
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.tagging.tag import Tag


def of_one_kind(
    finding: Finding, tags: Sequence[Tag], text: str, sentence: tuple[int, int], read: Container[int], names: Names
) -> str:
    """Why something may hold on some of its kind only. `read` are the numbers that became facts."""
    low, high = sentence
    return (
        _of_a_number(tags, read, low, high)
        or _of_a_mark(finding, tags, text, low, high, names.sorts)
        or _of_those_that(finding, tags, text, low, high)
        or _of_storeys(finding, tags, low, high)
        or _of_either(finding, tags, text, low, high)
        or _behind_a_label(finding, tags, text, low, names)
        or _of_a_color(finding, tags, text, names)
        or _of_the_last(finding, tags, text, low, high)
    )


def _of_a_color(finding: Finding, tags: Sequence[Tag], text: str, names: Names) -> str:
    """Why a place may be none: words that no list knows stand behind a look, `matte in Pond Moss`, and may be its color."""
    held = {room for room, _ in finding.places}
    for look, room in pairwise(tags):
        beside = look.name == "sheen" and room.name == "room" and room.value in held and text[room.start].isupper()
        if beside and text[look.end : room.start] == " in " and not any(w in names.parts for w in room.value.split()):
            return f"where it holds may be a color instead ({text[room.start : room.end]})"
    return ""


def _of_the_last(finding: Finding, tags: Sequence[Tag], text: str, low: int, high: int) -> str:
    """Why a part of a surface may be that of the last of several places alone: `in baths, showers and behind the range in kitchens`."""
    held = {room for room, _ in finding.places if room}
    own = [t for t in tags if low < t.start < high] if held and "where" in finding.scope else []
    for n, part in enumerate(own):
        led = [t for t in own[:n] if t.name != "surface"]
        last = next((t for t in own[n + 1 : n + 4] if t.name == "room"), None)
        joined = part.name in ("where", "PLACE_BEHIND") and bool(led) and led[-1].name in ("AND", "COMMA")
        if joined and last is not None and any(t.name == "room" and t.value in held for t in led):
            return f"a part of one of its places may be meant, and all of the others ({text[part.start : last.end]})"
    return ""


def _behind_a_label(finding: Finding, tags: Sequence[Tag], text: str, low: int, names: Names) -> str:
    """Why something may not hold wherever it seems to: its label says where, or of what, in words of which none was read."""
    led = [t for t in tags if low < t.start < finding.fact.place]
    colon = next((n for n, t in enumerate(led) if t.name == "COLON"), None)
    if colon is None or any(t.name not in _SILENT for t in led[:colon]):
        return ""
    start = led[0].start if colon else led[colon].start
    label = text[max(low + 1, 0) : led[colon].start].strip()
    words = _A_WORD.findall(label)
    told = [w for w in words if w.lower() not in names.labels and w.lower().rstrip("s") not in names.labels]
    if start < 0 or not 0 < len(words) <= _LABEL or not any(w.lower() not in names.plain for w in told):
        return ""
    return f"its label may say where it holds, or of what, and is not understood ({label})"


_SILENT = ("COMMA", "AND", "OPEN", "CLOSE", "DASH", "SIGN", "OF", "LENGTH_UNIT", "ORDINAL")
_A_WORD = re.compile(r"[A-Za-z][A-Za-z'’-]+")
_LABEL = 4
"""Words of a label; what is longer is a sentence."""


def _of_either(finding: Finding, tags: Sequence[Tag], text: str, low: int, high: int) -> str:
    """Why something may hold somewhere else too, or there instead: it is said of one place or another, `walls or ceilings`."""
    held = {w.value for w in finding.surfaces} | {room for room, _ in finding.places}
    for one, join, other in zip(tags, tags[1:], tags[2:], strict=False):
        places = join.name == "EITHER" and one.name == other.name and one.name in ("surface", "room")
        if places and low < one.start < high and (one.value in held) != (other.value in held):
            return f"it is said of one or the other, and not of which ({' '.join(text[one.start : other.end].split())})"
    return ""


def _of_storeys(finding: Finding, tags: Sequence[Tag], low: int, high: int) -> str:
    """Why something may be said of storeys: `both floors: two coats`."""
    on = {w.value for w in finding.surfaces}
    for both, surface in pairwise(tags):
        floors = (both.name, surface.name, surface.value) == ("BOTH", "surface", _FLOOR)
        if floors and surface.value in on and low < both.start < high:
            return "what it is said of may be storeys, and no floors"
    return ""


_FLOOR = "floor"


_THAT = re.compile(r"\s(?:(?:that|which|whose)\s(?:(?!shall|are to|is to|receive|get|need|take)[a-z])|not\s[a-z])")
"""What tells some from others behind a name: no comma stands before it."""


def _of_those_that(finding: Finding, tags: Sequence[Tag], text: str, low: int, high: int) -> str:
    """Why something may hold on some surfaces only: `walls that are not tiled`, where nothing of it was read."""
    on = {w.value for w in finding.surfaces}
    for tag in tags if finding.scope.keys().isdisjoint(_LIMITS) else ():
        if low < tag.start < high and tag.name == "surface" and tag.value in on:
            match = _THAT.match(text, tag.end)
            if match is not None:
                said = text[tag.start : match.end() + 20].rsplit(" ", 1)[0]
                return f"it may be said of some of them alone ({said} ..)"
    return ""


_LIMITS = ("where", "facing", "condition")


def _is_placed(finding: Finding) -> bool:
    return bool(finding.marks) or any(room for room, _ in finding.places)


def _of_a_number(tags: Sequence[Tag], read: Container[int], low: int, high: int) -> str:
    """Why something may hold in one room only: a number right behind the place, or beside a surface, was not read, `Office 3.02`,
    `112 walls`.
    """
    for n, (one, other) in enumerate(pairwise(tags)):
        joins = [t.name for t in tags[n + 1 : n + 4]] == ["NUMBER", "AND", "NUMBER"] and tags[n + 3].start < high
        if one.name == "BETWEEN" and joins and low < one.start and other.start not in read:
            unit = tags[n + 4 : n + 5]
            if not unit or unit[0].unit is None:  # `two layers between 103 and 104`
                return "what it stands between, which may be where it holds, was not read"
        number = other if one.name in ("room", "ROOM_HEAD", "surface") else one
        behind = tags[n + 2 : n + 3] if number is other else ()
        beside = other.start - one.end <= 1 and number.name == "NUMBER" and (number is other or other.name == "surface")
        if not beside or not low < one.start < high or number.start in read:
            continue
        if one.name in ("room", "ROOM_HEAD"):
            return "a number behind its place, which may say which one is meant, was not read"
        if not behind or (behind[0].unit is None and behind[0].name in ("COLON", "COMMA", "STOP")):
            return "a number beside what it is said of, which may say which one is meant, was not read"
    return ""


def _of_a_mark(finding: Finding, tags: Sequence[Tag], text: str, low: int, high: int, sorts: Container[str]) -> str:
    """Why something may hold on some surfaces only: a mark that nothing defines stands beside them, `Type W3 walls`."""
    on = {w.value for w in finding.surfaces}
    for surface in tags if sorts and not finding.marks else ():
        if surface.name == "surface" and surface.value in on and low < surface.start < high:
            sort = _sort_of(surface, tags, text, sorts)
            if sort:
                return f"what it is said of is of one sort alone, and which that is is not known ({sort})"
    for mark, surface in pairwise(tags):
        beside = (mark.name, mark.value) == ("CODE", "a mark") and surface.name == "surface" and surface.value in on
        if beside and low < mark.start < high and surface.start - mark.end <= 1 and not finding.marks:
            return (
                f"a mark before what it is said of may say which of its kind is meant ({text[mark.start : mark.end]})"
            )
    return ""


_SORT_BEFORE = re.compile(r"(?<![A-Za-z-])(?P<sort>[A-Za-z]{3,12})\s(?P<which>[A-Z]|[0-9]{1,2})\s\Z")
_SORT_BEHIND = re.compile(
    r"\s(?:of\s|\()?(?P<sort>[A-Za-z]{3,12})\s(?P<which>[A-Z]|[0-9]{1,2})(?![A-Za-z0-9]|[.,/][0-9]|\s?[\"'%-])"
)
_SORT = 18
"""Letters of such a word with its letter or number."""


def _sort_of(surface: Tag, tags: Sequence[Tag], text: str, sorts: Container[str]) -> str:
    """`Type A walls`, `walls type A`: which of its kind a surface is, where nothing else was read of the letter or number."""
    found = (
        _SORT_BEFORE.search(text, max(0, surface.start - _SORT), surface.start),
        _SORT_BEHIND.match(text, surface.end),
    )
    for match in found:
        if match is not None and match["sort"].lower() in sorts:
            held = [t for t in tags if t.start < match.end("which") and match.start("sort") < t.end]
            if all(t.name in ("NUMBER", "CODE", "REFERENCE", "hint", "NO") for t in held):
                return match[0].strip(" (")
    return ""


_NAME = r"[A-Z][\w'’-]+"
_LIST_JOINS = re.compile(
    rf"(?:\s{_NAME}){{0,2}}\s*(?:,\s*(?:and\s+)?|&\s*|/\s?|(?i:and)\s+)(?:(?i:the|both|all|each|every)\s+)?(?:{_NAME}\s){{0,2}}"
)
"""What joins two places of a list, with what else is in capitals of a name of several words."""


def of_a_list(finding: Finding, strangers: Sequence[tuple[int, str]], tags: Sequence[Tag], text: str) -> str:
    """Why a list of places may be longer: `the hall, the narthex and both classrooms`, where no list knows one of them."""
    held = {room for room, _ in finding.places if room}
    rooms = [t for t in tags if t.name == "room" and t.value in held] if strangers else []
    on = {w.value for w in finding.surfaces} if not held and not finding.marks else set()
    for surface in (t for t in tags if strangers and t.name == "surface" and t.value in on):
        behind = _CLOSED_BY.match(text, surface.end) or _LEADS_TO.match(text, surface.end)
        if behind is not None and any(at == behind.start("name") for at, _ in strangers):
            return f"a name behind what it is said of may say where it holds ({behind['name']})"
        before = next((word for at, word in strangers if at + len(word) + 1 == surface.start), "")
        if before and finding.fact.place < surface.start:
            return f"a word before what it is said of may say where it holds ({before})"
    for at, word in strangers:
        gaps = [text[at + len(word) : t.start] if at < t.start else text[t.end : at] for t in rooms]
        if any(_LIST_JOINS.fullmatch(gap) for gap in gaps):
            return f"it may hold in one more place, which no list knows ({word})"
    return ""


_LEADS_TO = re.compile(
    r"\s(?:of|in|at|throughout|within|inside)\s(?:(?:the|both|all|each)\s)?(?:old\s|new\s)?(?P<name>[A-Za-z][A-Za-z'’-]+)"
)
"""What leads from a surface to a place."""
_CLOSED_BY = re.compile(rf",?\s(?P<name>{_NAME}(?:\s{_NAME}){{0,2}})\s?(?:[.;]|\Z)")


def points_back(finding: Finding, tags: Sequence[Tag], text: str, span: tuple[int, int], lexicon: Lexicon) -> str:
    """Why it is not sure where a finding of no place holds: its sentence points back to one, `The other walls there ..`, `Its ceiling ..`,
    and nothing before it in the sentence can be that."""
    low, high = span
    words = [m for m in _POINTS.finditer(text, max(0, low), high) if m["word"].lower() in lexicon.words_of("pointing")]
    back = any((m["next"] or "").lower() not in lexicon.words_of("not_pointing") for m in words)
    said = [t for t in tags if low < t.start < high]
    first = next((n for n, t in enumerate(said) if t.name == "ITS"), len(said) - 1)
    its = [t.name for t in said[first : first + 2]] == ["ITS", "surface"]
    led = its and not any(t.name in ("surface", "room", "subject") for t in said[:first])
    return "it points back to a place that was not read" if (back or led) and finding.kind not in GOODS else ""


_POINTS = re.compile(r"(?<![A-Za-z'’-])(?P<word>[A-Za-z]+)(?![A-Za-z'’-])(?:(?=\s(?P<next>[A-Za-z]+)))?")
