"""One trade and the rules: what it asked, what it was told, and what nobody had said."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from darby.rules.answer import Answer, Asked
from darby.rules.cascade import RuleBook
from darby.rules.rule import Rule


class Consultation:
    """A rule book at one trade's elbow: it answers, and remembers what was asked. One for each trade and run."""

    def __init__(self, book: RuleBook, orders: Mapping[str, Sequence[Any]] | None = None) -> None:
        self.book = book
        self.orders: Mapping[str, Sequence[Any]] = orders or {}
        """The line items of other trades, by the name of the trade: of those that `Trade.after` names and that work on the job."""
        self.answers: list[Answer] = []
        self.unanswered: list[Asked] = []
        self._noted: set[tuple[Asked, int]] = set()

    def ask(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> Answer | None:
        """As `RuleBook.ask`; what is found becomes known as used, what is not becomes a question."""
        answer = self.peek(kind, subject, about, take=take)
        if answer is None:
            self._silence(Asked.of(kind, subject, about))
        return answer

    def peek(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> Answer | None:
        """As `ask`, for what may well be missing: a silence raises no question."""
        answer = self.book.ask(kind, subject, about, take=take)
        if answer is not None:
            self._note(answer)
        return answer

    def all(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> tuple[Answer, ...]:
        """As `RuleBook.all`; every rule found becomes known as used, and finding none becomes a question."""
        answers = self.book.all(kind, subject, about, take=take)
        for answer in answers:
            self._note(answer)
        if not answers:
            self._silence(Asked.of(kind, subject, about))
        return answers

    def use(self, answer: Answer) -> Answer:
        """An answer that a trade chose for itself from `book.all` becomes known as used; those it left do not."""
        self._note(answer)
        return answer

    def miss(self, kind: str, subject: str, about: Mapping[str, str] | None = None) -> None:
        """What was said is of no use here (a weight where a volume is wanted): it becomes a question, as a silence does."""
        self._silence(Asked.of(kind, subject, about))

    def wanted(self, subject: str) -> bool:
        """Whether goods that only some jobs have are named in this one; True where no document could name any."""
        return self.book.named is None or subject in self.book.named

    @property
    def used(self) -> tuple[Rule, ...]:
        """The rules that held, each once, in order of first use."""
        return tuple({id(a.rule): a.rule for a in self.answers}.values())

    @property
    def heard(self) -> Iterator[Rule]:
        """Every rule that had a say in an answer, whether it held or not."""
        return (rule for answer in self.answers for rule in answer.heard)

    def _note(self, answer: Answer) -> None:
        key = (answer.asked, id(answer.rule))
        if key not in self._noted:
            self._noted.add(key)
            self.answers.append(answer)

    def _silence(self, asked: Asked) -> None:
        if (asked, 0) not in self._noted:
            self._noted.add((asked, 0))
            self.unanswered.append(asked)
