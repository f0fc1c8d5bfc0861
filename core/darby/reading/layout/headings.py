"""Labels, headings and titles: which lines open something, and what list or heading each belongs to."""

from __future__ import annotations

import re
from itertools import pairwise

from darby.reading.layout.clause import Apart
from darby.reading.layout.lines import LABEL, SENTENCE_END, Line, breaks_off, labelled_heading, leads_on, lettered
from darby.reading.layout.openings import counted_clauses, given_letters, numbers_clauses
from darby.reading.layout.outline import states_amount
from darby.reading.layout.questions import ASKED, paired_questions
from darby.reading.layout.tables.cells import GAP, is_rule, listed, narrow, spread_out
from darby.text.spans import View

_BANNER = re.compile(r"([*_=~-])\1{2,9}\s+(?=\S)(?P<words>.{1,70}\S)\s+\1{3,10}$")
"""A line between dashes, `--- from the painter ---`: what follows comes from elsewhere."""
_WITH_REMARK = re.compile(r"[A-Z][A-Z &/,-]{2,40} \([^()]{1,120}\):?")
"""A heading in capitals and a remark in brackets, however long: `FLOORS (halls only. The rest is by others)`."""
_SMALL_REMARK = re.compile(r"[A-Z &/,-]{3,41}\([^()]*[a-z]")
"""The same in a document that has capitals for everything else."""
_CHAPTER = re.compile(r"(?P<label>[0-9]{1,2})\s{2,}(?=[A-Z][A-Za-z]*(?:[ ,&/-]{1,2}[A-Za-z]+){0,5}$)")
"""The number of a chapter, set apart from its title: `2   Linings`."""
_MARKED = re.compile(r"[A-Z]{1,3}-?[0-9]{1,3}\s{0,2}[-–:]\s")
"""A mark that opens the heading of one system among several: `P3 - CEILINGS`."""
_COUNTS = re.compile(r"(?<![A-Za-z-])(?:one|two|three|four|five|six)\s+[a-z]", re.IGNORECASE)
"""How many of something: what a line says that is no title, though it has no digit."""
_LONG = 70
"""Letters in a line that can only be full: what stands below it goes on with it."""
_LIST = 40
"""Lines within which the number before one has to stand."""
_ITEMS = 8
"""Lines within which the next item of such a list stands."""
_CODE = re.compile(r"(?P<stem>[A-Z]{1,4})[-. ]?[0-9]{1,3}[A-Za-z]?")
_LEADING = re.compile(r"(?P<mark>[A-Z]{1,4}-?[0-9]{1,3}[A-Za-z]?)\s{1,20}(?=\S)")
_BELOW = 12
"""Lines within which the next code of a legend stands."""
_BROKEN = 40
"""Letters in a line of a title that goes on in the next."""
_BROKEN_TITLE = re.compile(r"[A-Z][A-Za-z'’®™-]*(?:,? (?:[A-Z][A-Za-z'’®™-]*|&|and|or|of|for|with|the|in|on)){1,6}")
_CLASSED = re.compile(r"\A[A-Z][0-9]{3,5}(?:\.[0-9]{1,2})?\s+(?=[A-Z])")
"""The number of a class of works before the title of what belongs to it: `C3010 Wall finishes`."""
_HEADING_LABELS = ("part", "hash", "clause")


