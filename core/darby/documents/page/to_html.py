"""The page: the order list, each line opening to its longhand, and beside it the documents with what was read marked in place.

One file that needs no network. Its policy lets in its own style and script by their hash, and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from darby.documents import checks
from darby.documents.confirmations import WAY_OUT
from darby.documents.needs import needs
from darby.documents.open_points import OpenPoints
from darby.documents.page.dates import inputs
from darby.documents.page.marked_text import Mark, Marked, shelf
from darby.documents.page.packed import document_of, is_long
from darby.documents.page.parts import (
    confirmation_views,
    line_view,
    place_view,
    question_groups,
    question_view,
    remark_view,
    rule_view,
)
from darby.documents.words import one_line, quote
from darby.estimate.document_format import Document
from darby.estimate.model import Estimate
from darby.quantities.gc_pause import in_bulk
from darby.rules.rule import CLARIFICATION, SPECIFICATION

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
    told = {key: question_view(question, estimate, books) for key, question in every.items()}
    lines = [line_view(need, estimate, books, packing=packing) for need in needs(estimate)]
    return {
        "title": one_line(estimate.job.name) or "Unnamed job",
        "missing": [one_line(name) for name in estimate.missing],
        "counts": points.counts(),
        "dates": [one_line(text) for text in dates if text][:1],
        "inputs": list(inputs(estimate)),
        "items": lines,
        "checks": [
            {"text": checks.told(d), "help": one_line(d.help), "at": [place_view(label.span, books) for label in d.labels]}
            for d in estimate.checks
        ],
        "check_head": checks.HEAD,
        "settle": checks.SETTLE,
        "looks": [remark_view(one, books) for one in points.looks],
        "confirmations": list(confirmation_views(estimate, books)),
        "way_out": WAY_OUT,
        "questions": list(question_groups(points.questions, told)),
        "every_question": list(question_groups(estimate.questions, told)),
        "conflicts": [[rule_view(rule, books) for rule in (c.used, *c.others)] for c in estimate.conflicts],
        "unread": [{"words": quote(span), "why": one_line(why), "at": place_view(span, books)} for span, why in estimate.unread],
        "assumed": [rule_view(a.answer.rule, books) for a in (*points.house, *points.defaults)],
        "remarks": [remark_view(one, books) for one in points.notes],
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


def _tally(marks: Iterable[Mark]) -> str:
    """How much became of what, in a phrase."""
    words = {"used": "used", "confirm": "to confirm", "asked": "in question", "unread": "not read"}
    counts = {kind: sum(m.kind == kind for m in marks) for kind in words}
    return ", ".join(f"{n} {words[kind]}" for kind, n in counts.items() if n)


def _is_architects(role: str) -> bool:
    return role in (SPECIFICATION.name, CLARIFICATION.name) or role.startswith("addendum")


DOCUMENT = Document("html", "the order, its working and the documents marked, one page for a browser", make)
