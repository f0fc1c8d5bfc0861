"""The documents as given, line by line, with every number that was read, asked about, set aside or not read marked in place."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from functools import cached_property

from attrs import define, field, frozen

from darby.documents.words import layer_of, one_line, sentence, told_rule
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.working import behind
from darby.quantities.amounts import Origin
from darby.rules.rule import HOUSE, Layer, Rule
from darby.text.diagnostics import Severity
from darby.text.spans import Source, Span

KINDS = ("unread", "asked", "confirm", "used", "measured", "read", "aside")
"""What became of a stretch; of several the first is shown: not read, in question, to be confirmed, behind a number of the order,
measured, read but not used, set aside."""


@define(eq=False)
class Mark:
    """A marked stretch. `name` is unique on the page; `said` tells what became of it, in a phrase each."""

    span: Span
    kind: str
    said: dict[str, None]
    name: str = ""
    used_by: list[str] = field(factory=list)
    """Names of the places of the page that show a number from here."""


@frozen
class Piece:
    """A run of a line. `first` is False where the mark began on an earlier line."""

    text: str
    mark: Mark | None = None
    first: bool = True


@frozen(eq=False, slots=False)
class Marked:
    """One document of the page: what it is to the estimate, and its marks."""

    source: Source
    role: str
    marks: tuple[Mark, ...]

    @cached_property
    def lines(self) -> tuple[tuple[Piece, ...], ...]:
        """Its lines, each a tuple of pieces."""
        return _lines(self.source, self.marks)


Behind = tuple[tuple[Rule, ...], tuple[Origin, ...]]
"""What stands behind a line: its rules, and where its other numbers were measured."""


@frozen(eq=False)
class Shelf:
    """All documents an estimate rests on, those of the architect first, and where each stretch is marked in them."""

    documents: tuple[Marked, ...]
    _by_source: Mapping[int, tuple[Mark, ...]]
    _behind: Mapping[int, Behind]

    def behind(self, item: LineItem) -> Behind:
        """The rules and the measured places behind an item of the estimate."""
        return self._behind[id(item)]

    def mark_at(self, span: Span | None) -> Mark | None:
        """The mark that shows a stretch, or None."""
        if span is None:
            return None
        marks = self._by_source.get(id(span.source), ())
        at = bisect_right(marks, span.start, key=lambda mark: mark.span.start) - 1  # they lie apart, in order
        if at < 0 or span.start >= max(marks[at].span.end, marks[at].span.start + 1):
            return None
        return marks[at]


def shelf(estimate: Estimate) -> Shelf:
    """The documents of an estimate, marked."""
    found: dict[int, list[Mark]] = {}
    sources: dict[int, Source] = {}
    numbers = {id(item): behind(item, estimate.rules) for item in estimate.items}
    for mark in _marks(estimate, numbers):
        found.setdefault(id(mark.span.source), []).append(mark)
        sources.setdefault(id(mark.span.source), mark.span.source)
    ordered = _ordered(estimate, sources)
    by_source: dict[int, tuple[Mark, ...]] = {}
    documents = []
    for number, (source, role) in enumerate(ordered, 1):
        marks = _apart(found.get(id(source), ()))
        for at, mark in enumerate(marks, 1):
            mark.name = f"d{number}-m{at}"
        by_source[id(source)] = marks
        documents.append(Marked(source, role, marks))
    return Shelf(tuple(documents), by_source, numbers)


def _ordered(estimate: Estimate, sources: Mapping[int, Source]) -> list[tuple[Source, str]]:
    """Specification and addenda, house rules, the job, then the trades' own lines that were used."""
    papers = sorted(estimate.papers, key=lambda paper: paper[1].rank == HOUSE.rank)
    known = {id(source): (source, layer.name) for source, layer in papers}
    roles = {id(rule.span.source): rule.layer.name for rule in estimate.rules}
    job = estimate.job.source
    rest = [key for key in sources if key not in known and key != id(job)]
    rest.sort(key=lambda key: (-_rank(key, estimate.rules), sources[key].name))
    first = dict(known)
    if id(job) in sources:
        first[id(job)] = (job, "the job, as measured")
    return [*first.values(), *((sources[key], roles.get(key, "")) for key in rest)]


