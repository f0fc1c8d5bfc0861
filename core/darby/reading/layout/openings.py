"""Lines that open something: a section of a project manual, and lists of such lines (contents, related sections); a numbered clause; a
system by its mark."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from attrs import define, field

from darby.reading.layout.lines import LABEL, Line, breaks_off, leads_on
from darby.reading.layout.tables.cells import narrow

_SIX = r"[0-9]{2}[ .][0-9O]{2}[ .][0-9O]{2}(?:[ .][0-9]{2})?(?:\.[0-9A-Z]{1,4})?|[0-9]{6}(?:\.[0-9]{2})?"
_NUMBER = rf"(?:{_SIX}|[01][0-9]{{4}}|[A-Z][0-9]{{2}}|0[0-9]{{3}})(?![0-9A-Za-z])"
_PARTED = r"\s*(?:[-–—:.]\s*|\s)"
_NAMED = re.compile(
    rf"(?:#{{1,6}}\s+)?(?:SECTION|Section)\s*(?:NO\.?|No\.?|:|#|-)?\s*(?P<number>{_NUMBER})(?:{_PARTED}(?P<title>\S.{{0,90}}))?$"
)
_BARE = re.compile(rf"(?:#{{1,6}}\s+)?(?P<number>{_NUMBER}){_PARTED}(?P<title>[\"“]?[A-Za-z].{{2,90}})$")
_DIVISION = re.compile(
    rf"(?:#{{1,6}}\s+)?DIVISION\s+(?P<number>[0-9]{{1,2}})(?:{_PARTED}(?P<title>[A-Za-z].{{0,90}})?)?$", re.IGNORECASE
)
_HEAD = re.compile(rf"DIVISION\s+[0-9]{{1,2}}\b.{{0,90}}?(?P<number>{_SIX})\s+(?P<title>[A-Z][^0-9]{{2,90}})$")
"""A running head: the division, perhaps the section above, then the section: the last number is its own."""
_CONTENTS = re.compile(
    r"(?:#{1,6}\s+)?(?:(?:TABLE\s+OF\s+|LIST\s+OF\s+)?CONTENTS|LIST\s+OF\s+SECTIONS|INDEX)\b.{0,20}$", re.IGNORECASE
)
_PAGE_AT_END = re.compile(
    r"\s*(?:[-–.\s]{1,80}|\bpage\s+)(?:[0-9 ]{0,12}[-–]\s?)?(?:[0-9]{1,4}|[ivxl]{1,6})(?:\s+(?:of|pages?)\s*[0-9]{0,4})?$",
    re.IGNORECASE,
)
_LEADS_TO_PAGE = re.compile(
    r"\S.{0,90}?\s?(?:\.{3,}|(?:\. ){3,}|…)\s?(?:[0-9]{1,4}|[ivxl]{1,6}|[A-Z0-9 ]{1,10}-[0-9]{1,3})$"
)
_BEGINS = re.compile(
    r"(?:#{1,6}\s+)?(?:PART\s+(?:[0-9]|ONE|I)|1\.?\s+GENERAL|1\.0?[0-9]?\s|GENERAL$|SCOPE|[0-9]{3}[A-Z]?\s+[A-Z])",
    re.IGNORECASE,
)
END = re.compile(r"[*\s<(\[-]{0,6}END\s+OF\s+(?:THIS\s+|THE\s+)?SECTION\b.{0,40}$", re.IGNORECASE)
FIRST_PART = re.compile(r"(?:#{1,6}\s+)?PART\s+(?:1|I|ONE)\b", re.IGNORECASE)
_WITHIN = 8
"""Lines below a bare number and title within which its section has to begin."""
_SENTENCE = re.compile(r"[.;:!?]$|[.;:]\s|\s(?:shall|is|are|will|for|see)\s")
_COLUMNS = re.compile(r"\S(?:\s{2,}|\t)\S")
_LISTED = 3
"""Numbers and titles one below the other that make a list of sections."""


@define(eq=False)
class Opening:
    """A line that may open a section."""

    at: int
    number: str
    title: str
    sure: bool
    """Whether its form alone says so."""
    skip: int
    """Where its title begins."""
    division: bool = False
    head: bool = False
    page: bool = False
    """Whether a page's number stands at its end, as in running heads."""
    listed: bool = field(default=False)


def digits(number: str) -> str:
    """A section's number without what parts its digits, the noughts at its end gone: `09 90 00` is the start of `09 91 23`."""
    plain = re.sub(r"[ .]", "", number).replace("O", "0")
    return (re.sub(r"(?:00)+$", "", plain) or plain) if len(plain) >= 6 else plain


def openings(lines: Sequence[Line]) -> Iterator[Opening]:
    """Every line that may open a section, in order."""
    for at, line in enumerate(lines):
        if line.shape[:1] in "SD0123456789#" or line.shape[1:3].isdigit():
            opening = _opening(lines, at)
            if opening is not None:
                yield opening
                continue
        if at + 1 < len(lines) and FIRST_PART.match(lines[at + 1].shape) and _is_title(line):
            yield Opening(at, "", line.shape, False, 0)


