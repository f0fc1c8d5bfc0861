"""Lines that open the sheet of a room: its number, its name and how large it is, `G01  WAITING   Area 38 m2   Height 3000`; and those that
open the record of a mark.

A document has several of them, with the same things behind the name of each, and each stands over lines of its own.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

from darby.reading.layout.tables.cells import Line
from darby.reading.layout.tables.heads import Means

_APART = r"(?:\s{2,}|\t\s*|\s?[|,;(]\s{0,4}|\s[–—-]\s)"
_MEASURE = (
    r"(?:[A-Za-z][A-Za-z.]{0,12}(?: [A-Za-z.]{1,12}){0,2}\s?[:=]?\s{0,6})?"
    r"[0-9]{1,5}(?:[.,'][0-9]{1,3})?[\"']?(?:\s?[xX×]\s?[0-9]{1,5}(?:[.,'][0-9]{1,3})?[\"']?){0,2}"
    r"\s?(?:m2|m²|sq\.? ?(?:m|ft)\.?|sqm|sf|mm|cm|m|ft|in)?\)?"
)
_RECORD = re.compile(
    rf"(?P<code>[A-Z]{{0,3}}[-.]?[0-9]{{1,3}}(?:[.-][0-9]{{1,3}})?[A-Za-z]?)(?:\s{{2,}}|\t|\s[–—-]\s|:\s+)"
    rf"(?P<name>[A-Z][^\s:;|]*(?: [^\s:;|]+){{0,5}}?)(?P<size>(?:{_APART}{_MEASURE}){{1,4}})$"
)
_LONGEST = 140
_FEWEST = 2


def record_lines(lines: Sequence[Line]) -> Iterator[tuple[int, re.Match[str]]]:
    """Such lines by their numbers, each as its code, its name and its size."""
    found = [
        (n, match, _shape(match["size"]))
        for n, (line, below) in enumerate(pairwise(lines))
        if len(line.text) < _LONGEST and not line.style and (match := _RECORD.match(line.text)) is not None
        and below.indent > line.indent
    ]  # fmt: skip
    often = Counter(shape for _, _, shape in found)
    for n, match, shape in found:
        if often[shape] >= _FEWEST:
            yield n, match


_CODED = re.compile(r"(?P<label>[A-Za-z][A-Za-z ]{2,18}?)\s?:\s{1,8}(?P<code>[A-Z]{1,4}[-.]?[0-9]{1,3}[A-Za-z]?|[A-Z])")
_LABELLED = re.compile(r"[A-Za-z][A-Za-z /]{1,24}:\s")


def coded_lines(lines: Sequence[Line], means: Means) -> Iterator[int]:
    """Lines that open the record of a mark, `Type: G1`, over lines with labels of their own, where there are several of them."""
    found = [
        (n, match["label"].lower(), match["code"])
        for n, (line, below) in enumerate(pairwise(lines))
        if (match := _CODED.fullmatch(line.text)) is not None and not line.style
        and _LABELLED.match(below.text) and not below.blank_before and "marks" in means(match["label"])
    ]  # fmt: skip
    codes: dict[str, set[str]] = {}
    for _, label, code in found:
        codes.setdefault(label, set()).add(code)
    for n, label, _ in found:
        if len(codes[label]) >= _FEWEST:
            yield n


_ONE = r"[A-Z]{0,2}-?[0-9]{1,4}[A-Za-z]?"
_WORD = r"[A-Z][\w'’.-]*"
_MORE = r"(?:\s?[ /&,-]\s?(?:(?:and|of|the)\s)?{word}){{0,3}}(?: [0-9]{{1,2}}[A-Za-z]?)?(?<!\.)"
_NAME = _WORD + _MORE.format(word=_WORD)
_CALLED = _WORD + _MORE.format(word=r"[A-Za-z][\w'’.-]*")
"""A name behind or before a number, which needs no further capitals."""
_NUMBERED = re.compile(
    rf"(?P<noun>[A-Za-z]{{2,9}}?)s?\.?\s(?:[Nn]o\.?\s)?(?P<numbers>{_ONE}(?:\s?[/,&+]\s?{_ONE}|\sand\s{_ONE}){{0,5}})"
    rf"(?:\s?[-–—:,.]\s{{1,3}}|\s)(?P<name>{_CALLED})(?P<rest>\s?\([^()]{{1,40}}\))?",
    re.IGNORECASE,
)
_SHAPES = {
    "behind": re.compile(
        rf"(?P<name>{_CALLED})\s?\((?P<code>[A-Z]{{0,2}}[-.]?[0-9]{{1,4}}(?:\.[0-9]{{1,3}})?[A-Za-z]?(?:\s?[-–,&/]\s?[0-9]{{1,4}}[A-Za-z]?){{0,4}})\)"
    ),
    "counted": re.compile(
        rf"(?P<code>[A-Z]{{1,2}}-?[0-9]{{1,3}}[A-Za-z]?|[0-9]{{3,4}}[A-Za-z]?)(?:\s?[-–—]\s|\s)(?P<name>{_CALLED})"
    ),
    "plain": re.compile(rf"(?P<name>{_NAME})"),
}
_ITEM = re.compile(r"(?:[-–—•*▪◦·]|[0-9]{1,3}[.)]|[A-Za-z][.)]|\([a-z0-9]{1,2}\))\s")
_ENDS = (".", ";", ":", "!", "?")
_STEP = 5
"""What the numbers of clauses count up in: those of rooms are consecutive."""


def numbered_name(text: str) -> re.Match[str] | None:
    """A line that is a word for places, a number or several, and a name: `Room 104 / 105 RESTROOMS`."""
    return _NUMBERED.fullmatch(text) if len(text) < _LONGEST else None


def room_lines(lines: Sequence[Line], means: Means) -> Iterator[tuple[int, re.Match[str]]]:
    """Lines that name a room and stand over what is to be done in it, with its number (`102 BREWHOUSE`, `Keg store (102)`, `Room 7 Attic`) or
    without: where several of one shape do, and most of them are known for places. `code` is a number that is no part of the name."""
    found: dict[str, list[tuple[int, re.Match[str], bool]]] = {}
    others: list[tuple[int, re.Match[str]]] = []
    for n, (above, line, below) in enumerate(zip((None, *lines), lines, lines[1:], strict=False)):
        out = above is None or line.blank_before or above.indent > line.indent
        closed = out or (above is not None and (above.text.endswith(_ENDS) or _ITEM.match(above.shape)))
        stands = not (line.style or below.blank_before or below.indent < line.indent or len(line.text) > _LONGEST)
        told = _told(line, means) if closed and stands else None
        item = _ITEM.match(below.shape)
        if told is not None and (
            item or below.indent > line.indent or (told[0] != "plain" and below.shape[:1].isupper())
        ):
            found.setdefault(told[0], []).append((n, *told[1:]))
        elif closed and stands and item and (match := _SHAPES["plain"].fullmatch(line.shape)) is not None:
            others.append((n, match))  # `Materials` behind the last of them
    rooms: list[tuple[int, re.Match[str]]] = []
    for shape, some in found.items():
        codes = {match["code"] for _, match, _ in some} if shape == "counted" else ()
        clauses = codes and all(code.isdigit() and int(code) % _STEP == 0 for code in codes)
        share = 2 if shape == "plain" else 3  # a number tells of rooms too
        known = share * sum(known for *_, known in some) >= len(some)
        if len(some) >= _FEWEST and known and not clauses:
            rooms += ((n, match) for n, match, _ in some)
    yield from rooms
    first = min((n for n, _ in rooms), default=len(lines))
    yield from ((n, match) for n, match in others if n > first)


def _told(line: Line, means: Means) -> tuple[str, re.Match[str], bool] | None:
    """The shape of a line that may name a room, what matched it, and whether the language knows the place."""
    if (match := numbered_name(line.shape)) is not None:
        noun = match["noun"].lower()
        return noun, match, "places" in means(noun) or "place" in means(line.text)
    for shape, pattern in _SHAPES.items():
        if (match := pattern.fullmatch(line.shape)) is not None:
            said = means(line.text[slice(*match.span("name"))])
            return None if said - {"place", "places"} else (shape, match, "place" in said)
    return None


def _shape(size: str) -> str:
    """What stands behind a name, whatever it measures."""
    return " ".join(re.sub(r"[0-9][0-9.,']*", "#", size.lower()).split())
