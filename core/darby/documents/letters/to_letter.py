"""The letter of questions to whoever wrote the documents: the clause behind each, what was assumed, what answers change."""

from __future__ import annotations

from collections.abc import Iterator

from darby.documents.letters.asked import Point, asked
from darby.documents.letters.forms import forms
from darby.documents.letters.heads import BLANK, head
from darby.documents.letters.prose import Block, Heading, Paragraph, Prose, entries
from darby.documents.tables import Column, Sheet, csv_document
from darby.documents.words import documents_used, listed, one_line
from darby.estimate.model import Estimate

_LABELS = ("date", "number", "from", "to", "reply by")
_ANSWER = BLANK * 2


def write(estimate: Estimate) -> Prose:
    """The letter."""
    papers = documents_used(estimate)
    sent = estimate.job.sending.letter
    title = f"Questions on the finishes: {one_line(estimate.job.name) or 'unnamed job'}"
    blocks: list[Block] = [head({"to": "The specifier", **sent}, _LABELS)]
    source = f"We have worked from {listed(papers)}." if papers else "No specification has reached us."
    wanted = asked(estimate)
    if not wanted:
        return Prose(title, [*blocks, Paragraph(f"{source} We have no questions.")])
    by = f" by {one_line(sent['reply by'])}" if "reply by" in sent else ""
    blocks.append(
        Paragraph(
            f"{source} Please answer these questions{by}. Until then our quantities rest on what we assumed, and they change "
            "with your answers as shown."
        )
    )
    blocks += [Heading("Questions"), entries((tuple(_entry(point)) for point in wanted), numbered=True)]
    return Prose(title, blocks)


def _entry(point: Point) -> Iterator[Paragraph]:
    yield Paragraph(point.text)
    if point.clauses:
        yield from (Paragraph(clause, "Clause") for clause in point.clauses)
    else:
        yield Paragraph("none speaks of it", "Clause")
    yield Paragraph(f"{point.assumed or 'nothing'}.", "Assumed")
    for answer, change in point.changes:
        yield Paragraph(f"{change}.", f"If {answer}" if answer else "It affects")
    yield Paragraph(_ANSWER, "Answer")


def log(estimate: Estimate) -> Sheet:
    """The clarification log: what was asked when, and room for the answer; `answers` in a job file reads it back."""
    sent = estimate.job.sending.letter
    rows = tuple(
        (
            point.number, sent.get("date", ""), one_line(sent.get("to", "The specifier")), point.text, "; ".join(point.clauses),
            point.assumed, "; ".join(f"{answer}: {change}" if answer else change for answer, change in point.changes), "", "", "",
        )
        for point in asked(estimate)
    )  # fmt: skip
    names = "no.|asked|to|question|clauses|assumed|changes|answered|by|answer".split("|")
    return Sheet("clarifications", tuple(Column(name) for name in names), rows)


DOCUMENTS = (
    *forms("letter", "the letter of questions to the specifier", write),
    csv_document("clarifications.csv", "the clarification log: questions asked, with room for answers", log),
)
