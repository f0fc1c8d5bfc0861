"""What is open in an estimate, sorted by what one does about it: each point once, however many parts of Darby met it."""

from __future__ import annotations

from functools import cached_property

from attrs import frozen

from darby.estimate.model import Assumption, Estimate, Question
from darby.rules.answer import Conflict
from darby.rules.rule import DEFAULT
from darby.text.diagnostics import Diagnostic, Severity


@frozen(eq=False, slots=False)
class OpenPoints:
    """The open points of one estimate."""

    estimate: Estimate

    @cached_property
    def looks(self) -> tuple[Diagnostic, ...]:
        """What wants a look and is no number that was not read: those are shown in place already."""
        unread: dict[int, list[tuple[int, int]]] = {}
        for span, _ in self.estimate.unread:
            unread.setdefault(id(span.source), []).append((span.start, span.end))

        def said_already(one: Diagnostic) -> bool:
            span = one.span
            if one.code != "unclear" or span is None:
                return False
            return any(start < span.end and span.start < end for start, end in unread.get(id(span.source), ()))

        loud = [d for d in self.estimate.diagnostics if d.severity is not Severity.NOTE]
        return tuple(d for d in loud if not said_already(d))

    @cached_property
    def notes(self) -> tuple[Diagnostic, ...]:
        """What is good to know."""
        return tuple(d for d in self.estimate.diagnostics if d.severity is Severity.NOTE)

    @cached_property
    def questions(self) -> tuple[Question, ...]:
        """What the documents could answer, and what nothing stands in for. Conflicts ask for themselves."""
        return tuple(
            question
            for question in self.estimate.questions
            if self.conflict(question) is None and (question.to == "specifier" or self.stand_in(question) is None)
        )

    @cached_property
    def _stand_ins(self) -> dict[tuple[int, int, int], Assumption]:
        found: dict[tuple[int, int, int], Assumption] = {}
        for one in self.estimate.assumptions:
            span = one.answer.rule.span
            found.setdefault((id(span.source), span.start, span.end), one)
        return found

    def stand_in(self, question: Question) -> Assumption | None:
        """What is used until the question is answered."""
        span = question.place
        return None if span is None else self._stand_ins.get((id(span.source), span.start, span.end))

    @cached_property
    def _conflicts(self) -> dict[tuple[int, int, int], Conflict]:
        spans = [(c, c.used.span) for c in reversed(self.estimate.conflicts)]
        return {(id(span.source), span.start, span.end): conflict for conflict, span in spans}

    def conflict(self, question: Question) -> Conflict | None:
        """The conflict that a question asks about."""
        span = question.place
        return None if span is None else self._conflicts.get((id(span.source), span.start, span.end))

    @cached_property
    def defaults(self) -> tuple[Assumption, ...]:
        """What Darby's own lines supplied."""
        return tuple(a for a in self.estimate.assumptions if a.answer.layer == DEFAULT)

    @cached_property
    def house(self) -> tuple[Assumption, ...]:
        """What the firm's lines supplied."""
        return tuple(a for a in self.estimate.assumptions if a.answer.layer > DEFAULT)

    def counts(self) -> tuple[str, ...]:
        """How much is open of each sort, the most pressing first: `3 readings to confirm`, `20 numbers not read`."""
        found = (
            (len(self.estimate.checks), "measure to check", "measures to check"),
            (len(self.looks), "point to look at", "points to look at"),
            (len(self.estimate.confirmations), "reading to confirm", "readings to confirm"),
            (len(self.estimate.unread), "number not read", "numbers not read"),
            (len(self.estimate.conflicts), "conflict", "conflicts"),
            (len(self.questions), "question", "questions"),
        )
        return tuple(counted(number, one, many) for number, one, many in found if number)


def counted(number: int, one: str, many: str = "") -> str:
    """`1 question`, `2 questions`, `no questions`."""
    return f"{f'{number:,}' if number else 'no'} {one if number == 1 else many or one + 's'}"
