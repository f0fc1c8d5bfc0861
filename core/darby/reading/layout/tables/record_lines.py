"""Lines that open the sheet of a room: its number, its name and how large it is, `G01  WAITING   Area 38 m2   Height 3000`; and those that
open the record of a mark.

A document has several of them, with the same things behind the name of each, and each stands over lines of its own.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from darby.reading.layout.tables.cells import L, Line, narrow
from darby.reading.layout.tables.heads import DWELLINGS, HOLDERS, Means

_APART = r"(?:\s{2,}|\t\s*|\s?[|,;(]\s{0,4}|\s[–—-]\s)"
_MEASURE = (
    r"(?:[A-Za-z][A-Za-z.]{0,12}(?: [A-Za-z.]{1,12}){0,2}\s?[:=]?\s{0,6})?"
    r"(?:[0-9]{1,3}'[- ]?[0-9]{1,2}\"?|[0-9]{1,5}(?:[.,'][0-9]{1,3})?[\"']?)(?:\s?[xX×]\s?[0-9]{1,5}(?:[.,'][0-9]{1,3})?[\"']?){0,2}"
    r"\s?(?:m2|m²|sq\.? ?(?:m|ft)\.?|sqm|sf|mm|cm|m|ft|in)?(?:\s(?:high|wide|long))?\)?"
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


_BESIDE = r"(?:\s{2,}|\t\s*|\s?[|,;/:]\s{0,4}|\s[–—-]\s{1,4})"
_SHEET = re.compile(
    rf"(?:(?:(?P<noun>[A-Za-z]{{2,9}})\.?\s(?:[Nn]o\.?\s)?)?(?P<code>[A-Z]{{0,4}}[-.]?[0-9]{{1,4}}(?:[.-][0-9]{{1,3}})?[A-Za-z]?)(?P<sign>{_BESIDE}|\.?\s{{1,8}}))?"
    rf"(?P<name>{_CALLED})(?P<size>(?:{_APART}{_MEASURE}|\s{{0,4}}\((?i:see|refer|ref|drg|dwg|drawing)\b[^()]{{0,60}}\)){{0,4}})$"
)
"""The name of a place with what numbers its sheet before it, or how large it is behind it."""
_HOLDS = re.compile(HOLDERS, re.IGNORECASE)


def sheet_lines(lines: Sequence[Line], means: Means) -> Iterator[tuple[int, re.Match[str]]]:
    """Lines that name a place with a number or a size, `SHEET 2   ABLUTIONS   24 m2`, `Foyer, 21 m2`: where several of one shape stand over
    lines of their own, and these say something of surfaces, or the language knows some of the names."""
    found: dict[tuple[str, ...], list[tuple[int, re.Match[str], bool]]] = {}
    for n, (above, line, below) in enumerate(zip((None, *lines), lines, lines[1:], strict=False)):
        opens = above is None or line.blank_before or above.text.endswith(_ENDS) or _LABELLED.match(above.text)
        if not opens or line.style or len(line.text) > _LONGEST or (below.blank_before and below.indent <= line.indent):
            continue
        match = _SHEET.fullmatch(line.shape)
        if match is None:
            continue
        label = _LABELLED.match(below.text)
        surfaced = label is not None and "surface" in means(label[0].rstrip(": "))
        coded = surfaced and (match["code"] or "1")[0].isalpha()  # `RDS-01  FOYER`
        if not (match["noun"] or match["size"] or coded or (match["sign"] or "").strip() in ("/", "|")):
            continue
        noun, said = (match["noun"] or "").lower(), means(line.text[slice(*match.span("name"))])
        # the number of a block or a flat, and that of `Room 11`, is a part of the name
        holds = _HOLDS.fullmatch(noun) or DWELLINGS.fullmatch(noun)
        if holds or means(noun) or said - {"place", "places"}:
            continue
        shape = (noun, re.sub(r"[0-9]+", "#", match["code"] or ""), _shape(match["size"]))
        found.setdefault(shape, []).append((n, match, surfaced or "place" in said))
    for some in found.values():
        names = {match["name"] for _, match, _ in some}
        if len(names) >= _FEWEST and _SHARE * sum(told for *_, told in some) >= len(some):
            yield from ((n, match) for n, match, _ in some)


_SHARE = 3
"""Of so many such lines one at least is known to be of a place."""
_SIDE = r"[0-9]{1,5}(?:[.,][0-9]{1,3})?(?:\s?(?:'|’|′|ft\.?)(?:[ -]?[0-9]{1,2}(?:[ -]?[0-9]/[0-9]{1,2})?\s?(?:\"|”|″|in\.?)?)?|\s?(?:mm|cm|m)\b)?"
_SIZED = re.compile(
    rf"(?P<name>[A-Z][^\s:;|]*(?: [^\s:;|]+){{0,5}}?)(?P<size>\s{{0,40}}(?:(?P<label>:|\s[–—-])\s|[ (,])\s{{0,4}}{_SIDE}(?:\s?[xX×]\s?{_SIDE}){{1,2}}(?![0-9])\)?(?:\s?[,(][^:;]{{1,24}})?)$"
)
"""The name of a place and how long, wide and high it is."""
_GOODS = frozenset({"product", "type", "measure", "unit", "mark", "sheen"})
Part = tuple[int, int, str]
"""Where a part of a line begins and ends in the view, and why it says nothing of goods."""


def tell_records(lines: Sequence[L], means: Means, says: Callable[[L], bool]) -> Iterator[Part]:
    """Take numbers and sizes off the names of places, where these stand over lines of their own; `says` tells whether a line opens with a
    label or the sign of a list."""
    for number in coded_lines(lines, means):
        lines[number].kind, lines[number].blank_before = "heading", True
    for number, match in (*room_lines(lines, means), *sheet_lines(lines, means)):
        if lines[number].text == match.string or lines[number].shape == match.string:
            yield from _named_alone(lines[number], match)
    for number, match in list(record_lines(lines)):
        if not means(match["name"]) & _GOODS:
            yield from _named_alone(lines[number], match)
    sized = [
        (line, found, below.indent > line.indent or says(below))
        for line, below in pairwise(lines)
        if len(line.text) < _LONGEST and not (below.blank_before and below.indent <= line.indent)
        and (found := _SIZED.match(line.text)) is not None
    ]  # fmt: skip
    for line, found, heads in sized:
        known = means(found["name"])
        if not (heads or len(sized) >= _FEWEST) or known & _GOODS or (found["label"] and "place" not in known):
            continue  # `Sheet: 1200 x 3600` is a label and its value
        size = found.start("size")
        yield line.start + size, line.end, "the size of a place"
        narrow(line, 0, size)


def _named_alone(line: Line, match: re.Match[str]) -> Iterator[Part]:
    """Make a line the heading of what stands below it; where a number or a size was told, of its name alone."""
    line.kind, line.blank_before = "heading", True
    told = match.groupdict()
    number = "the number of a heading" if told.get("noun") else "the number of a room"
    for part, why in (("code", number), ("size", "the size of a place")):
        if told.get(part):
            yield line.start + match.start(part), line.start + match.end(part), why
    if told.get("code") or told.get("size"):
        line.label = told.get("code") or ""
        narrow(line, *match.span("name"))
