"""What is asked of whoever wrote the documents: one numbered list, the same in the letter, the log and the scope note."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import count

from attrs import evolve, frozen

from darby.documents.confirmations import otherwise
from darby.documents.differences import Difference, differences
from darby.documents.letters.goods import spoken
from darby.documents.letters.own_questions import OwnQuestion, questions_of
from darby.documents.letters.raised import is_document, raised, saying, where
from darby.documents.letters.said import quoted, sentence_of
from darby.documents.open_points import OpenPoints
from darby.documents.words import (
    clause,
    clause_number,
    kind_of,
    listed,
    name_of,
    one_line,
    places,
    quote,
    says,
    so_many,
    told_rule,
)
from darby.estimate.line_item import LineItem
from darby.estimate.model import Confirmation, Estimate, Question
from darby.estimate.open_points import told_apart
from darby.estimate.packing import SPARE
from darby.job.model import Sending
from darby.rules.rule import Rule
from darby.text.spans import Span

TO = "specifier"
_TOLD = 4
"""Readings of a clause that are told beside a question of her own."""
_QUOTED = 2
"""Clauses that are quoted where a question is raised by what none of them says."""


@frozen
class Point:
    """One thing that is asked: its number, the question, the clauses that raise it, what was assumed, what answers change."""

    number: int
    text: str
    clauses: tuple[str, ...]
    """Each with its place: `09 29 00, 2.01 A: “..”`."""
    assumed: str
    changes: tuple[tuple[str, str], ...] = ()
    """Pairs of a sensible answer and what it changes in packages."""
    place: str = ""
    """The first of the clauses, as the document itself counts it."""


def points(estimate: Estimate) -> tuple[Point, ...]:
    """Everything that is open for the specifier: what the letter asks first, and in each part questions, readings, unclear words, and
    questions of the estimator's own.
    """
    return _sorted(estimate)[0]


def asked(estimate: Estimate) -> tuple[Point, ...]:
    """What the letter asks: the points that the job marks for it and her own that were not asked yet, else those that were asked already,
    and all where nothing is marked or was asked.
    """
    found, chosen = _sorted(estimate)
    return tuple(point for point in found if not chosen or point.text in chosen)


_ANSWERED = " [answered "


def dated(line: str) -> tuple[str, str]:
    """A point that was asked and its date, as the job keeps them: `How many coats? [June 2]`."""
    whole = line.partition(_ANSWERED)[0]
    text, bracket, date = whole.rpartition(" [")
    return (one_line(text), one_line(date.removesuffix("]"))) if bracket else (one_line(whole), "")


def answer_to(line: str) -> str:
    """When a point that was asked was answered, and the line that says so: `June 9: Walls: two coats.`; nothing where it was not."""
    return one_line(line.partition(_ANSWERED)[2].rstrip().removesuffix("]"))


def answered(line: str, date: str, said: str) -> str:
    """The same point as answered: `How many coats? [June 2] [answered June 9: Walls: two coats.]`."""
    return f"{line.partition(_ANSWERED)[0]}{_ANSWERED}{date}: {said}]"


def doubt(one: Confirmation) -> str:
    """How a reading that waits to be confirmed is asked about."""
    return f"Please confirm that this means: {'; '.join(dict.fromkeys(map(spoken, one.rules)))}."


def _sorted(estimate: Estimate) -> tuple[tuple[Point, ...], set[str]]:
    """All points, those of the letter first, and the words of these; of what is marked only what is open."""
    sent, found = estimate.job.sending, list(_open(estimate))
    there = {point.text for point in found}
    chosen = there & set(marked(sent)) or there & {dated(line)[0] for line in sent.asked}
    found.sort(key=lambda point: point.text not in chosen)
    return tuple(evolve(point, number=number) for number, point in enumerate(found, 1)), chosen


def marked(sent: Sending) -> tuple[str, ...]:
    """What is marked to be asked; with it, or after a letter that has gone, also each question of her own that was not asked yet."""
    if not (sent.ask or sent.asked):
        return ()
    before = {dated(line)[0] for line in sent.asked}
    own = (OwnQuestion.of(line).text for line in sent.questions)
    return tuple(dict.fromkeys((*map(one_line, sent.ask), *(text for text in own if text not in before))))


def _open(estimate: Estimate) -> Iterator[Point]:
    number = count(1)
    open_points = OpenPoints(estimate)
    for question in estimate.questions:
        if question.to == TO:
            yield _question(next(number), question, estimate, open_points)
    for one in estimate.confirmations:
        if is_document(one.rules[0].layer) and otherwise(one, estimate):  # else the answer changes nothing
            yield _doubted(next(number), one, estimate)
    settled = [
        {place for rule in (c.used, *c.others) for place in (rule.span, rule.assigned)} for c in estimate.conflicts
    ]
    for doubtful in raised(estimate):
        if len(doubtful.spans) > 1 and any(places.issuperset(doubtful.spans) for places in settled):
            continue  # the rules that differ by it are asked about, with both clauses
        yield Point(next(number), doubtful.text, doubtful.clauses, doubtful.assumed, (), doubtful.place)
    closed = {dated(line)[0] for line in estimate.job.sending.asked if answer_to(line)}
    yield from (_own(next(number), one, estimate) for one in questions_of(estimate.job) if one.text not in closed)


def _question(number: int, question: Question, estimate: Estimate, open_points: OpenPoints) -> Point:
    conflict = open_points.conflict(question)
    if conflict is not None:
        rules: tuple[Rule, ...] = (conflict.used, *conflict.others)
        clauses = cited(rules)
        assumed = says(conflict.used)
        if apart := told_apart(rules):
            assumed = " ".join(conflict.used.scope[key] for key in apart)
    else:
        stand_in = open_points.stand_in(question)
        rules = tuple(_around(question, stand_in.answer.rule if stand_in else None, estimate))
        clauses = cited(rules)
        rule = stand_in.answer.rule if stand_in else None
        assumed = "" if rule is None else _told(rule) if rule.amount else quote(rule.span)
    first = clause_number(rules[0].span) if rules else ""
    return Point(number, one_line(question.ask), clauses, assumed, tuple(_changes(question, estimate)), first)


def _told(rule: Rule) -> str:
    """What a rule says, a bare number behind its kind: `level 4`."""
    said = says(rule)
    return said if not said.isdigit() else f"{rule.kind.name} {said}"


def _around(question: Question, rule: Rule | None, estimate: Estimate) -> Iterator[Rule]:
    """The clauses that raise it: those of the rooms asked about that name the goods, else those that say the same of other places, else
    those that speak of the goods at all.
    """
    subjects = {rule.subject} if rule is not None else {i.product for i in estimate.items if i.id in question.items}
    kind, text = rule.kind if rule is not None else None, question.ask.casefold()
    found: dict[int, dict[tuple[str, int], Rule]] = {0: {}, 1: {}, 2: {}}
    for one in estimate.rules:
        if not is_document(one.layer) or one.kind.name == SPARE or (one.confirm and one.kind is not kind):
            continue  # a mock-up or spare stock is no reason to ask about the work
        room = one.scope.get("room", "").casefold()
        if room and f" in {room}" in text and any(goods in _line(one.span).casefold() for goods in subjects):
            found[0].setdefault((one.span.source.name, one.span.line), one)
        elif one.subject in subjects:
            found[1 if one.kind is kind else 2].setdefault((one.span.source.name, one.span.line), one)
    yield from [*next(filter(None, found.values()), {}).values()][:_QUOTED]


def _line(span: Span) -> str:
    return span.source.line_text(span.line)


def cited(rules: Iterable[Rule]) -> tuple[str, ...]:
    """Clauses behind their places, those that give a system to a place among them, and what two of them share once: `2.03 (spec.txt, lines 4 and 5): “..”`."""
    found: dict[str, list[Span]] = {}
    spans = dict.fromkeys(span for rule in rules for span in (rule.assigned, rule.span) if span is not None)
    for span in spans:
        found.setdefault(saying(span), []).append(span)
    return tuple(
        f"{where(spans[0]) if len(spans) == 1 else _where_all(spans)}: {said}" for said, spans in found.items()
    )


def _where_all(spans: list[Span]) -> str:
    number = clause_number(spans[0])
    return f"{number} ({places(spans)})" if number else places(spans)


def _changes(question: Question, estimate: Estimate) -> Iterator[tuple[str, str]]:
    """What each sensible answer does to the order, in packages."""
    by_answer: dict[str, list[Difference]] = {}
    for one in differences(question, estimate):
        by_answer.setdefault(one.answer, []).append(one)
    for answer, made in by_answer.items():
        moving = [one for one in made if one.then != one.now]
        yield answer, "; ".join(dict.fromkeys(map(str, moving))) or "the order stays as it is"
    moved = listed(_now(i) for i in estimate.items if i.id in question.items)
    if not by_answer and moved:
        yield "", moved


def _now(item: LineItem) -> str:
    """A line as it is ordered: `12 pails of varnish (satin)`."""
    kind = kind_of(item)
    if item.count is None:
        return f"{name_of(item)} (package not known)"
    return so_many(item, item.count) + (f" ({kind})" if kind else "")


def _doubted(number: int, one: Confirmation, estimate: Estimate) -> Point:
    text = doubt(one)
    changes = (("not so", otherwise(one, estimate)),)
    clauses = (f"{where(one.place)}: {clause(one.rules[0])}",)
    return Point(number, text, clauses, "as above", changes, clause_number(one.place))


def _own(number: int, one: OwnQuestion, estimate: Estimate) -> Point:
    """A question of her own, with its clause as it stands in the document and what was read there."""
    span = one.place(source for source, _ in estimate.papers)
    if span is None:
        unplaced = (f"{one.at}{': ' if one.at else ''}“{one.words}”",) if one.words else ()
        return Point(number, one.text, unplaced, "")
    sentence = sentence_of(span)
    here = (r for r in estimate.rules if r.span.source is span.source and _touch(r.span, sentence))
    read = "; ".join(list(dict.fromkeys(map(told_rule, here)))[:_TOLD])
    return Point(number, one.text, (f"{where(sentence)}: {quoted(sentence)}",), read, (), clause_number(sentence))


def _touch(one: Span, other: Span) -> bool:
    return one.start < other.end and other.start < one.end