def _is_title(line: Line) -> bool:
    return (
        line.blank_before and line.shape.isupper() and len(line.shape) < 80 and not re.search(r"[0-9.:;]", line.shape)
    )


def _opening(lines: Sequence[Line], at: int) -> Opening | None:
    line = lines[at]
    shape = line.shape
    if not line.blank_before and at and leads_on(lines[at - 1]):
        return None  # `.. floors,` / `Section 09 67 00`
    apart = line.blank_before or not at or END.match(lines[at - 1].shape) is not None
    turned = (
        not line.flat or lines[at - 1].text[-1:] in ".0123456789"
    )  # where capitals tell nothing: behind a sentence, a page
    named = apart or (line.text.startswith("SECTION") and turned)
    for form, sure in ((_NAMED, named), (_HEAD, True), (_DIVISION, line.blank_before), (_BARE, False)):
        found = form.match(shape)
        if found is None:
            continue
        number, title, begin = found["number"], found["title"] or "", found.start("title")
        if form is _HEAD:
            last = list(re.finditer(_SIX, shape))[-1]
            number, title = last[0], shape[last.end() :]
        page, title = _PAGE_AT_END.search(title) is not None, _plain_title(title)
        if (
            _SENTENCE.search(title)
            or _COLUMNS.search(title)
            or (title and not title[0].isalpha())
            or title[:1].islower()
        ):
            return None
        if form is _DIVISION:
            number = number.zfill(2)
        skip = begin if begin >= 0 else len(shape)
        return Opening(at, number, title, sure, skip, division=form is _DIVISION, head=form is _HEAD, page=page)
    return None


def _plain_title(title: str) -> str:
    """A title without quotes and without the page behind it."""
    return _PAGE_AT_END.sub("", title.strip()).strip(' "“”-–—.')


def tell_lists(lines: Sequence[Line], openings: Mapping[int, Opening]) -> None:
    """Set apart runs of numbers and titles: a table of contents, related sections."""
    run: list[Opening] = []
    for at in range(len(lines) + 1):
        opening = openings.get(at)
        if opening is not None and opening.number and not opening.head:
            run.append(opening)
            continue
        if len(run) > 1 and (begins_below(lines, run[-1].at) or (run[-1].sure and not run[-2].sure)):
            run.pop()  # the last one opens the section that begins here
        titled = [one for one in run if one.title and not one.division]
        if len(titled) >= _LISTED or (len(titled) == len(run) == 2 and not run[0].sure):
            for one in run:
                one.listed = True
                set_apart_as(lines[one.at], "a list of sections")
        run = []


def tell_contents(lines: Sequence[Line]) -> None:
    """Set apart lines that lead to a page, below a heading that says so, or where there are many."""
    run: list[int] = []
    headed = False
    for at, line in enumerate([*lines, None]):
        if line is not None and line.kind == "apart":
            continue
        if line is not None and _LEADS_TO_PAGE.match(line.text):
            run.append(at)
            continue
        if line is not None and run and len(line.text) < 40 and not re.search(r"[0-9]", line.text):
            continue  # a heading between them
        pages = [int(found[0]) for n in run if (found := re.search(r"[0-9]{1,4}$", lines[n].text))]
        if len(run) >= (_LISTED if headed else 2 * _LISTED) and pages == sorted(pages):
            for n in run:
                set_apart_as(lines[n], "a table of contents")
        run = []
        headed = line is not None and (bool(_CONTENTS.match(line.shape)) or (headed and len(line.text) < 40))


def begins_below(lines: Sequence[Line], at: int) -> bool:
    """Whether a section begins soon below a line: its first part, or its first paragraph with a number."""
    if not lines[at].blank_before:
        return False
    below = lines[at + 1 : at + 1 + _WITHIN]
    return any(_BEGINS.match(line.shape) for line in below if line.kind != "apart")


def title_below(lines: Sequence[Line], at: int, openings: Mapping[int, Opening]) -> str:
    """The title on the line, or two, below a number that stands alone."""
    said: list[str] = []
    for n in range(at + 1, min(at + 3, len(lines))):
        text = re.sub(r"^#{1,6}\s+", "", lines[n].shape).strip()
        heads = n in openings or _BEGINS.match(text) or _SENTENCE.search(text) or len(text) > 80 or text[:1].isdigit()
        if heads or (said and not (lines[n].shape.isupper() and not lines[n].blank_before)):
            break
        said.append(text.strip('"“”- '))
    return " ".join(said)


def set_apart_as(line: Line, why: str = "a page header or footer") -> None:
    """Make a line no part of what the document says."""
    line.kind, line.why = "apart", why


_FEW = 2
"""Numbers below which lines hang that show how a document is numbered."""


def numbers_clauses(lines: list[Line]) -> bool:
    """Whether numbers of three digits head what hangs below them: `115  Lobby`, and further in, where its first word begins, `Walls ..`."""
    hung = 0
    for line, below in pairwise(lines):
        found = LABEL.match(line.shape)
        if found is None or found.lastgroup != "clause" or "  " in line.text[found.end() :]:
            continue
        below_it = below.indent == line.indent + found.end() and not below.blank_before and "  " not in below.text
        hung += below_it and (below.shape[:1].isupper() or LABEL.match(below.shape) is not None)
    return hung >= _FEW


