"""Lines of a document: what each is (heading, label, running text), and which are no part of what it says."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from attrs import define

from darby.reading.layout.clause import Apart
from darby.text.spans import View

_LABEL = re.compile(
    r"(?P<part>PART\s+[0-9]{1,2}|SECTION\s+[0-9][0-9O .]{0,12}[0-9O])(?:\s*[-–:]\s*|\s+|$)"
    r"|(?P<clause>[0-9]{3}|[0-9]{2}\s[0-9]{2}\s[0-9]{2})\s{2,}(?=[A-Z])"
    r"|(?P<decimal>[0-9]{1,3}(?:\.[0-9]{1,3}){1,5}\.?)\s+(?=[A-Z(\"'*])"
    r"|(?P<whole>[0-9]{1,3}[.)])\s+"
    r"|(?P<point>\.[0-9]{1,2})\s+"
    r"|(?P<upper>[A-Z][.)])\s+"
    r"|(?P<lower>[a-z][.)]|\([a-z0-9]{1,2}\)(?=\s+[A-Z])(?!\s+(?:LAYER|Layer|COAT|Coat|PLY|Ply|PLIES|Plies)))\s+"
    r"|(?P<hash>#{1,6})\s+"
    r"|(?P<bullet>[-–—•*▪◦·o])\s+(?=\S)"
)
_RULE = re.compile(r"\s*([*_=~-])\1{9,}\s*$")
_BANNER = re.compile(r"([*_=~-])\1{2,9}\s+(?=\S)(?P<words>.{1,70}\S)\s+\1{3,10}$")
"""A line between dashes, `--- from the painter ---`: what follows comes from elsewhere."""
_PAGE = re.compile(
    r"\bpage\s+[0-9IlOo][0-9A-Z-]{0,8}(?:\s+(?:of|0f)\s+[0-9IlOo]{1,5})?\s*$|^\s*-?\s*[0-9]{1,4}\s*-?\s*$|\bp\.\s*[0-9]{1,4}\s*$",
    re.IGNORECASE,
)
_RUNNING_TITLE = re.compile(
    r"\b(?:page|section|record|project|issue|volume|bid set|revision|draft|rev)\b.{0,60}[0-9]|[0-9].{0,60}\b(?:page|section|record|project|issue|volume|bid set|revision|draft)\b",
    re.IGNORECASE,
)
_CHAPTER = re.compile(r"(?P<label>[0-9]{1,2})\s{2,}(?=[A-Z][A-Za-z]*(?:[ ,&/-]{1,2}[A-Za-z]+){0,5}$)")
"""The number of a chapter, set apart from its title: `2   Linings`."""
GAP = re.compile(r"\s{2,}|\t")
_MARKED = re.compile(r"[A-Z]{1,3}-?[0-9]{1,3}\s{0,2}[-–:]\s")
"""A mark that opens the heading of one system among several: `P3 - CEILINGS`."""
_HEADING_LABELS = ("part", "hash", "clause")
SENTENCE_END = (".", ";", ":", "!", "?")


@define(eq=False)
class Line:
    """A line that is not empty, where its text stands in the view, and what is known about it."""

    start: int
    end: int
    text: str
    indent: int
    kind: str = "text"
    label: str = ""
    style: str = ""
    blank_before: bool = False
    alone: bool = False
    """Whether it goes on with nothing: a line of notes, one to a line."""
    why: str = ""
    before: str = ""
    """The blank before it."""


def spread_out(text: str) -> bool:
    """Whether a line is running text whose words a scanner or a justified column set apart: mostly gaps of two blanks."""
    gaps = GAP.findall(text)
    return len(gaps) > 4 and all(len(gap) == 2 for gap in gaps) and len(gaps) > len(text.split()) - len(gaps)


def split_lines(text: str) -> Iterator[Line]:
    """The lines of a text that are not empty."""
    at, blank = 0, True
    for raw in text.split("\n"):
        stripped = raw.strip()
        if stripped:
            indent = len(raw) - len(raw.lstrip())
            start = at + indent
            yield Line(start, start + len(stripped), stripped, indent, blank_before=blank, before=raw[:indent])
            blank = False
        else:
            blank = True
        at += len(raw) + 1


def set_apart(lines: list[Line], view: View) -> Iterator[Apart]:
    """Page furniture and notes to the writer of the specification; their lines become `apart`."""
    shapes = Counter(re.sub(r"[0-9]+", "#", line.text.lower()) for line in lines)
    note = False
    for number, line in enumerate(lines):
        if _RULE.match(line.text):
            if line.text[0] == "*":
                note = not note and any(_RULE.match(after.text) for after in lines[number + 1 : number + 60])
            line.kind, line.why = "apart", "a rule between paragraphs"
        elif note:
            line.kind, line.why = "apart", "a note to the writer of the specification"
        elif _furniture(lines, number, shapes) or line.kind == "apart":
            line.kind, line.why = "apart", "a page header or footer"
        else:
            for other in lines[number + 1 : number + 1 + _interruption(lines, number)]:
                other.kind = "apart"
        if line.kind == "apart":
            yield Apart(view.span(line.start, line.end), line.why)


def _furniture(lines: list[Line], number: int, shapes: Counter[str]) -> bool:
    """Whether a line is a page's header or footer: a page number alone, or a line that comes back and names the book."""
    line = lines[number]
    if len(line.text) > 120:
        return False
    after = lines[number + 1] if number + 1 < len(lines) else None
    page = _PAGE.search(line.text)
    if page:
        if line.text.strip(" -").isdigit():
            return line.blank_before or after is None or after.blank_before
        alone = page.start() == 0 or line.text[: page.start()].endswith("  ")
        return alone and not re.search(r"[.;:]\s", line.text[: page.start()])
    repeated = shapes[re.sub(r"[0-9]+", "#", line.text.lower())] > 1
    return repeated and bool(_RUNNING_TITLE.search(line.text)) and not line.text.endswith(SENTENCE_END)


