"""The page: the order list, each line opening to its longhand, and beside it the documents with what was read marked in place.

One file that needs no network. Its policy lets in its own style and script by their hash, and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from darby.documents import checks
from darby.documents.confirmations import WAY_OUT, lines_of, own_words, read_as, without
from darby.documents.differences import differences
from darby.documents.page.drawings import attached
from darby.documents.page.marked_text import Mark, Shelf, shelf
from darby.documents.words import (
    clause,
    clause_number,
    content_of,
    kind_of,
    layer_of,
    need_of,
    one_line,
    packages,
    place,
    quote,
    says,
    sentence,
    told_rule,
)
from darby.estimate.document_format import Document
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.working import Line, working
from darby.quantities.amounts import Amount
from darby.rules.rule import DEFAULT, SPECIFICATION, Rule
from darby.text.diagnostics import Severity
from darby.text.spans import Span

_WHO = {"specifier": "For the architect", "supplier": "For the supplier", "estimator": "For yourself"}

View = dict[str, Any]
"""What a template reads: plain values by name."""


def make(estimate: Estimate) -> str:
    """The page."""
    from darby.documents.page.templates import inline, templates  # noqa: PLC0415 - loads jinja2, which only pages need

    style, style_hash = inline("style.css")
    page_style, page_style_hash = inline("page.css")
    more_style, more_style_hash = inline("attached.css")
    script, script_hash = inline("page.js")
    return templates().get_template("page.html.j2").render(
        **view(estimate),
        style=style, style_hash=style_hash, page_style=page_style, page_style_hash=page_style_hash,
        more_style=more_style, more_style_hash=more_style_hash, script=script, script_hash=script_hash,
    )  # fmt: skip


def view(estimate: Estimate) -> View:
    """All that a page shows of an estimate: lines with their working, open points, documents with their marks."""
    books = shelf(estimate)
    lines = [_item(number, item, estimate, books) for number, item in enumerate(estimate.items, 1)]
    return {
        "title": one_line(estimate.job.name) or "Unnamed job",
        "missing": [one_line(name) for name in estimate.missing],
        "items": lines,
        "checks": [
            {"text": checks.told(d), "help": one_line(d.help), "at": [_at(label.span, books) for label in d.labels]}
            for d in estimate.checks
        ],
        "check_head": checks.HEAD,
        "settle": checks.SETTLE,
        "confirmations": list(_confirmations(estimate, books)),
        "way_out": WAY_OUT,
        "questions": list(_questions(estimate, books)),
        "conflicts": [[_rule_view(rule, books) for rule in (c.used, *c.others)] for c in estimate.conflicts],
        "unread": [{"words": quote(span), "why": one_line(why), "at": _at(span, books)} for span, why in estimate.unread],
        "assumed": [_rule_view(a.answer.rule, books) for a in estimate.assumptions if a.answer.layer > DEFAULT],
        "remarks": list(_remarks(estimate, books)),
        "cautions": estimate.cautions,
        "documents": [
            {"name": one_line(d.source.name), "role": d.role, "lines": [(d.source.line_name(at), line) for at, line in enumerate(d.lines, 1)], "open": _is_architects(d.role), "id": f"d{n}",
             "tally": _tally(d.marks)}
            for n, d in enumerate(books.documents, 1)
        ],
    }  # fmt: skip


def _item(number: int, item: LineItem, estimate: Estimate, books: Shelf) -> View:
    content: Amount | None = content_of(item)
    steps = [_step(f"i{number}-s{at}", line, books) for at, line in enumerate(working(item, estimate.rules), 1)]
    return {
        "id": f"i{number}",
        "number": number,
        "product": one_line(item.product),
        "kind": kind_of(item),
        "need": need_of(item, estimate.job.units),
        "order": packages(item, item.count) if item.count is not None else "",
        "content": str(content) if content is not None else "",
        "steps": steps,
        "notes": [one_line(note) for note in item.notes],
        "attached": attached(item.attachments()),
    }


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


def _rule_view(rule: Rule, books: Shelf) -> View:
    return {
        "told": told_rule(rule), "says": says(rule), "words": clause(rule), "layer": layer_of(rule),
        "about": one_line(f"{rule.subject} {rule.kind.name}"), "at": _at(rule.span, books),
    }  # fmt: skip


def _at(span: Span | None, books: Shelf) -> View | None:
    """A link to a place in the documents; without a mark there, its words alone."""
    if span is None:
        return None
    mark = books.mark_at(span)
    number = clause_number(span)
    return {"mark": mark.name if mark else "", "text": f"{number} ({place(span)})" if number else place(span)}


def _confirmations(estimate: Estimate, books: Shelf) -> Iterator[View]:
    """Readings to confirm, each with its clause, why, the lines that hang on it and what they are without it."""
    for one in estimate.confirmations:
        yield {
            "told": read_as(one),
            "words": clause(one.rules[0]),
            "why": sentence(one.why),
            "at": _at(one.place, books),
            "moves": list(lines_of(one, estimate)),
            "without": without(one, estimate),
            "own": own_words(one),
        }


def _questions(estimate: Estimate, books: Shelf) -> Iterator[View]:
    """Questions by who can answer, each with what was assumed and what the answers change."""
    for who, title in _WHO.items():
        asked = [q for q in estimate.questions if q.to == who]
        found = []
        for question in asked:
            sentence, _, rest = one_line(question.text).partition(". The documents ")
            answers: dict[str, list[str]] = {}
            for one in differences(question, estimate):
                answers.setdefault(one.answer, []).append(str(one))
            found.append(
                {
                    "text": f"{sentence.rstrip('.')}.",
                    "rest": f"The documents {rest}" if rest else "",
                    "at": _at(question.place, books),
                    "answers": [{"answer": answer, "told": "; ".join(told)} for answer, told in answers.items()],
                    "moves": [n for n, item in enumerate(estimate.items, 1) if item.id in question.items],
                }
            )
        if found:
            yield {"title": title, "asked": found}


def _remarks(estimate: Estimate, books: Shelf) -> Iterator[View]:
    """What else there is to know: what is unclear in the documents first, then warnings, then notes."""
    weight = {Severity.QUESTION: 0, Severity.ERROR: 1, Severity.WARNING: 2, Severity.NOTE: 3}
    for one in sorted(estimate.diagnostics, key=lambda d: weight[d.severity]):
        text = one_line(one.message)
        yield {"text": text, "help": one_line(one.help), "at": _at(one.span, books), "severity": one.severity.value}


def _tally(marks: Iterable[Mark]) -> str:
    """How much became of what, in a phrase."""
    words = {"used": "used", "confirm": "to confirm", "asked": "in question", "unread": "not read"}
    counts = {kind: sum(m.kind == kind for m in marks) for kind in words}
    return ", ".join(f"{n} {words[kind]}" for kind, n in counts.items() if n)


def _is_architects(role: str) -> bool:
    return role == SPECIFICATION.name or role.startswith("addendum")


DOCUMENT = Document("html", "the order, its working and the documents marked, one page for a browser", make)
