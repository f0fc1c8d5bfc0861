"""What the documents leave in doubt beside what a trade asked: unclear words, changes that could not be carried out, marks that are
defined by nobody or twice. Each is worded for whoever wrote the documents.
"""

from __future__ import annotations

from collections.abc import Iterator

from attrs import frozen

from darby.documents.letters.said import cells_of, quoted, sentence_at
from darby.documents.words import clause_number, one_line, place, quote, sentence
from darby.estimate.model import Estimate
from darby.reading.account.word_questions import LEFT_AS_IT_IS
from darby.rules.rule import SPECIFICATION, Layer
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Span

_UNCLEAR = "unclear"
_CHANGES = ("amend-nothing", "amend-several")
_MARKS = {
    "system-undefined": "Please send what defines it.",
    "system-defined-twice": "Which holds?",
    "system-given-twice": "Which holds?",
}
"""Doubts about marks by their code, with what is asked."""
_TAKEN = {
    "system-undefined": "what the documents say of such places otherwise",
    "system-defined-twice": "what is said first, or buys more",
    "system-given-twice": "what is said first, or buys more",
}
"""What is assumed meanwhile."""
_OURS_TO_TELL = "is it yours?"
"""How a doubt ends that the estimator alone can settle."""
_NO_RULE = ": no rule was made of it"
"""How a doubt ends with what came of it here, which is nothing to whoever is asked."""
_EXCEPTED = "an exception: what holds there is not said"
"""How a doubt is told where words take something out of a clause."""

_LABEL = 60
"""Letters of a label that is quoted with what stands behind it."""


@frozen
class Raised:
    """One doubt: the question, the clauses that raise it, and what was assumed meanwhile."""

    text: str
    clauses: tuple[str, ...]
    assumed: str = ""
    place: str = ""
    """The first of the clauses, as the document itself counts it."""
    spans: tuple[Span, ...] = ()
    """Of marks that are defined or given twice, both places."""


def raised(estimate: Estimate) -> Iterator[Raised]:
    """Every doubt of the specification and its addenda, several words of one clause once."""
    own = {id(source) for source, layer in estimate.papers if is_document(layer)}
    told: set[tuple[str, int]] = set()
    for one in estimate.diagnostics:
        span = one.span
        if span is None or one.severity is not Severity.QUESTION or id(span.source) not in own:
            continue
        if LEFT_AS_IT_IS in one.message:
            continue  # the scope note quotes it as excluded: nothing is open for whoever wrote it
        if one.code == _UNCLEAR and not one.message.endswith(_OURS_TO_TELL):
            whole = sentence_at(span.source, span.start, span.end)
            key = (whole.source.name, whole.start)
            if key not in told:
                told.add(key)
                yield _unclear(one, span, whole)
        elif one.code in _CHANGES:
            said, _, kept = sentence(one.message).rstrip(".").partition("; ")
            ask = "" if said.endswith("?") else ". How does it read with this change?"
            assumed = kept or "the change is not made"
            yield Raised(f"{said}{ask}", (_cited(span),), assumed, clause_number(span))
        elif one.code in _MARKS:
            clauses = dict.fromkeys(_cited(label.span) for label in one.labels)
            text, number = f"{sentence(one.message)} {_MARKS[one.code]}", clause_number(span)
            yield Raised(text, tuple(clauses), _TAKEN[one.code], number, tuple(label.span for label in one.labels))


def _unclear(one: Diagnostic, span: Span, whole: Span) -> Raised:
    why = one_line(one.message).rstrip(".")
    words = quote(span)
    said = why.removeprefix(f"{words}: ")
    clauses, number = (f"{where(whole)}: {quoted(whole)}",), clause_number(whole)
    if said == _EXCEPTED:  # with what it takes out, which stands behind the word
        there = quoted(whole.source.span(span.start, whole.end))
        text = f"Where does this exception apply, and what holds there: {there}?"
        return Raised(text, clauses, "the exception applies nowhere", number)
    if cells := cells_of(span):  # the rows of a table have no stops: all of it would be one sentence
        clauses = (f"{where(span)}: {cells}",)
    told = said.removesuffix(_NO_RULE).replace(": ", "; ")
    return Raised(
        f"Please clarify {words}: {told}." if said != why else f"Please clarify: {told}.", clauses, "", number
    )


def _cited(span: Span) -> str:
    return f"{where(span)}: {saying(span)}"


def saying(span: Span) -> str:
    """What is quoted of a clause: its sentence with the label before it (`PT-2: two coats`); of a row of a table its cells."""
    if cells := cells_of(span):
        return cells
    whole = sentence_at(span.source, span.start, span.end)
    begin = span.source.text.rfind("\n", 0, whole.start) + 1
    label = span.source.text[begin : whole.start].strip()
    if label.endswith(":") and len(label) <= _LABEL:
        whole = span.source.span(begin, whole.end)
    return quoted(whole)


def where(span: Span) -> str:
    """A place as its author looks it up: section and paragraph with the page where there are pages, else the line."""
    number = clause_number(span)
    at = place(span) if span.source.unit != "page" else f"{one_line(span.source.name)}, {span.where.partition(',')[0]}"
    return f"{number} ({at})" if number else at


def is_document(layer: Layer) -> bool:
    """Whether a layer is the specification or an addendum."""
    return layer.rank in {SPECIFICATION.rank, SPECIFICATION.rank + 1}
