"""The whole clause around a mark, and the plain lines by which nothing of it is ordered, where there are any."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from attrs import evolve, frozen

from darby.documents.letters.said import sentence_at, sentence_of
from darby.documents.page.marked_text import Marked
from darby.documents.words import one_line, place
from darby.estimate.model import Estimate
from darby.quantities.amounts import Amount
from darby.rules.own_lines import own_lines
from darby.rules.rule import Rule
from darby.text.spans import Source, Span

Read = Callable[[str], Sequence[Rule]]
"""Gives the rules of a line of the estimator's own, none where it is not understood."""

_LABEL = re.compile(r"\s*(?:[A-Za-z]|\d{1,3}(?:\.\d{1,3})*)[.)]\s|\s*[-•*]\s|\s*$")
"""What opens an item of a list, and a blank line, which ends one."""


@frozen
class Clause:
    """A clause in its own words, and the lines that put its counts at nothing."""

    words: str
    none: tuple[str, ...] = ()
    there: str = ""
    """The sentence of it as its document has it, which a question quotes."""
    at: str = ""
    """The document and line of that."""


def clause_at(estimate: Estimate, document: Marked, name: str, read: Read) -> Clause | None:
    """The clause around a mark of a document, or around a line of it (`line-12`); None where it has none of that name."""
    source = document.source
    mark, line = next((mark.span for mark in document.marks if mark.name == name), None), _line(source, name)
    asked = (
        sentence_at(source, mark.start, mark.end)
        if mark is not None
        else sentence_of(line)
        if line is not None
        else None
    )
    mark = mark or line
    if mark is None or asked is None:
        return None
    rules = _read_there(estimate, source, mark)
    said = next((rule.amount.step.origin.text for rule in rules if rule.amount.step.origin.text), "")
    there = item_around(source, mark)
    counted = [_at_nothing(rule) for rule in rules if _is_count(rule)]
    none = own_lines(counted, read) if counted else ()
    return Clause(one_line(said or there.text), none, one_line(asked.text).rstrip("."), place(asked))


def _line(source: Source, name: str) -> Span | None:
    """A line of a document by its number, `line-12`; None where it has none of that number, or nothing stands there."""
    number = name.removeprefix("line-")
    if (
        name == number
        or not number.isascii()
        or not number.isdigit()
        or not 0 < int(number[:9]) <= len(source.line_starts)
    ):
        return None
    start, text = source.line_starts[int(number) - 1], source.line_text(int(number))
    return source.span(start, start + len(text)) if text.strip() else None


def item_around(source: Source, span: Span) -> Span:
    """The item of a list or the paragraph in which something stands, over all its lines."""
    first, count = span.line, len(source.line_starts)
    while first > 1 and not _LABEL.match(source.line_text(first)) and source.line_text(first - 1).strip():
        first -= 1
    last = first
    while last < count and not _LABEL.match(source.line_text(last + 1)):
        last += 1
    last = max(last, source.place(max(span.start, span.end - 1))[0])
    starts = source.line_starts
    return source.span(starts[first - 1], starts[last - 1] + len(source.line_text(last)))


def _read_there(estimate: Estimate, source: Source, mark: Span) -> list[Rule]:
    """The rules of the clause that a stretch is part of."""
    here = [
        rule
        for rule in estimate.rules
        if rule.span.source is source and rule.span.start < mark.end and mark.start < rule.span.end
    ]
    clauses = {rule.amount.step.origin.text for rule in here} - {""}
    near = (rule for rule in estimate.rules if rule.span.source is source and rule not in here)
    line = mark.line
    return [*here, *(r for r in near if r.amount.step.origin.text in clauses and abs(r.span.line - line) < 20)]


def _is_count(rule: Rule) -> bool:
    """Whether a rule says how many there are of something, so that none of it is a count too: coats, layers."""
    return rule.per is None and not rule.choice and rule.amount.unit.name == "each" and rule.kind.name.endswith("s")


def _at_nothing(rule: Rule) -> Rule:
    return evolve(
        rule, amount=Amount.of(0, rule.amount.unit, rule.amount.step.origin), upper=None, by=None, bound="exact"
    )
