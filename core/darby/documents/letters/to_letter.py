"""The letter of questions to the architect: where each stands, what was assumed meanwhile, what the answer changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from darby.documents.confirmations import otherwise, read_as
from darby.documents.differences import Difference, differences
from darby.documents.letters.forms import forms
from darby.documents.letters.prose import Block, Heading, Paragraph, Prose, entries
from darby.documents.words import clause, documents_used, listed, name_of, one_line, order_of, quote, says, whereabouts
from darby.estimate.model import Confirmation, Estimate, Question
from darby.rules.answer import Conflict
from darby.rules.rule import SPECIFICATION, Layer, Rule
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Span

_PLACES = 4


def write(estimate: Estimate) -> Prose:
    """The letter."""
    papers = documents_used(estimate)
    asked = [question for question in estimate.questions if _for_architect(question, estimate)]
    unclear = [d for d in estimate.diagnostics if _is_unclear(d, estimate)]
    title = f"Questions on the finishes: {one_line(estimate.job.name) or 'unnamed job'}"
    blocks: list[Block] = [Paragraph("To the Architect")]
    source = f"We have worked from {listed(papers)}." if papers else "No specification has reached us."
    doubted = [one for one in estimate.confirmations if _is_document(one.rules[0].layer)]
    if not asked and not unclear and not doubted:
        return Prose(title, [*blocks, Paragraph(f"{source} We have no questions.")])
    blocks.append(
        Paragraph(
            f"{source} Please answer what follows. Until then our quantities rest on what we say we assumed, and they "
            "change with your answer as shown."
        )
    )
    if asked:
        blocks += [Heading("Questions"), entries((tuple(_question(q, estimate)) for q in asked), numbered=True)]
    if doubted:
        blocks += [
            Heading("Please confirm"),
            Paragraph(
                "We have taken these words to mean what we say, and ordered by it. Please tell us where they do not."
            ),
            entries((tuple(_doubted(one, estimate)) for one in doubted), numbered=True),
        ]
    if unclear:
        blocks += [
            Heading("Not clear to us"),
            Paragraph("We could not tell what these words ask for. Nothing was taken from them."),
            entries((tuple(_unclear(d)) for d in unclear), numbered=True),
        ]
    return Prose(title, blocks)


def _for_architect(question: Question, estimate: Estimate) -> bool:
    """What the specifier can answer, and every contradiction of the documents themselves, whoever knows the figure."""
    conflict = _conflict(question, estimate)
    if conflict is not None:
        return conflict.used.layer.rank in {SPECIFICATION.rank, SPECIFICATION.rank + 1}
    return question.to == "specifier"


def _conflict(question: Question, estimate: Estimate) -> Conflict | None:
    return next((c for c in estimate.conflicts if c.used.span == question.place), None)


def _question(question: Question, estimate: Estimate) -> Iterator[Paragraph]:
    conflict = _conflict(question, estimate)
    sentence, _, _ = one_line(question.text).partition(". The documents ")
    yield Paragraph(f"{sentence.rstrip('.')}.")
    if conflict is not None:
        rules = (conflict.used, *conflict.others)
        yield Paragraph("; ".join(f"{quote(r.span)} in {whereabouts(r.span)}" for r in rules), "Said in two ways")
        yield Paragraph(f"{says(conflict.used)}.", "Assumed meanwhile")
    else:
        rules = tuple(a.answer.rule for a in estimate.assumptions if a.answer.rule.span == question.place)
        yield Paragraph(_where_it_belongs(rules, estimate), "Place")
        meanwhile = (says(rules[0]) if rules[0].amount else quote(rules[0].span)) if rules else ""
        yield Paragraph(f"{meanwhile}." if meanwhile else "nothing; the lines below wait for it.", "Assumed meanwhile")
    yield from _difference(question, estimate)


def _where_it_belongs(rules: Iterable[Rule], estimate: Estimate) -> str:
    """Where the documents speak of the product without saying this."""
    subjects = {rule.subject for rule in rules}
    spans: dict[tuple[str, int], Span] = {}
    for rule in estimate.rules:
        if _is_document(rule.layer) and rule.subject in subjects:
            spans.setdefault((rule.span.source.name, rule.span.line), rule.span)
    if not spans:
        return "the documents do not speak of it."
    first = [whereabouts(span) for span in list(spans.values())[:_PLACES]]
    more = f" and {len(spans) - _PLACES} more places" if len(spans) > _PLACES else ""
    return f"not stated; the documents speak of {listed(sorted(subjects))} in {'; '.join(first)}{more}."


def _difference(question: Question, estimate: Estimate) -> Iterator[Paragraph]:
    """What each possible answer does to the order, in packages."""
    by_answer: dict[str, list[Difference]] = {}
    for one in differences(question, estimate):
        by_answer.setdefault(one.answer, []).append(one)
    for answer, made in by_answer.items():
        yield Paragraph(f"{'; '.join(map(str, made))}.", f"With {answer}")
    if not by_answer:
        moved = listed(f"{name_of(i)} ({order_of(i)} now)" for i in estimate.items if i.id in question.items)
        yield Paragraph(f"it moves {moved}; by how much, the answer decides." if moved else "none.", "Difference")


def _is_document(layer: Layer) -> bool:
    return layer.rank in {SPECIFICATION.rank, SPECIFICATION.rank + 1}


def _is_unclear(diagnostic: Diagnostic, estimate: Estimate) -> bool:
    """Whether words of the specification or an addendum are in doubt."""
    span = diagnostic.span
    own = [source for source, layer in estimate.papers if _is_document(layer)]
    return diagnostic.severity is Severity.QUESTION and span is not None and any(span.source is s for s in own)


def _doubted(one: Confirmation, estimate: Estimate) -> Iterator[Paragraph]:
    yield Paragraph(clause(one.rules[0]))
    yield Paragraph(f"{whereabouts(one.place)}.", "Place")
    yield Paragraph(f"{read_as(one)}.", "Read as")
    moved = otherwise(one, estimate)
    if moved:
        yield Paragraph(f"{moved}.", "Without it")


def _unclear(diagnostic: Diagnostic) -> Iterator[Paragraph]:
    span = diagnostic.span
    assert span is not None
    yield Paragraph(f"“{one_line(span.source.line_text(span.line))}”")
    yield Paragraph(f"{whereabouts(span)}.", "Place")
    yield Paragraph(f"{one_line(diagnostic.message).rstrip('.')}.", "In doubt")


DOCUMENTS = forms("letter", "the letter of questions to the architect", write)
