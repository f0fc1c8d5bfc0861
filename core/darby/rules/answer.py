"""What a trade asked, and what it was told: the rule that holds, with those that it beat and those that contradict it."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen

from darby.quantities.amounts import Amount
from darby.rules.rule import Layer, Rule, Scope


@frozen
class Asked:
    """What a trade wanted to know."""

    kind: str
    subject: str
    about: Scope

    @classmethod
    def of(cls, kind: str, subject: str, about: Mapping[str, str] | None) -> Asked:
        """A question, without the keys whose value is empty."""
        return cls(kind, subject, Scope({k: v for k, v in (about or {}).items() if v}))


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
    """The kind, the subject and the place that were asked about."""
    rule: Rule
    """The one that holds."""
    beaten: tuple[Rule, ...] = ()
    """Rules that apply too and are weaker, strongest first."""
    conflict: Conflict | None = None
    """Rules of equal rank that say something else; None where there are none."""
    agreeing: tuple[Rule, ...] = ()
    """Rules of equal rank that say the same."""

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

    @property
    def heard(self) -> tuple[Rule, ...]:
        """Every rule that had a say: the one that holds, then those that agree, contradict and were beaten."""
        return (self.rule, *self.agreeing, *(self.conflict.others if self.conflict else ()), *self.beaten)

    def __getitem__(self, key: str) -> str:
        """A scope value of the rule, as its sheen; an empty text where it has none."""
        return self.rule.scope.get(key, "")
