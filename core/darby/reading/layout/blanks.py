"""Blanks between words, told from gaps between columns: doubled, justified and typed blanks become single ones.

How wide a blank between words is shows where nothing else can stand: behind an article or a preposition, behind a comma,
between a number and its unit, inside a phrase of the language. That is measured for the whole document, and then line by
line.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence

from attrs import define

from darby.text.spans import View

WIDE_BLANK = "\u2003"
"""What two blanks behind a full stop become: one sign, so that they still tell a sentence's end and part no columns."""

_GAP = re.compile(r"(?<=\S) {2,200}(?=\S)")
_LABEL = re.compile(
    r"\s*(?:[A-Za-z0-9]{1,3}[.)]|\.[0-9]{1,2}|[0-9]{1,3}(?:\.[0-9]{1,3}){1,5}|\([A-Za-z0-9]{1,2}\)|[-–—•*▪◦·#]{1,6}) +"
)
_LEADS_ON = frozenset(
    "a an the of to on in at and or per with for by from as into than over under not be is are shall will must each every all no that "
    "where when which its their both least most such any this these".split()
)
"""Words behind which a line goes on with a word, and no column ends."""
_NUMBER = re.compile(r"(?:[0-9]+(?:[.,/-][0-9]+)*|[½¼¾⅛⅜⅝⅞]|one|two|three|four|five|six)", re.IGNORECASE)
_UNIT = re.compile(
    r"(?:in|inch|inches|ft|feet|mm|cm|m|m2|m²|sq|lbs?|kg|gal|gallons?|mils?|um|coats?|layers?|sheets?|x|percent)\b[.,;:)]?",
    re.IGNORECASE,
)
_MARK = re.compile(r"[A-Za-z]{1,3}-?[0-9]{1,3}(?:\.[0-9]{1,3})?")
_WORDLIKE = 4
"""Blanks between two words at most, however a line was stretched."""
_STOPS = (".", ";", ":", "!", "?")
_SOME = 6
"""Gaps that are even by no accident."""
_FEW = 50
"""One single blank in so many, and the others wider, may be a slip."""


@define(eq=False)
class _Line:
    """A line with its gaps of more than one blank, each with the words before and behind it, and how many single ones."""

    start: int
    text: str
    wide: list[tuple[int, int, str, str]]
    singles: int
    stretched: bool = False


