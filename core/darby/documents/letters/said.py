"""Clauses of the documents that leave something out, offer it, or say how goods are handed over, quoted with their place.

They are found by words that every trade uses (`said_words.toml`) and quoted whole: nothing is counted by them.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from importlib.resources import files

from darby.documents.words import one_line, whereabouts
from darby.estimate.model import Estimate
from darby.reading.account.word_questions import LEFT_AS_IT_IS
from darby.rules.rule import SPECIFICATION
from darby.text.spans import Source, Span

_REACH = 700
"""Characters that are looked at before and behind a word for the ends of its sentence."""
_LONGEST = 240
_FEWEST = 3
"""Words of a sentence; fewer are a title."""
_ITEM = r"[ \t]*(?:[A-Z]|[a-z]|[0-9]{1,2}|[0-9]\.[0-9]{1,2}|\.[0-9]{1,2}(?=[ \t]{2}|\t))[.)]?[ \t]+"
_ROW = r"[ \t]*\|"
_TITLE = r"[ \t]*[0-9]{1,2}(?:\.[0-9]{1,2})+[ \t]+[^\n.,:;]{1,40}\n(?=[ \t]*[A-Z])"
"""The line of a numbered title, over text of its own."""
_BEGINS = re.compile(
    rf"(?:\n|\A){_TITLE}|\n[ \t]*\n(?!{_TITLE})|\n{_ITEM}|\n{_ROW}|(?<=[a-z)\"]\.)\s+(?=[A-Z])|(?<=:)\s+(?=[A-Z0-9])"
)
_ENDS = re.compile(
    rf"(?<!\bNo)(?<!\bno)(?<!\bsq)(?<!\bft)(?<!\bin)(?<!\bapprox)\.(?=\s+[A-Z0-9\"“]|\s*\n|\s*$)|\n[ \t]*\n|\n{_ITEM}|\n{_ROW}|\|(?=[ \t]*\n)"
)
_GAP = re.compile(r" {3,}|\t+|\|")
"""What stands between the cells of a row."""
_CELLS = 3
"""Cells of a row; fewer are a label and what it says."""
_SHORTENED = re.compile(r"\.[a-z]$")
"""A word at the end of a sentence that keeps its last stop: `o.c.`"""
_LABEL = re.compile(rf"^{_ITEM}")
_ANY = r"[a-z-]+(?:\s+[a-z-]+)?"


@cache
def _words() -> dict[str, re.Pattern[str]]:
    text = (files("darby") / "documents" / "letters" / "said_words.toml").read_text("utf-8")
    return {name: _pattern(words) for name, words in tomllib.loads(text).items()}


def _pattern(words: Iterable[str]) -> re.Pattern[str]:
    parts = (
        r"\s+".join(_ANY if part == "*" else re.escape(part) for part in word.split())
        for word in sorted(words, key=len, reverse=True)
    )
    return re.compile(rf"(?<![\w-])(?:{'|'.join(parts)})(?![\w-])", re.IGNORECASE)


def said(estimate: Estimate, what: str) -> tuple[Span, ...]:
    """The sentences of the specification and its addenda that speak of `excluded`, `delivery` and the like, each once."""
    found: dict[tuple[str, int], Span] = {}
    for source, layer in estimate.papers:
        if layer.rank >= SPECIFICATION.rank:
            for span in _sentences(source, _words()[what]):
                found.setdefault((source.name, span.start), span)
    if what == "excluded":
        for diagnostic in estimate.diagnostics:
            if diagnostic.span is not None and LEFT_AS_IT_IS in diagnostic.message:
                span = sentence_at(diagnostic.span.source, diagnostic.span.start, diagnostic.span.end)
                found.setdefault((span.source.name, span.start), span)
    return tuple(found.values())


def told(span: Span) -> str:
    """A sentence behind its place, as a clause is cited: `09 91 23, 1.01 A (notes.txt, line 9): “Lintels are by others”`."""
    return f"{whereabouts(span)}: {quoted(span)}"


def quoted(span: Span) -> str:
    """A sentence in quotation marks, without its letter or number, on one line and not too long."""
    text = one_line(_unlabelled(span)).rstrip(".")
    text += "." if _SHORTENED.search(text) else ""
    return f"“{text if len(text) <= _LONGEST else text[: _LONGEST - 1].rstrip() + '…'}”"


def cells_of(span: Span) -> str:
    """The row of a table that a stretch stands in, in quotation marks: `“109, Store, none”`; nothing where it is in none."""
    cells = [one_line(cell) for cell in _GAP.split(span.source.line_text(span.line).strip(" |\t")) if cell.strip()]
    return f"“{', '.join(cells)[:_LONGEST]}”" if len(cells) >= _CELLS else ""


def _unlabelled(span: Span) -> str:
    """A sentence without the letter or number of its line; a number that begins it within the line is its own: `Size: 4 ft by 12 ft.`"""
    before = span.source.text[span.source.text.rfind("\n", 0, span.start) + 1 : span.start]
    return span.text if before.strip() else _LABEL.sub("", span.text)


def _sentences(source: Source, words: re.Pattern[str]) -> Iterator[Span]:
    end = 0
    for match in words.finditer(source.text):
        if match.start() < end:
            continue
        span = sentence_at(source, match.start(), match.end())
        end = span.end
        text = one_line(_unlabelled(span))
        if len(text.split()) >= _FEWEST and not text.isupper():
            yield span


def sentence_of(span: Span) -> Span:
    """The sentence of some words; the letter or number that opens them, where one does, is not the end of what stands before."""
    label = _LABEL.match(span.text)
    start = span.start + (label.end() if label else 0)
    return sentence_at(span.source, start, max(start, span.end))


def sentence_at(source: Source, start: int, end: int) -> Span:
    """The sentence that a stretch stands in; of one without end the words near by."""
    begin = max(0, start - _REACH)
    ends = [m.end() for m in _BEGINS.finditer(source.text, begin, end) if m.end() <= start]
    if ends:
        begin = ends[-1]
    elif begin:
        line = source.text.rfind("\n", begin, start)
        begin = (line if line >= 0 else source.text.find(" ", begin, start)) + 1 or begin
    found = _ENDS.search(source.text, end, min(len(source.text), end + _REACH))
    stop = found.start() if found is not None else min(len(source.text), end + _REACH)
    return source.span(begin, max(stop, end))
