"""Titles of addenda: the number that one gives itself, and where in a document of the specification one begins."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from darby.reading.layout.normalize import mend
from darby.rules.rule import REVISION, SPECIFICATION, Layer, addendum
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Source, Span, View

_TITLE = re.compile(
    r"\s{0,80}(?:(?:[^\sa-z][^\s]{0,40}|of|to|for|the|and)\s{1,80}){0,8}?(?i:addendum\s{0,3}(?:no\.?|number|#|nr\.?)?\s{0,3}"
    r"(?P<number>[0-9]{1,3}|[IVX]{1,5}|one|two|three|four|five|six|seven|eight|nine|ten))(?![\w.-]*[0-9A-Za-z])"
)
"""A line that names an addendum by its number, behind a project's name perhaps: `Harbor Hub - ADDENDUM NO. 3`."""
_TOP = 2_000
_ON_TOP = 10
"""Lines of an addendum among which its title stands."""
_LOW = {word: number for number, word in enumerate("one two three four five six seven eight nine ten".split(), 1)}
_ROMAN = {word: number for number, word in enumerate("I II III IV V VI VII VIII IX X".split(), 1)}


def own_number(text: str) -> int | None:
    """The number that an addendum gives itself in its title, or None where it gives none."""
    for line in text[:_TOP].splitlines()[:_ON_TOP]:
        if found := _TITLE.match(line):
            said = found["number"]
            return _number(said)
    return None


def _number(said: str) -> int:
    return int(said) if said.isdigit() else _LOW.get(said.lower()) or _ROMAN.get(said.upper()) or 1


def addenda_numbers(texts: Sequence[str]) -> list[int]:
    """The numbers of addenda in the order in which a job lists them: their own, where each tells one and no two the same; else
    each its own where that is greater than the one before it, or the next.
    """
    own = [own_number(text) for text in texts]
    told = [number for number in own if number]
    if len(told) == len(own) == len(set(told)):
        return told
    numbers: list[int] = []
    for number in own:
        last = numbers[-1] if numbers else 0
        numbers.append(number if number is not None and number > last else last + 1)
    return numbers


_ALONE = re.compile(
    r"[^\S\n]{0,20}(?:[#*=_-]{1,6}[^\S\n]{1,4})?(?i:addendum|bulletin|amendment|revision\s+notice)[^\S\n]{0,3}(?i:no\.?|number|#|nr\.?)?[^\S\n]{0,3}"
    r"(?P<number>[0-9]{1,3}|[IVX]{1,5}|(?i:one|two|three|four|five|six|seven|eight|nine|ten))(?:[^\S\n]{0,3}[-–—:,(][^\n]{0,60})?[^\S\n]*",
)
"""A line that is the title of an addendum and nothing else, its date aside."""
_LIST = re.compile(
    r"[^\S\n]{0,20}(?:[#*=_-]{1,6}[^\S\n]{1,4})?(?i:(?:list\s+of\s+)?(?:addenda|addendum|amendments|changes|corrections|errata|clarifications|revisions)"
    r"(?:\s+(?:and|&)\s+(?:clarifications|corrections|amendments|changes|additions))?(?:\s+to\s+(?:the\s+)?(?:specifications?|contract\s+documents?|schedules?))?):?[^\S\n]*"
)
"""One without a number."""
_AGAIN = re.compile(r"^\s*PART\s+[1-3]\b", re.MULTILINE)
"""What stands in a section of a specification, and in no addendum."""
_FIRST = 3
"""Lines that are not blank among which the title of a whole document stands."""


def parted(source: Source, layer: Layer, known: Callable[[str], bool]) -> list[tuple[Layer, View | None]]:
    """A document of the specification and the addenda that stand in it, each with its layer; of any other document the whole."""
    whole: list[tuple[Layer, View | None]] = [(layer, None)]
    if layer != SPECIFICATION or not (_ALONE.search(source.text) or _LIST.search(source.text)):
        return whole
    view = mend(source, known)
    begin = list(_begins(view.text))
    if not begin or _AGAIN.search(view.text, begin[0][0]):
        return whole
    ends = [*(at for at, _ in begin[1:]), len(view)]
    parts = [(SPECIFICATION, view.cut(0, begin[0][0]))] if view.text[: begin[0][0]].strip() else []
    parts += [(of, view.cut(at, end)) for (at, of), end in zip(begin, ends, strict=True)]
    return [(parts[0][0], None)] if len(parts) == 1 else list(parts)


def _begins(text: str) -> Iterator[tuple[int, Layer]]:
    """Where each addendum of a text begins."""
    at, lines, blank = 0, 0, True
    for line in text.split("\n"):
        if numbered := _ALONE.fullmatch(line):
            if blank or lines < _FIRST:
                yield (at if lines >= _FIRST else 0), addendum(_number(numbered["number"]))
        elif blank and lines >= _FIRST and _LIST.fullmatch(line):
            yield at, REVISION
        blank = not line.strip()
        lines += not blank
        at += len(line) + 1


def told_parts(parts: Sequence[tuple[Layer, View | None]], source: Source, layer: Layer) -> list[Diagnostic]:
    """That a document of the specification is, or holds, an addendum."""
    found = [(of, view) for of, view in parts if of != layer]
    return [
        problem(
            "addendum-found",
            f"{source.name} {'holds' if len(parts) > 1 else 'is'} {_called(of)}, which is taken to change the specification.",
            _title_of(view or View.of(source)),
            severity=Severity.NOTE,
            help="Nothing to do, if it is one.",
        )
        for of, view in found
    ]


def _called(layer: Layer) -> str:
    return "a list of changes" if layer == REVISION else layer.name


def _title_of(view: View) -> Span:
    """The first line of a part that is not blank."""
    text = view.text
    low = len(text) - len(text.lstrip())
    return view.span(low, low + len(text[low:].split("\n", 1)[0].rstrip()))