def single_blanks(view: View, known: Callable[[str], bool]) -> View:
    """A view of a document in which words of running text stand one blank apart; columns keep their gaps.

    `known` tells whether lower-case words are a phrase of the language.
    """
    if "  " not in view.text:
        return view
    lines = list(_lines(view.text))
    width = _usual(lines, known)
    if width > 1:
        view = view.replace(
            (line.start + gap.start(), line.start + gap.end(), " " * max(1, (gap.end() - gap.start()) // width))
            for line in lines
            for gap in _GAP.finditer(line.text)
        )
        lines = list(_lines(view.text))
    _tell_stretched(lines, known)
    edits = [edit for line in lines for edit in _closed(line)] + list(_typed(lines, known))
    return view.replace(sorted(edits)) if edits else view


def closed_up(view: View) -> View:
    """A view without columns in it: every gap one blank."""
    if "  " not in view.text:
        return view
    return view.replace((m.start(), m.end(), " ") for m in _GAP.finditer(view.text))


def _lines(text: str) -> Iterator[_Line]:
    at = 0
    for line in text.split("\n"):
        wide: list[tuple[int, int, str, str]] = []
        blanks = line.strip().count(" ")
        if "  " in line:
            label = _LABEL.match(line)
            start = label.end() if label else len(line) - len(line.lstrip())
            blanks = line.rstrip().count(" ", start)
            for gap in _GAP.finditer(line, start):
                before = line[max(0, gap.start() - 30) : gap.start()].rpartition(" ")[2]
                behind = line[gap.end() : gap.end() + 30].partition(" ")[0].partition("..")[0]
                wide.append((gap.start(), gap.end(), before, behind))
                blanks -= gap.end() - gap.start()
        yield _Line(at, line, wide, max(0, blanks))
        at += len(line) + 1


def _between_words(before: str, behind: str) -> bool:
    """Whether no column can end between two words."""
    word = before.lower().lstrip("(\"'")
    if word in _LEADS_ON or before.endswith(","):
        return True
    return _NUMBER.fullmatch(word.rpartition("(")[2]) is not None and _UNIT.match(behind) is not None


def _usual(lines: Sequence[_Line], known: Callable[[str], bool]) -> int:
    """How many blanks stand between two words throughout a document: one, unless nowhere fewer stand."""
    gaps = [gap for line in lines for gap in line.wide]
    if sum(line.singles for line in lines) * _FEW > len(gaps):
        return 1
    sure = [
        high - low
        for low, high, before, behind in gaps
        if _between_words(before, behind) or _is_phrase(before, behind, known)
    ]
    wide = [high - low for low, high, _, _ in gaps]
    least = min(wide, default=1)
    doubled = len(wide) >= _SOME and least == 2 < max(wide) and not any(gap % 2 for gap in wide)
    return least if doubled or (sure and min(sure) == least) else 1


def _is_phrase(before: str, behind: str, known: Callable[[str], bool]) -> bool:
    """Whether two words are a phrase of the language: `sq. ft.`"""
    return known(f"{before} {behind}".lower().rstrip(",;:")) or known(f"{before} {behind}".lower().rstrip(".,;:"))


def _tell_stretched(lines: Sequence[_Line], known: Callable[[str], bool]) -> None:
    """Mark lines of running text whose words were set apart, and those that stand among such lines."""
    for line in lines:
        sure = any(
            _between_words(before, behind) or (behind[:1].islower() and _is_phrase(before, behind, known))
            for low, high, before, behind in line.wide
            if high - low < _WORDLIKE
        )
        line.stretched = sure and all(high - low <= _WORDLIKE for low, high, _, _ in line.wide)
    block: list[_Line] = []
    for line in [*lines, _Line(0, "", [], 0)]:
        if line.text.strip():
            block.append(line)
            continue
        told = sum(line.stretched for line in block)
        longest = max((len(line.text) for line in block), default=0)
        for other in block:
            full = len(other.text) > 0.8 * longest and other.singles > len(other.wide)
            few = all(high - low < _WORDLIKE for low, high, _, _ in other.wide)
            other.stretched = other.stretched or (3 * told >= len(block) and full and few)
        block = []


def _closed(line: _Line) -> Iterable[tuple[int, int, str]]:
    if line.stretched:
        for low, high, before, _ in line.wide:
            if not line.text[:low].strip(before + " ") and _MARK.fullmatch(before):
                continue  # the mark that a line is about
            yield line.start + low, line.start + high, " "


def _typed(lines: Sequence[_Line], known: Callable[[str], bool]) -> Iterator[tuple[int, int, str]]:
    """Two blanks behind a stop, where no others in the line part columns and no label near it has its values in a column."""
    for number, line in enumerate(lines):
        wide = line.wide
        if line.stretched or not wide:
            continue
        if any(high - low != 2 or not before.endswith(_STOPS) for low, high, before, _ in wide):
            continue
        near = (lines[n] for n in (number - 1, number + 1) if 0 <= n < len(lines))
        if any(_has_values(other) for other in near):
            continue
        for low, high, before, behind in wide:
            typed = before.endswith(".") and not _is_phrase(before, behind, known)
            yield line.start + low, line.start + high, WIDE_BLANK if typed else " "


def _has_values(line: _Line) -> bool:
    """Whether a line is a label with its value in a column."""
    return any(high - low > 2 and before.endswith(":") for low, high, before, _ in line.wide)