_COUNTED = re.compile(r"(?P<clause>[0-9]{2}[05][A-Z]?)\s(?=[A-Z]{2})")
_LEAST = 3
"""Clauses that show that their numbers count them."""


def counted_clauses(lines: Sequence[Line]) -> Mapping[int, re.Match[str]]:
    """The lines that open with the number of a clause and one blank, `110 CORES`, `120A FACES to halls`: where all such numbers of a text
    are of three digits, count up in fives or tens, and begin anew at most for a further section. Rooms are numbered one by one."""
    found = {n: m for n, line in enumerate(lines) if (m := _COUNTED.match(line.text)) and "  " not in line.text}
    others = any(_ODD.match(line.text) for line in lines)
    anew = sum(a["clause"] >= b["clause"] for a, b in pairwise(found.values()))
    return found if len(found) >= _LEAST and not others and anew < len(found) / _LEAST else {}


_ODD = re.compile(r"[0-9]{2}[1-46-9][A-Z]?\s(?=[A-Z]{2})")


_GIVEN = re.compile(
    r"(?:[:|,;/(]\s?|\s{2,}|\t)(?P<letter>[A-Z])\.[0-9]{1,2}(?=[,;/).|]|\s{2,}|\s?\t|\s[|/,&]|\s(?:on|in|at|to|and)\b|$)"
)
"""A letter and a number that stand in a cell, a list or behind a label, as no number of a paragraph does."""


def given_letters(lines: Sequence[Line]) -> frozenset[str]:
    """The letters of codes such as `F.1` that are given to something, and so number no paragraph that they open."""
    return frozenset(m["letter"] for line in lines for m in _GIVEN.finditer(line.text))


COUNTS = re.compile(r"[0-9]|(?<![a-z-])(?:one|two|three|four|five|six)\s", re.IGNORECASE)
"""How many of something, in a line that is no name then."""
_CALLED = re.compile(
    r"(?:(?:[A-Z][A-Za-z]{2,11}\s)?(?i:type|system)(?:\s(?i:no\.?|number))?\s(?P<number>[A-Z]|[0-9]{1,2}[A-Z]?)|"
    r"(?P<stem>[A-Z]{1,4}[-. ]?)[0-9]{1,5}[A-Za-z]?|(?P<letters>[A-Z]{1,3}-)[A-Z]{1,2})"
    r"(?:\s?[:=–—-]\s|\s{1,20})\(?(?=[A-Za-z])(?P<words>[^0-9:;=|]{3,70}?)(?P<ratings>(?:\s{2,}[^\s|][^|]{0,30}?){0,3})"
)
"""The mark of a system and what it goes on, or is, in a few words: `PT-1 - Plaster walls`; apart from them how it is rated: `1-HR   STC 55`."""


def _tell_called(lines: Sequence[Line]) -> None:
    """Marks and what they are for, over the lines that say what each takes: headings, where two of one sort stand over such lines."""
    found: list[tuple[Line, str]] = []
    for line, below in pairwise(lines):
        mark = _CALLED.fullmatch(line.text)
        if mark is None or line.style or line.kind == "apart" or below.blank_before:
            continue
        ended = line.text.endswith((".", ";", "!", "?", ",")) or COUNTS.search(mark["words"]) or "  " in mark["words"]
        over = below.kind == "text" and not (_CALLED.match(below.text) or breaks_off(line, below))
        over = over and (not mark["ratings"] or below.indent > line.indent)
        if over and not ended and (below.style or not below.shape[0].islower()):
            found.append((line, mark["stem"] or mark["letters"] or "number"))
    often = Counter(stem for _, stem in found)
    for line, stem in found:
        if often[stem] > 1:
            line.kind, line.blank_before = "heading", True


_RECORDED = re.compile(
    r"(?i:(?:[a-z]{3,10}\s)?(?:system|mark|code|tag|type)(?:\s(?:no\.?|code|mark))?)(?:\s?\.{3,}\s?|\s{2,}|\s?\t\s?)"
    r"(?P<code>(?P<stem>[A-Z]{1,4}[-. ]?)[0-9]{1,3}[A-Za-z]?|(?P<letters>[A-Z]{1,3}-)[A-Z]{1,2})"
)
"""What names a record by its mark, in two columns: `System     PT-1`."""


def _tell_recorded(lines: Sequence[Line]) -> None:
    """Marks behind a word for them, each over its own labels and values in two columns: headings, where there are several of one sort."""
    named = [
        (line, m) for line, below in pairwise(lines) if not below.blank_before and (m := _RECORDED.fullmatch(line.text))
    ]
    often = Counter(m["stem"] or m["letters"] for _, m in named)
    for line, m in named:
        if often[m["stem"] or m["letters"]] > 1 and not line.style:
            narrow(line, *m.span("code"))
            line.kind, line.blank_before = "heading", True


def tell_systems(lines: Sequence[Line]) -> None:
    """Have marks head the lines that say what their systems are."""
    _tell_called(lines)
    _tell_recorded(lines)