def _interruption(lines: list[Line], number: int) -> int:
    """How many lines behind one stand in the middle of its sentence and name a section or a page: a page's turn."""
    line = lines[number]
    if line.text.rstrip("\"')").endswith((*SENTENCE_END, ",")):
        return 0
    for count, after in enumerate(lines[number + 1 : number + 5]):
        if after.text[:1].islower():
            between = lines[number + 1 : number + 1 + count]
            turned = any(_turns_page(other.text) for other in between)
            return (
                count if turned and not any(_LABEL.match(o.text + " ") or o.text[:1].islower() for o in between) else 0
            )
    return 0


def _turns_page(text: str) -> bool:
    if ":" in text or '"' in text:
        return False
    letters = [c for c in text if c.isalpha()]
    titled = len(letters) > 5 and sum(c.isupper() for c in letters) > 0.5 * len(letters)
    numbered = re.search(r"[0-9]{1,4}$", text) is not None
    return (titled and numbered) or re.search(r"(?<![0-9])[0-9]{2} [0-9]{2} [0-9]{2}(?![0-9])", text) is not None


def label_lines(lines: list[Line], view: View, apart: list[Apart]) -> None:
    """Take the labels off the lines that have one, and tell headings from running text."""
    capitals = sum(line.text.isupper() for line in lines) > 0.6 * len(lines)
    for number, line in enumerate(lines):
        match = _LABEL.match(line.text + " ")
        rest = line.text[match.end() :] if match else ""
        row = (len(GAP.findall(rest)) > 1 and not spread_out(rest)) or (number > 0 and _like(lines[number - 1], line))
        if match and (row or (match.lastgroup == "clause" and not rest.isupper())):
            match = None  # a row of a table whose key is a number
        if banner := _BANNER.match(line.text):
            line.start += banner.start("words")
            line.end = line.start + len(banner["words"])
            line.text, line.style, line.kind = banner["words"], "part", "heading"
        elif line.blank_before and (chapter := _CHAPTER.match(line.text)):
            apart.append(Apart(view.span(line.start, line.start + len(chapter["label"])), "the number of a paragraph"))
            line.label, line.style, line.kind = chapter["label"], "clause", "heading"
            line.start += chapter.end()
            line.text = line.text[chapter.end() :]
        elif match and not (match.lastgroup == "whole" and _is_quantity(line, match.end(), number, lines)):
            line.style = match.lastgroup or ""
            line.label = match[line.style].strip()
            apart.append(Apart(view.span(line.start, line.start + len(match[0].rstrip())), "the number of a paragraph"))
            skip = min(match.end(), len(line.text))
            line.start += skip
            line.text = line.text[skip:].strip()
            line.kind = "heading" if line.style in _HEADING_LABELS or _labelled_heading(line, capitals) else "text"
        elif number == 0 and _is_title(line) and not _heads_columns(lines):
            line.kind = "title"
        elif _is_heading(lines, number, capitals):
            line.kind = "heading"