def label_lines(lines: list[Line], view: View, apart: list[Apart]) -> None:
    """Take the labels off the lines that have one, and tell headings from running text."""
    pairs, numbered, counted = paired_questions(lines), numbers_clauses(lines), counted_clauses(lines)
    given = given_letters(lines)
    for number, line in enumerate(lines):
        match = None if lettered(lines, number) else LABEL.match(line.shape + " ")
        match = None if match is not None and match["decimal"] and match[0][0] in given else match
        match = match or _item(lines, number) or counted.get(number)
        asked = ASKED.match(line.shape) if pairs else None
        match = asked if asked is not None and asked["number"] in pairs else match
        rest = line.shape[match.end() :] if match else ""
        row = (len(GAP.findall(rest)) > 1 and not spread_out(rest)) or (number > 0 and _like(lines[number - 1], line))
        clause = match is not None and match.lastgroup == "clause"
        headed = number in counted or (clause and numbered and not GAP.search(rest))
        if match and match is not asked and not headed and (row or (clause and not rest.isupper())):
            match = None  # a row of a table whose key is a number
        if line.opens >= 0:
            line.style, line.kind, line.label = "part", "heading", line.text[: line.opens].strip(" -–—:.#")
            apart.append(Apart(view.span(line.start, line.start + line.opens), "the number of a section"))
            line.start += line.opens
            line.text, line.shape = line.text[line.opens :], line.shape[line.opens :]
        elif banner := _BANNER.match(line.text):
            narrow(line, *banner.span("words"))
            line.style, line.kind = "part", "heading"
        elif chapter := lettered(lines, number) or (_CHAPTER.match(line.shape) if line.blank_before else None):
            apart.append(Apart(view.span(line.start, line.start + len(chapter["label"])), "the number of a paragraph"))
            style = "decimal" if lettered(lines, number) and chapter["label"].isdigit() else "clause"
            line.label, line.style, line.kind = chapter["label"], style, "heading"
            narrow(line, chapter.end(), len(line.text))
        elif match and not (match.lastgroup == "whole" and _is_quantity(line, match.end(), number, lines)):
            line.style = match.lastgroup or ""
            line.label = match["label" if match is asked else line.style].strip()
            line.style = "asked" if match is asked else line.style
            apart.append(Apart(view.span(line.start, line.start + len(match[0].rstrip())), "the number of a paragraph"))
            skip = min(match.end(), len(line.text))
            line.start += skip
            line.text, line.shape = line.text[skip:].strip(), line.shape[skip:].strip()
            heads = line.style in _HEADING_LABELS and not (number in counted and ": " in line.text)
            heads = heads and not line.text.endswith(".")
            line.kind = "heading" if heads or labelled_heading(line) else "text"
        elif number == 0 and line.kind != "heading" and _is_title(lines) and not _heads_columns(lines):
            for other in (line, *_more_title(lines)):
                other.kind = "title"
        elif line.kind != "title" and _is_heading(lines, number):
            line.kind = "heading"


_ITEM = re.compile(r"(?P<lower>\((?P<letter>[a-z])\))\s+(?=[a-z])")
"""An item of a list in small letters: `(a) one coat`. It opens one only beside the item before or behind it."""


def _item(lines: list[Line], number: int) -> re.Match[str] | None:
    line = lines[number]
    found = _ITEM.match(line.text + " ")
    if found is None:
        return None
    letter = ord(found["letter"])
    first = letter == ord("a")
    near = lines[number + 1 : number + _ITEMS] if first else lines[max(0, number - _ITEMS) : number]
    other = f"({chr(letter + 1 if first else letter - 1)})"
    beside = any(o.indent == line.indent and (o.text.startswith(other) or o.label == other) for o in near)
    return found if beside else None


def _like(above: Line, line: Line) -> bool:
    """Whether a line is a row like the one above it, which has three cells or more: its first gaps end where they do there."""
    ends, own = ([m.end() + row.indent for m in GAP.finditer(row.text)][:2] for row in (above, line))
    return not above.style and len(ends) == 2 and len(own) > 0 and own == ends[: len(own)]


def tell_notes(lines: list[Line]) -> None:
    """Notes jotted down one to a line: a block whose lines all begin small and mostly end before the next word had to.

    Where all letters are of one size only the lines' ends tell.
    """
    first = 0
    for number in range(1, len(lines) + 1):
        if number < len(lines) and not lines[number].blank_before and lines[number].kind == "text":
            continue
        block = lines[first + (lines[first].kind != "text") : number]
        width = max((len(line.text) for line in block), default=0)
        early = [len(one.text) + 1 + len(next_.text.partition(" ")[0]) <= width for one, next_ in pairwise(block)]
        small = bool(block) and all((line.flat or line.text[:1].islower()) and not line.style for line in block)
        small = small and not (block[0].flat and any(breaks_off(*two) for two in pairwise(block)))
        if small and 0 < len(early) <= 2 * sum(early):
            for line in block:
                line.alone = True
        first = number


