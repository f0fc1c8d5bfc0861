"""The cascade: of all rules of a kind for a subject, which one holds, which it beat, and what nobody said."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from attrs import frozen

from darby.amounts import Amount
from darby.rules import Layer, Rule, Scope

_WEIGHT = {"name": 8, "room": 4, "surface": 2}
"""How much a scope key narrows. One surface of the job beats a room, a room beats a kind of surface; all else counts 1."""


@frozen
class Asked:
    """What a trade wanted to know."""

    kind: str
    subject: str
    about: Scope


@frozen(eq=False)
class Conflict:
    """Rules of equal rank that answer differently. `used` buys more material, or came first where that cannot be said."""

    asked: Asked
    used: Rule
    others: tuple[Rule, ...]


@frozen(eq=False)
class Answer:
    """The rule that holds, those it beat (strongest first), and the conflict it came out of, if any."""

    asked: Asked
    rule: Rule
    beaten: tuple[Rule, ...] = ()
    conflict: Conflict | None = None

    @property
    def amount(self) -> Amount:
        """The rule's amount; of a range the end that buys more."""
        return self.rule.governing

    @property
    def rate(self) -> Amount:
        """The rule's amount for one of what it is per."""
        return self.rule.rate

    @property
    def layer(self) -> Layer:
        """Which layer answered."""
        return self.rule.layer

    def __getitem__(self, key: str) -> str:
        """A scope value of the rule, as its sheen; nothing where it has none."""
        return self.rule.scope.get(key, "")


class RuleBook:
    """All rules of a job, indexed by kind and subject. Asking it changes nothing."""

    def __init__(self, rules: Iterable[Rule]) -> None:
        self.rules = tuple(rules)
        self._shelf: dict[tuple[str, str], list[Rule]] = {}
        for rule in self.rules:
            self._shelf.setdefault((rule.kind.name, rule.subject), []).append(rule)

    def ask(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> Answer | None:
        """The rule that holds for `subject` under `about` (surface, room, sheen and so on), or None.

        A rule applies when every key of its scope is met by `about`, or is among `take`: keys that describe the answer
        instead of limiting it (the sheen of "two coats eggshell"). A key in `about` must be met if the rule has it.
        """
        raise NotImplementedError


class Consultation:
    """A rule book at one trade's elbow: it answers, and remembers what was asked. One for each trade and run."""

    def __init__(self, book: RuleBook) -> None:
        self.book = book
        self.answers: list[Answer] = []
        self.unanswered: list[Asked] = []

    def ask(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> Answer | None:
        """As `RuleBook.ask`; what is found becomes known as used, what is not becomes a question."""
        raise NotImplementedError

    def peek(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> Answer | None:
        """As `ask`, for what may well be missing: a silence raises no question."""
        raise NotImplementedError