def _like(above: Line, line: Line) -> bool:
    """Whether a line is a row like the one above it, which has three cells or more: its first gaps end where they do there."""
    ends, own = ([m.end() + row.indent for m in GAP.finditer(row.text)][:2] for row in (above, line))
    return not above.style and len(ends) == 2 and len(own) > 0 and own == ends[: len(own)]


def tell_notes(lines: list[Line]) -> None:
    """Notes jotted down one to a line: a block whose lines all begin small and mostly end before the next word had to."""
    first = 0
    for number in range(1, len(lines) + 1):
        if number < len(lines) and not lines[number].blank_before and lines[number].kind == "text":
            continue
        block = lines[first + (lines[first].kind != "text") : number]
        width = max((len(line.text) for line in block), default=0)
        early = [len(one.text) + 1 + len(next_.text.partition(" ")[0]) <= width for one, next_ in pairwise(block)]
        if all(line.text[:1].islower() and not line.style for line in block) and 0 < len(early) <= 2 * sum(early):
            for line in block:
                line.alone = True
        first = number


def _labelled_heading(line: Line, capitals: bool) -> bool:
    return (
        line.text.isupper()
        and not capitals
        and not line.text.endswith(SENTENCE_END)
        and len(line.text) < 60
        and line.style != "bullet"
    )


def _heads_columns(lines: list[Line]) -> bool:
    """Whether the first line is the head of a table that opens the text: the line right below has as many columns."""
    if len(lines) < 2 or lines[1].blank_before:
        return False
    first, second = (line.text.count("|") or len(GAP.findall(line.text)) for line in lines[:2])
    return first > 0 and first == second


def _is_title(line: Line) -> bool:
    """Whether the first line names the document: no sentence, no label and value."""
    left = GAP.split(line.text)[0]
    return (
        len(left) < 90
        and not _MARKED.match(left)
        and ":" not in left
        and not left[:1].islower()
        and not left.endswith((".", ";", "]"))
        and (left.isupper() or not re.search(r"[0-9]", left))
    )


def _is_quantity(line: Line, end: int, number: int, lines: list[Line]) -> bool:
    """Whether `12.` at the start of a line ends a wrapped sentence instead of opening a paragraph."""
    before = lines[number - 1].text if number and not line.blank_before else ""
    return bool(before) and not before.endswith(SENTENCE_END) and line.text[end : end + 1].islower()


def _is_heading(lines: list[Line], number: int, capitals: bool) -> bool:
    line = lines[number]
    text = line.text
    if (
        len(text) > 80
        or text.endswith((".", ",", ";", ":", "-"))
        or re.search(r"\s{3,}|\|", text)
        or not re.search(r"[A-Za-z]{3}", text)
    ):
        return False
    before = lines[number - 1] if number else None
    after = lines[number + 1] if number + 1 < len(lines) else None
    if before is not None and before.text.endswith("-"):
        return False
    if text.isupper() and not capitals:
        return (
            before is None
            or line.blank_before
            or before.kind != "text"
            or len(before.text) < 50
            or before.text.endswith(SENTENCE_END)
        )
    if (
        len(text.split()) > 5
        or re.search(r"[0-9\"]", text)
        or not text[0].isupper()
        or after is None
        or after.kind == "heading"
    ):
        return False
    if after.indent > line.indent:
        return line.blank_before or before is None or before.indent > line.indent or before.text.endswith(SENTENCE_END)
    return line.blank_before and not after.blank_before and after.text[:1].isupper()
