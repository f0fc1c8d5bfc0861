"""The parts that pages are put together from: a line of the order with its working, an open point, a place in the documents."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from darby.documents.confirmations import lines_of, own_words, read_as, without
from darby.documents.differences import differences
from darby.documents.needs import Need, Stretch, by_room, numbers
from darby.documents.page.drawings import attached
from darby.documents.page.marked_text import Mark, Shelf
from darby.documents.page.packed import packed, row_of
from darby.documents.words import (
    clause,
    clause_number,
    content_of,
    heading_of,
    layer_of,
    one_line,
    packages,
    place,
    says,
    sentence,
    told_rule,
)
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate, Question
from darby.estimate.working import Line, working
from darby.quantities.amounts import Amount
from darby.rules.rule import DEFAULT, Rule
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Span

_WHO = {"specifier": "For the specifier", "supplier": "For the supplier", "estimator": "For yourself"}
_MANY = 60
"""Lines of working beyond which the measured rows of a room stand together."""

_PACKED = 600
"""Lines of working beyond which the measured rows are data in the page, laid out when they are opened."""

View = dict[str, Any]


def line_view(need: Need, estimate: Estimate, books: Shelf, *, packing: bool) -> View:
    """One line of the order with its working, the measured rows of a room together where there are many."""
    name = f"i{need.number}"
    found = working(need.worked, estimate.rules)
    stretches = by_room(found, estimate) if len(found) > _MANY else (Stretch("", found),)
    blocks: list[View] = []
    packing = packing and len(found) > _PACKED
    at = 0
    for stretch in stretches:
        if packing and stretch.rows:
            rows = [row_of(line, books, name) for line in stretch.lines]
            at += len(rows)
            if not blocks or blocks[-1]["rooms"] is None:
                blocks.append({"rooms": [], "room": "", "steps": [], "sum": ""})
            blocks[-1]["rooms"].append([one_line(stretch.room or stretch.rows[0].label), _sum(stretch), rows])
            continue
        steps = [_step(f"{name}-s{at + n}", line, books) for n, line in enumerate(stretch.lines, 1)]
        at += len(steps)
        if blocks and not stretch.room and not blocks[-1]["room"] and blocks[-1]["rooms"] is None:
            blocks[-1]["steps"] += steps
            continue
        blocks.append({"rooms": None, "room": stretch.room, "steps": steps, "sum": _sum(stretch)})
    for block in blocks:
        if block["rooms"]:
            block["count"], block["packed"] = f"{len(block['rooms']):,}", packed(block["rooms"])
    return {
        "id": name,
        "number": need.number,
        "trade": heading_of(need.first.trade),
        "product": one_line(need.first.product),
        "kind": need.kind,
        "need": need.needed(estimate.job.units),
        "order": need.order() if need.first.count is not None else "",
        "orders": [_order(item) for item in need.items if item.count is not None],
        "blocks": blocks,
        "steps": [step for block in blocks for step in block["steps"]],
        "notes": [one_line(note) for note in need.notes],
        "attached": attached(a for item in need.items for a in item.attachments()),
    }


def _sum(stretch: Stretch) -> str:
    """What the measured rows of a stretch come to: `4 rows = 320 sq ft`."""
    whole = stretch.sum
    rows = f"{len(stretch.rows):,} {'row' if len(stretch.rows) == 1 else 'rows'}"
    return f"{rows} = {whole}" if whole is not None else ""


def _order(item: LineItem) -> View:
    content: Amount | None = content_of(item)
    return {"count": packages(item, item.count or 0), "content": str(content) if content is not None else ""}


def _step(name: str, line: Line, books: Shelf) -> View:
    """A line of longhand, with the places its numbers came from."""
    marks: dict[str, Mark] = {}
    at: dict[str, View] = {}
    for origin in line.origins:
        mark = books.mark_at(origin.place)
        if mark is not None and origin.place is not None:
            marks.setdefault(mark.name, mark)
            at.setdefault(
                mark.name,
                {
                    "name": mark.name,
                    "file": one_line(origin.place.source.name),
                    "line": origin.place.source.line_name(origin.place.line),
                },
            )
    for mark in marks.values():
        mark.used_by.append(name)
    rule = line.rule
    return {
        "id": name,
        "label": one_line(line.label),
        "made": one_line(line.made),
        "marks": list(marks),
        "at": list(at.values()),
        "rule": None if rule is None else {"words": clause(rule), "layer": layer_of(rule), "clause": clause_number(rule.span)},
        "assumed": rule is not None and rule.layer == DEFAULT,
    }  # fmt: skip


def rule_view(rule: Rule, books: Shelf) -> View:
    """What a clause says, in its words and in ours."""
    return {
        "told": told_rule(rule), "says": says(rule), "words": clause(rule), "layer": layer_of(rule),
        "about": one_line(f"{rule.subject} {rule.kind.name}"), "at": place_view(rule.span, books),
    }  # fmt: skip


def place_view(span: Span | None, books: Shelf) -> View | None:
    """A link to a place in the documents; without a mark there, its words alone."""
    if span is None:
        return None
    mark = books.mark_at(span)
    number = clause_number(span)
    return {"mark": mark.name if mark else "", "text": f"{number} ({place(span)})" if number else place(span)}


def confirmation_views(estimate: Estimate, books: Shelf) -> Iterator[View]:
    """Readings to confirm, each with its clause, why, the lines that hang on it and what they are without it."""
    for one in estimate.confirmations:
        yield {
            "told": read_as(one),
            "words": clause(one.rules[0]),
            "why": sentence(one.why),
            "at": place_view(one.place, books),
            "moves": list(lines_of(one, estimate)),
            "without": without(one, estimate),
            "own": own_words(one),
        }


def question_groups(questions: Iterable[Question], told: Mapping[int, View]) -> Iterator[View]:
    """Questions by who can answer."""
    questions = tuple(questions)
    for who, title in _WHO.items():
        found = [told[id(question)] for question in questions if question.to == who]
        if found:
            yield {"title": title, "asked": found}


def question_view(question: Question, estimate: Estimate, books: Shelf, *, worth: bool = True) -> View:
    """A question with what was assumed and, where its `worth` is wanted, what the answers change."""
    lines = numbers(estimate)
    return {
        "text": one_line(question.ask),
        "rest": one_line(question.text).removeprefix(one_line(question.ask)).strip(),
        "at": place_view(question.place, books),
        "answers": answer_views(question, estimate) if worth else [],
        "moves": sorted({lines[name] for name in question.items if name in lines}),
    }


def answer_views(question: Question, estimate: Estimate) -> list[View]:
    """What each possible answer to a question changes, which is dear to work out of a long list of rooms."""
    answers: dict[str, list[str]] = {}
    for one in differences(question, estimate):
        answers.setdefault(one.answer, []).append(str(one))
    return [{"answer": answer, "told": "; ".join(told)} for answer, told in answers.items()]


def remark_view(one: Diagnostic, books: Shelf) -> View:
    """A remark on the job, with what to do."""
    return {
        "text": one_line(one.message), "help": one_line(one.help), "at": place_view(one.span, books), "severity": one.severity.value,
    }  # fmt: skip