def _heads_columns(lines: list[Line]) -> bool:
    """Whether the first line is the head of a table that opens the text: the line right below has as many columns."""
    below = next((line for line in lines[1:3] if not is_rule(line.text)), None)
    if below is None or lines[1].blank_before or below.blank_before:
        return False
    first, second = (line.text.count("|") or len(GAP.findall(line.text)) for line in (lines[0], below))
    keyless = lines[0].indent > below.indent and second == first + 1 and (first > 1 or _stand_over(lines[0], below))
    least = 1 if "\t" in lines[0].text else 2  # a tab leaves no doubt that there are columns
    short = first > least and second == first - 1  # a row that leaves one cell out
    over = ("\t" in lines[0].text and "\t" in below.text) or _stand_over(lines[0], below)
    wider = lines[0].indent > below.indent and 0 < first < second and over
    even = 0 < first == second or "" != listed(lines[0].text) == listed(lines[1].text)
    return even or keyless or wider or short


def _stand_over(above: Line, below: Line) -> bool:
    """Whether every word group of a line begins where one does in the line below: `        OFFICE    STORE`."""
    starts = [{line.indent, *(line.indent + m.end() for m in GAP.finditer(line.text))} for line in (above, below)]
    return len(starts[0]) > 1 and starts[0] <= starts[1]


def _is_title(lines: list[Line]) -> bool:
    """Whether the first line names the document: no sentence, or the first line of one, no label and value."""
    left, *cells = [lines[0].shape] if spread_out(lines[0].text) else GAP.split(lines[0].shape)
    if cells and _coded(left) and any(_coded(GAP.split(line.shape)[0]) == _coded(left) for line in lines[1:_BELOW]):
        return False  # the first row of a legend
    if cells and cells[-1][:1].islower() and cells[-1].endswith("."):
        return False  # a justified sentence, whose blanks are wide
    if len(lines) > 1 and breaks_off(lines[0], lines[1]):
        return False
    return (
        len(left) < 90
        and not _MARKED.match(left)
        and not _COUNTS.search(left)
        and "..." not in left
        and ":" not in left
        and not left[:1].islower()
        and not left.endswith((".", ";", "]"))
        and (left.isupper() or not re.search(r"[0-9]", left))
    )


def _coded(text: str) -> str:
    """The letters of a code, where a text is nothing else: `PT` of `PT-2`."""
    found = _CODE.fullmatch(text)
    return found["stem"] if found else ""


def _more_title(lines: list[Line]) -> list[Line]:
    """Further short lines of a title that was broken: words in capitals, or beginning with one, and nothing else."""
    more: list[Line] = []
    if len(lines[0].text) < _BROKEN:
        for line in lines[1:4]:
            plain = (
                _BROKEN_TITLE.fullmatch(line.text) and len(line.text) < _BROKEN and not LABEL.match(line.shape + " ")
            )
            alike = line.text.isupper() == lines[0].text.isupper() or " " not in lines[0].text  # a brand by itself
            if line.blank_before or not plain or not alike:
                break
            more.append(line)
    return more


def _is_quantity(line: Line, end: int, number: int, lines: list[Line]) -> bool:
    """Whether `12.` at the start of a line ends a wrapped sentence instead of opening a paragraph."""
    before = lines[number - 1] if number and not line.blank_before else None
    if before is None or before.text.endswith(SENTENCE_END):
        return False
    if not line.text[end:] or line.shape[end].islower() or leads_on(before):
        return True
    figure = re.match(r"[0-9]{1,3}", line.text)
    counted = {f"{int(figure[0]) - 1}." if figure else "", f"{int(figure[0]) - 1})" if figure else ""}
    follows = any(above.label in counted for above in lines[max(0, number - _LIST) : number])
    return len(before.text) > _LONG and not follows and line.text[:end].strip() != "1."


