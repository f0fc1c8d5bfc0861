"""What a page shows of an estimate, each part made when it is looked at, and once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import Any

from attrs import frozen

from darby.desk.files.folder import stamp_of
from darby.desk.panes.money import Prices
from darby.documents.differences import Difference, differences
from darby.documents.letters.asked import TO, answer_to, dated, doubt, marked, points
from darby.documents.letters.own_questions import questions_of
from darby.documents.needs import Need, needs
from darby.documents.open_points import OpenPoints
from darby.documents.page.marked_text import Marked, Shelf, shelf
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
from darby.estimate.model import Confirmation, Estimate, Question
from darby.reading.account.ledger import MAY_BE_ORDERED
from darby.text.spans import Span

View = dict[str, Any]

_LINE = 160
"""Letters of a line in which a number that was set aside is shown."""
_WEIGHED = 1_000
"""Surfaces up to which every question says what its answers change without being asked: two hundred rooms. Chosen for speed."""


@frozen(eq=False, slots=False)
class Books:
    """One estimate, as the panes show it."""

    estimate: Estimate
    prices: Prices | None = None
    """What its goods cost, where the job says so."""

    @cached_property
    def needs(self) -> tuple[Need, ...]:
        """What is ordered."""
        return needs(self.estimate)

    @cached_property
    def shelf(self) -> Shelf:
        """The documents with their marks."""
        return shelf(self.estimate)

    @cached_property
    def missing(self) -> list[str]:
        """The trades whose lines are missing."""
        return [one_line(name) for name in self.estimate.missing]

    @cached_property
    def items(self) -> list[View]:
        """The lines of the order, without their working."""
        units = self.estimate.job.units
        return [
            {
                "id": f"i{need.number}", "product": one_line(need.first.product), "kind": need.kind, "need": need.needed(units),
                "order": need.order() if need.first.count is not None else "",
            }
            for need in self.needs
        ]  # fmt: skip

    def working(self, name: str) -> View | None:
        """One line of the order with its working; None where there is none of that name."""
        need = next((need for need in self.needs if f"i{need.number}" == name), None)
        return line_view(need, self.estimate, self.shelf, packing=False) if need is not None else None

    @cached_property
    def confirmations(self) -> list[View]:
        """Readings to confirm."""
        found = list(confirmation_views(self.estimate, self.shelf))
        said = ([one["told"], one["words"], one["at"]["mark"] if one["at"] else ""] for one in found)
        return [
            {**one, "field": name, "point": doubt(known), "money": self._moved(known)}
            for one, name, known in zip(found, _names("c", said), self.estimate.confirmations, strict=True)
        ]

    def _moved(self, one: Confirmation) -> str:
        """What the order costs otherwise without a reading."""
        if self.prices is None or not one.without:
            return ""
        sides = ((shift.now, shift.then) for shift in one.without)
        return self.prices.moved(
            (now, now.count if now is not None else None, then, then.count if then is not None else None)
            for now, then in sides
        )

    @cached_property
    def questions(self) -> dict[str, Question]:
        """The questions by the names of their fields."""
        asked = self.estimate.questions
        return dict(
            zip(
                _names(
                    "q",
                    ([q.to, one_line(q.ask)] for q in asked),
                ),
                asked,
                strict=True,
            )
        )

    @cached_property
    def is_weighed(self) -> bool:
        """Whether what each answer changes is worked out without being asked for."""
        return len(self.estimate.job.surfaces) <= _WEIGHED

    @cached_property
    def every_question(self) -> list[View]:
        """The questions by who can answer."""
        told = {
            id(question): {
                **question_view(question, self.estimate, self.shelf, worth=False),
                "field": name,
                "rests": self._rests(question),
                "answers": self._answers(question) if self.is_weighed else [],
            }
            for name, question in self.questions.items()
        }
        return list(question_groups(self.estimate.questions, told))

    def worth(self, name: str) -> list[View] | None:
        """What each answer to a question changes; None where there is no question of that name."""
        question = self.questions.get(name)
        return self._answers(question) if question is not None else None

    def _answers(self, question: Question) -> list[View]:
        """What each possible answer changes, in packages and, where goods have prices, in money."""
        answers: dict[str, list[Difference]] = {}
        for one in differences(question, self.estimate):
            answers.setdefault(one.answer, []).append(one)
        return [
            {
                "answer": answer, "told": "; ".join(map(str, told)),
                "money": self.prices.moved((d.item, d.now, d.item, d.then) for d in told) if self.prices is not None else "",
            }
            for answer, told in answers.items()
        ]  # fmt: skip

    def _rests(self, question: Question) -> str:
        """What the lines cost together that rest on a question."""
        items = [item for item in self.estimate.items if item.id in question.items]
        return self.prices.rests(items) if self.prices is not None and items else ""

    def asks(self, _: str) -> list[View]:
        """What the letter may ask, each with its state: `ask`, `asked` with its date, or open; then what was asked and is open no longer,
        with the answer where one was given.
        """
        sent, to_ask, before = self.estimate.job.sending, self.tally["ask"], self.tally["asked"]
        found = [_asked(one.text, to_ask, before) for one in points(self.estimate)]
        there = {one["text"] for one in found}
        told = {dated(line)[0]: answer_to(line) for line in sent.asked}
        closed = [text for text in dict.fromkeys((*sent.ask, *before)) if one_line(text) not in there]
        return [
            *({**one, "own": one["text"] in self.own_questions} for one in found),
            *(
                {**_asked(one_line(text), to_ask, before, open_now=False), "answer": told.get(one_line(text), "")}
                for text in closed
            ),
        ]

    @cached_property
    def tally(self) -> View:
        """How many points are marked to be asked, and how many were asked."""
        sent = self.estimate.job.sending
        return {"ask": set(marked(sent)), "asked": dict(map(dated, sent.asked))}

    @cached_property
    def own_questions(self) -> dict[str, View]:
        """The questions of her own by what they ask, each with where its clause stands and what came of it."""
        asked = questions_of(self.estimate.job)
        found = {}
        for one, name in zip(asked, _names("y", ([one.text] for one in asked)), strict=True):
            span = one.place(source for source, _ in self.estimate.papers)
            told = [answer_to(line) for line in self.estimate.job.sending.asked if dated(line)[0] == one.text]
            found[one.text] = {
                "field": name, "at": place_view(span, self.shelf), "gone": bool(one.words) and span is None,
                "answer": next(filter(None, told), ""),
            }  # fmt: skip
        return found

    @cached_property
    def conflicts(self) -> list[View]:
        """Clauses that differ."""
        conflicts = self.estimate.conflicts
        found = [[rule_view(rule, self.shelf) for rule in (c.used, *c.others)] for c in conflicts]
        named = _names("k", ([rule["words"] for rule in rules] for rules in found))
        asked = {q.place: q for q in self.estimate.questions if q.to == TO}
        questions = [asked.get(c.used.span) for c in conflicts]
        return [
            {
                "rules": rules, "field": name, "point": one_line(question.ask) if question is not None else "",
                "answers": self._answers(question) if question is not None and self.is_weighed else [],
            }
            for rules, name, question in zip(found, named, questions, strict=True)
        ]  # fmt: skip

    @cached_property
    def unread(self) -> list[View]:
        """Numbers that were not read."""
        return [
            {"words": quote(span), "why": one_line(why), "at": place_view(span, self.shelf)}
            for span, why in self.estimate.unread
        ]

    @cached_property
    def aside(self) -> list[View]:
        """Numbers that were set aside and may be ones to order: the words of their line, why, and where."""
        found: dict[tuple[str, int, str], View] = {}
        for span, mark, why in self._may_be_ordered:
            line = one_line(span.source.line_text(span.line))
            words = line if len(line) <= _LINE else f"{line[: _LINE - 1].rstrip()}…"
            one = {"number": one_line(span.text), "words": words, "why": why, "at": place_view(span, self.shelf)}
            found.setdefault((span.source.name, span.line, mark), one)
        return list(found.values())

    @cached_property
    def _may_be_ordered(self) -> list[tuple[Span, str, str]]:
        """Each with the name of its mark; what is marked for a weightier reason is open there already."""
        marks = (
            (span, why, self.shelf.mark_at(span)) for span, why in self.estimate.set_aside if why in MAY_BE_ORDERED
        )
        return [
            (span, mark.name, one_line(why)) for span, why, mark in marks if mark is not None and mark.kind == "aside"
        ]

    @cached_property
    def remarks(self) -> list[View]:
        """What is to know."""
        points = OpenPoints(self.estimate)
        return [remark_view(one, self.shelf) for one in (*points.looks, *points.notes)]

    @cached_property
    def documents(self) -> dict[str, Marked]:
        """The documents by name."""
        return {one_line(one.source.name): one for one in self.shelf.documents}

    def marked(self, name: str) -> View | None:
        """The lines of one document, each mark with the lines of the order that come from it."""
        document = self.documents.get(one_line(name))
        if document is None:
            return None
        return {
            "lines": [(document.source.line_name(at), line) for at, line in enumerate(document.lines, 1)],
            "uses": self._uses(document),
            "aside": {mark for span, mark, _ in self._may_be_ordered if span.source is document.source},
        }

    def _uses(self, document: Marked) -> Mapping[str, str]:
        """The lines of the order that a mark of a document has a part in, by the name of the mark."""
        found: dict[str, dict[str, None]] = {}
        for need in self.needs:
            behind = [self.shelf.behind(item) for item in need.items]
            clauses = [rule.span for rules, _ in behind for rule in rules]
            for place in (*clauses, *(origin.place for _, measured in behind for origin in measured)):
                if place is not None and place.source is document.source:
                    mark = self.shelf.mark_at(place)
                    if mark is not None:
                        found.setdefault(mark.name, {})[f"i{need.number}"] = None
        return {name: " ".join(lines) for name, lines in found.items()}


def _asked(text: str, to_ask: set[str], before: Mapping[str, str], *, open_now: bool = True) -> View:
    state = "ask" if text in to_ask else "asked" if text in before else "open"
    return {"text": text, "state": state, "date": before.get(text, ""), "open": open_now, "answer": "", "own": False}


def _names(sign: str, points: Iterable[list[str]]) -> Iterator[str]:
    """A name for the field of each open point, by what it says, so that it stays with what was typed; of those alike each its own."""
    seen: Counter[str] = Counter()
    for said in points:
        name = sign + stamp_of(" ".join(said).encode("utf-8", "replace"))
        seen[name] += 1
        yield f"{name}-{seen[name]}"
