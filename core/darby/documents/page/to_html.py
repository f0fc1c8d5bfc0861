"""The page: the order list, each line opening to its longhand, and beside it the documents with what was read marked in place.

One file that needs no network. Its policy lets in its own style and script by their hash, and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from hashlib import sha256
from pathlib import PurePath
from typing import Any

from darby.documents import checks
from darby.documents.confirmations import WAY_OUT, lines_of, own_words, read_as, without
from darby.documents.differences import differences
from darby.documents.needs import Need, Stretch, by_room, needs, numbers
from darby.documents.open_points import OpenPoints
from darby.documents.page.dates import dated
from darby.documents.page.drawings import attached
from darby.documents.page.marked_text import Mark, Marked, Shelf, shelf
from darby.documents.page.packed import document_of, is_long, packed, row_of
from darby.documents.words import (
    clause,
    clause_number,
    content_of,
    heading_of,
    layer_of,
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
from darby.estimate.model import Estimate, Question
from darby.estimate.working import Line
from darby.quantities.amounts import Amount
from darby.quantities.gc_pause import in_bulk
from darby.rules.rule import CLARIFICATION, DEFAULT, SPECIFICATION, Rule
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Span

_WHO = {"specifier": "For the specifier", "supplier": "For the supplier", "estimator": "For yourself"}
_MANY = 60
"""Lines of working beyond which the measured rows of a room stand together."""

_PACKED = 600
"""Lines of working beyond which the measured rows are data in the page, laid out when they are opened."""

View = dict[str, Any]
"""What a template reads: plain values by name."""


@in_bulk()
def make(estimate: Estimate) -> str:
    """The page."""
    from darby.documents.page.templates import inline, templates  # noqa: PLC0415 - loads jinja2, which only pages need

    style, style_hash = inline("style.css")
    page_style, page_style_hash = inline("page.css")
    more_style, more_style_hash = inline("attached.css")
    script, script_hash = inline("page.js")
    return templates().get_template("page.html.j2").render(
        **view(estimate, packing=True),
        style=style, style_hash=style_hash, page_style=page_style, page_style_hash=page_style_hash,
        more_style=more_style, more_style_hash=more_style_hash, script=script, script_hash=script_hash,
    )  # fmt: skip


def view(estimate: Estimate, *, packing: bool = False) -> View:
    """All that a page shows of an estimate: lines with their working, open points, documents with their marks.

    With `packing` the long lists of a large job are data, for a page whose script lays them out.
    """
    books = shelf(estimate)
    points = OpenPoints(estimate)
    dates = (estimate.job.sending.scope.get("date"), estimate.job.sending.letter.get("date"))
    every = {id(q): q for q in (*points.questions, *estimate.questions)}
    told = {key: _question(question, estimate, books) for key, question in every.items()}
    lines = [_line(need, estimate, books, packing=packing) for need in needs(estimate)]
    return {
        "title": one_line(estimate.job.name) or "Unnamed job",
        "missing": [one_line(name) for name in estimate.missing],
        "counts": points.counts(),
        "dates": [one_line(text) for text in dates if text][:1],
        "inputs": list(_inputs(estimate)),
        "items": lines,
        "checks": [
            {"text": checks.told(d), "help": one_line(d.help), "at": [_at(label.span, books) for label in d.labels]}
            for d in estimate.checks
        ],
        "check_head": checks.HEAD,
        "settle": checks.SETTLE,
        "looks": [_remark(one, books) for one in points.looks],
        "confirmations": list(_confirmations(estimate, books)),
        "way_out": WAY_OUT,
        "questions": list(_questions(points.questions, told)),
        "every_question": list(_questions(estimate.questions, told)),
        "conflicts": [[_rule_view(rule, books) for rule in (c.used, *c.others)] for c in estimate.conflicts],
        "unread": [{"words": quote(span), "why": one_line(why), "at": _at(span, books)} for span, why in estimate.unread],
        "assumed": [_rule_view(a.answer.rule, books) for a in (*points.house, *points.defaults)],
        "remarks": [_remark(one, books) for one in points.notes],
        "cautions": estimate.cautions,
        "documents": [
            _document(number, document, packing=packing and is_long(document))
            for number, document in enumerate(books.documents, 1)
        ],
    }  # fmt: skip


def _document(number: int, document: Marked, *, packing: bool) -> View:
    """A document with its lines, or the same as data."""
    lines = () if packing else [(document.source.line_name(at), line) for at, line in enumerate(document.lines, 1)]
    return {
        "name": one_line(document.source.name), "role": document.role, "lines": lines,
        "packed": document_of(document) if packing else "", "count": f"{len(document.lines):,}",
        "open": _is_architects(document.role) and not packing, "id": f"d{number}", "tally": _tally(document.marks),
    }  # fmt: skip


def _inputs(estimate: Estimate) -> Iterator[View]:
    """The files behind the estimate, each with the date and revision it says of itself, and a checksum to tell copies apart."""
    for source, role in ((estimate.job.source, "job"), *((s, layer.name) for s, layer in estimate.papers)):
        checksum = sha256(source.text.encode("utf-8", "surrogatepass")).hexdigest()[:8]
        said = one_line(", ".join(filter(None, dated(source))))
        yield {"name": one_line(PurePath(source.name).name), "role": role, "said": said, "checksum": checksum}


def _line(need: Need, estimate: Estimate, books: Shelf, *, packing: bool) -> View:
    """One line of the order with its working, the measured rows of a room together where there are many."""
    name = f"i{need.number}"
    found = books.working(need.worked)
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


def _questions(questions: Iterable[Question], told: Mapping[int, View]) -> Iterator[View]:
    """Questions by who can answer."""
    questions = tuple(questions)
    for who, title in _WHO.items():
        found = [told[id(question)] for question in questions if question.to == who]
        if found:
            yield {"title": title, "asked": found}


def _question(question: Question, estimate: Estimate, books: Shelf) -> View:
    """A question with what was assumed and what the answers change."""
    lines = numbers(estimate)
    answers: dict[str, list[str]] = {}
    for one in differences(question, estimate):
        answers.setdefault(one.answer, []).append(str(one))
    return {
        "text": one_line(question.ask),
        "rest": one_line(question.text).removeprefix(one_line(question.ask)).strip(),
        "at": _at(question.place, books),
        "answers": [{"answer": answer, "told": "; ".join(told)} for answer, told in answers.items()],
        "moves": sorted({lines[name] for name in question.items if name in lines}),
    }


def _remark(one: Diagnostic, books: Shelf) -> View:
    return {
        "text": one_line(one.message), "help": one_line(one.help), "at": _at(one.span, books), "severity": one.severity.value,
    }  # fmt: skip


def _tally(marks: Iterable[Mark]) -> str:
    """How much became of what, in a phrase."""
    words = {"used": "used", "confirm": "to confirm", "asked": "in question", "unread": "not read"}
    counts = {kind: sum(m.kind == kind for m in marks) for kind in words}
    return ", ".join(f"{n} {words[kind]}" for kind, n in counts.items() if n)


def _is_architects(role: str) -> bool:
    return role in (SPECIFICATION.name, CLARIFICATION.name) or role.startswith("addendum")


DOCUMENT = Document("html", "the order, its working and the documents marked, one page for a browser", make)