def _is_heading(lines: list[Line], number: int) -> bool:
    line, text = lines[number], lines[number].shape
    if _heads_block(lines, number):
        return True
    if _in_legend(lines, number) or _heads_rows(lines, number):
        return False
    remark = _WITH_REMARK.fullmatch(text) if line.blank_before or _between_items(lines, number) else None
    if remark is not None and (not line.flat or _SMALL_REMARK.match(line.text)):
        return True
    if (
        len(text) > 80
        or text.endswith((".", ",", ";", ":", "-"))
        or re.search(r"\s{3,}|\|", text)
        or not re.search(r"[A-Za-z]{3}", text)
    ):
        return False
    before, after = lines[number - 1] if number else None, lines[number + 1] if number + 1 < len(lines) else None
    if (before is not None and before.text.endswith("-")) or (after is not None and breaks_off(line, after)):
        return False
    if text.isupper() and not line.flat:
        return not states_amount(text) and (
            before is None
            or line.blank_before
            or before.kind != "text"
            or len(before.text) < 50
            or before.text.endswith(SENTENCE_END)
        )
    marked = line.flat and line.blank_before and _MARKED.match(text) and not _COUNTS.search(text)
    if marked and after is not None and not after.blank_before:
        return True
    if (
        len(text.split()) > 5
        or _COUNTS.search(text)
        or re.search(r"[0-9\"]|:\s[a-z]", _CLASSED.sub("", text))
        or not text[0].isupper()
        or after is None
        or after.kind == "heading"
    ):
        return False
    if after.indent > line.indent:
        return line.blank_before or before is None or before.indent > line.indent or before.text.endswith(SENTENCE_END)
    return line.blank_before and not after.blank_before and after.shape[:1].isupper()


def _between_items(lines: list[Line], number: int) -> bool:
    """Whether a line stands right between the end of a sentence and a numbered item."""
    ended = number > 0 and lines[number - 1].text.endswith(SENTENCE_END)
    return ended and number + 1 < len(lines) and LABEL.match(lines[number + 1].shape) is not None


def _heads_rows(lines: list[Line], number: int) -> bool:
    """Whether a line with gaps of two blanks stands right over another that has as many: the head of a table."""
    below = lines[number + 1] if number + 1 < len(lines) else None
    if below is None or below.blank_before or "  " not in lines[number].text:
        return False
    gaps, under = (GAP.findall(line.text) for line in (lines[number], below))
    return len(gaps) == len(under) > 1 and not spread_out(lines[number].text)


def _in_legend(lines: list[Line], number: int) -> bool:
    """Whether a line opens with a code as the one right above or below it does: `PT-1  EGGSHELL, TWO COATS`."""
    own = _LEADING.match(lines[number].text)
    if own is None:
        return False
    above = lines[number - 1] if number and not lines[number].blank_before else None
    below = lines[number + 1] if number + 1 < len(lines) and not lines[number + 1].blank_before else None
    if below is None and _COUNTS.search(lines[number].text):
        return True  # it says how many, and nothing stands below it
    near = [found for line in (above, below) if line is not None and (found := _LEADING.match(line.text))]
    return any(_coded(one["mark"]) == _coded(own["mark"]) and one["mark"] != own["mark"] for one in near)


def _heads_block(lines: list[Line], number: int) -> bool:
    """Whether a line stands out to the left of the lines around it and its first words are in capitals: `BATH 2  8' x 5'`."""
    line, after = lines[number], lines[number + 1] if number + 1 < len(lines) else None
    before = lines[number - 1] if number and not line.blank_before else None
    if line.flat or after is None or after.blank_before or after.indent <= line.indent:
        return False
    if before is not None and before.indent <= line.indent:
        return False
    if after.indent in {line.indent + gap.end() for gap in GAP.finditer(line.text)}:
        return False  # a cell that goes on below its own beginning
    name = GAP.split(line.text)[0]
    return name.isupper() and len(name) < 60 and not line.text.endswith(SENTENCE_END) and "|" not in line.text