def _rank(key: int, rules: Iterable[Rule]) -> int:
    return max((rule.layer.rank for rule in rules if id(rule.span.source) == key), default=-1)


def _marks(estimate: Estimate, behind: Mapping[int, Behind]) -> Iterable[Mark]:
    """Every stretch that is to be marked, as found; several may lie on one another."""
    used_rules = {id(rule) for rules, _ in behind.values() for rule in rules}
    shown: set[Layer] = {layer for _, layer in estimate.papers}
    for rule in estimate.rules:
        used = id(rule) in used_rules
        if used or rule.layer in shown or rule.span.source is estimate.job.source:
            state = "" if used else ", not used"
            kind = "confirm" if rule.confirm else "used" if used else "read"
            yield _mark(rule.span, kind, f"{told_rule(rule)} ({layer_of(rule)}{state})")
            if rule.confirm:
                yield _mark(rule.span, kind, f"To confirm: {sentence(rule.confirm)}")
    for one in estimate.confirmations:
        yield _mark(one.place, "confirm", f"To confirm: {sentence(one.why)}")
    for question in estimate.questions:
        if question.place is not None:
            yield _mark(question.place, "asked", f"Question: {question.text}")
    for conflict in estimate.conflicts:
        for rule in (conflict.used, *conflict.others):
            yield _mark(rule.span, "asked", "Conflict")
    for diagnostic in estimate.diagnostics:
        if diagnostic.severity is Severity.QUESTION and diagnostic.span is not None:
            yield _mark(diagnostic.span, "asked", f"Question: {diagnostic.message}")
    for span, why in estimate.unread:
        yield _mark(span, "unread", f"Not read: {why}")
    for span, why in estimate.set_aside:
        yield _mark(span, "aside", f"Set aside: {why}")
    for origin in dict.fromkeys(origin for _, measured in behind.values() for origin in measured):
        if origin.place is not None:
            yield _mark(origin.place, "measured", one_line(origin.key) or "Measured")


def _mark(span: Span, kind: str, said: str) -> Mark:
    return Mark(span, kind, {one_line(said): None})


def _apart(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """Marks that lie apart: those that touch the same text become one, of the weightiest kind."""
    out: list[Mark] = []
    for mark in sorted(marks, key=lambda m: (m.span.start, -m.span.end)):
        if out and mark.span.start < out[-1].span.end:
            last = out[-1]
            last.span = last.span.join(mark.span)
            last.kind = min(last.kind, mark.kind, key=KINDS.index)
            last.said |= mark.said
        elif mark.span.end > mark.span.start:
            out.append(mark)
    return tuple(out)


def _lines(source: Source, marks: tuple[Mark, ...]) -> tuple[tuple[Piece, ...], ...]:
    """The text cut into lines, each line into pieces."""
    lines: list[tuple[Piece, ...]] = []
    at = 0
    count = len(source.line_starts)
    if source.line_starts[-1] == len(source.text) and source.text:
        count -= 1  # the text ends with its last line
    for number in range(1, count + 1):
        start = source.line_starts[number - 1]
        text = source.line_text(number)
        end = start + len(text)
        while at and marks[at - 1].span.end > start:
            at -= 1
        pieces: list[Piece] = []
        done = start
        while at < len(marks) and marks[at].span.start < end:
            mark = marks[at]
            low, high = max(mark.span.start, start), min(mark.span.end, end)
            if low > mark.span.start:  # the indent of a line that goes on is no part of what was read
                low = min(high, low + len(text[low - start :]) - len(text[low - start :].lstrip()))
            if low > done:
                pieces.append(Piece(source.text[done:low]))
            if high > low:
                pieces.append(Piece(source.text[low:high], mark, first=mark.span.start >= start))
            done = max(done, high)
            at += 1
        if done < end:
            pieces.append(Piece(source.text[done:end]))
        lines.append(tuple(pieces))
    return tuple(lines)
