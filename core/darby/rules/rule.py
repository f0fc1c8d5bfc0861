"""Rules: what one clause says, as a checked object; where it stands in the cascade; what kinds there are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import Literal

from attrs import field, frozen

from darby.quantities.amounts import Amount
from darby.quantities.units import Dimension
from darby.text.spans import Span

Bound = Literal["exact", "at least", "at most", "about"]
"""What the words around a number make of it; `exact` where there are none."""


@frozen
class Kind:
    """A kind of rule: what its amount measures, and which way more material is bought.

    `amount` and `per` list the dimensions allowed; an empty `per` means the kind has none. `more` is `smaller` where a
    smaller amount buys more (a coverage), `larger` where a larger one does, None where it cannot be said (a sheet size).
    `wanted` is the question that asks for it, with `{subject}` or `{subjects}` and `{where}` in it: "How many coats of
    {subject}{where}?"; without a question mark it is the object of one: "how many coats of {subject} are wanted".
    `known_to` says who can answer: `specifier` or `supplier`; `estimator` where it is the firm's own figure.
    """

    name: str
    """What a `Fact` and `Consultation.ask` call it: `coverage`."""
    amount: frozenset[Dimension]
    per: frozenset[Dimension] = frozenset()
    more: Literal["smaller", "larger"] | None = None
    wanted: str = ""
    known_to: Literal["specifier", "supplier", "estimator"] = "specifier"
    assigns: bool = False
    """Whether its choice is the mark of a system, whose rules then hold where it is given."""


@frozen(order=True)
class Layer:
    """A layer of the cascade; the greater beats the lesser. `number` orders addenda among themselves."""

    rank: int
    """From 0, the defaults, to 4, the estimator's own lines."""
    number: int = 0
    name: str = field(default="", order=False)
    """As it is shown: `house`, `addendum 2`."""

    @property
    def estimators(self) -> bool:
        """Whether its lines are the estimator's own for this job, above every document."""
        return self.rank >= OVERRIDE.rank


DEFAULT = Layer(0, name="default")
"""What a trade assumes where nobody says otherwise."""
HOUSE = Layer(1, name="house")
"""A firm's own lines, above the defaults and below every document of the job."""
SPECIFICATION = Layer(2, name="specification")
"""The documents of the job, below their addenda."""
REVISION = Layer(3, 0, "revision")
"""Changes that a document of the specification tells below itself, under no number: above it, and below every addendum."""
OVERRIDE = Layer(4, name="override")
"""The estimator's own lines in the job file, above all else."""
TRIED = Layer(4, 1, "way")
"""What is tried in a way of doing the work that is held beside the bid: above her own lines, and in no estimate but that one."""


def addendum(number: int) -> Layer:
    """The layer of an addendum, numbered from 1."""
    return Layer(3, number, f"addendum {number}")


def alternate(number: str) -> Layer:
    """The layer of an alternate that is taken, by its number or letter (`2`, `2B`, `A`): above any addendum, of two the later one."""
    digits, letter = number.rstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"), number[-1:]
    behind = ord(letter) - ord("A") + 1 if letter.isalpha() else 0
    return Layer(3, 10**6 + int(digits or 0) * 100 + behind, f"alternate {number}")


CLARIFICATION = Layer(3, 1_000_000, "clarification")
"""Answers to the questions that were asked: above the addenda, below the estimator's own lines."""


_LEADING = frozenset({"into"})
"""Keys of a scope that are read with their value."""


class Scope(Mapping[str, str]):
    """What a rule is said of: surface, room, sheen and so on. Immutable, ordered by key, equal by content."""

    __slots__ = ("_items",)

    def __init__(self, items: Mapping[str, str] | Iterable[tuple[str, str]] = ()) -> None:
        self._items = dict(sorted(dict(items).items()))

    def __getitem__(self, key: str) -> str:
        return self._items[key]

    def __contains__(self, key: object) -> bool:  # the mapping's own asks for the value and catches what it raises
        return key in self._items

    def __iter__(self) -> Iterator[str]:
        return iter(self._items)

    def __len__(self) -> int:
        return len(self._items)

    def __hash__(self) -> int:
        return hash(tuple(self._items.items()))

    def __repr__(self) -> str:
        return f"Scope({self._items!r})"

    def __str__(self) -> str:
        return ", ".join(map(self.told, self._items))

    def told(self, key: str) -> str:
        """A value as it stands in a list: alone, or behind its key where that is a word which leads to it (`into steel`)."""
        return f"{key} {self[key]}" if key in _LEADING else self[key]


def _scope(value: Mapping[str, str]) -> Scope:
    return value if isinstance(value, Scope) else Scope(value)


@frozen(slots=False, eq=False)
class Rule:
    """One thing one clause says. `amount` and `per` are leaves whose origin points at the clause.

    A coverage of 250 sq ft per gal has the amount 250 sq ft and the per 1 gal; `rate` is their quotient. A range has its
    lower end in `amount` and its upper end in `upper`. A sheet has its width in `amount`, its length in `by`.
    """

    kind: Kind
    """What sort of thing it says: a coverage, a spacing."""
    subject: str
    """The product it is said of, by its canonical name."""
    scope: Scope = field(converter=_scope)
    """Where and of which sort of it: `surface`, `room`, `sheen` and so on; empty where it is said of all."""
    amount: Amount
    layer: Layer
    """Whose word it is."""
    span: Span
    """The clause, in its document."""
    per: Amount | None = None
    upper: Amount | None = None
    by: Amount | None = None
    bound: Bound = "exact"
    """Whether the number is a limit: at least, at most."""
    cited: str = ""
    """The bracketed source at the end of a defaults or house line, as in `ASTM C840, table 1`."""
    bound_by: tuple[tuple[str, str], ...] = ()
    """Which binding rule gave the subject, the surface and the like: pairs of what and how."""
    choice: str = ""
    """What a rule of a choice says in words (`eggshell`); its amount is then a bare one and counts nothing."""
    assigned: Span | None = None
    """Of a rule of a system that holds at a place: the clause that gives the system to the place."""
    confirm: str = ""
    """Why the reading should be looked at before it is believed, in a sentence; nothing where the evidence is good."""

    @property
    def key(self) -> str:
        """A name for the rule within one estimate: file, line and column, kind."""
        return f"{self.span} {self.kind.name}" + (f" {self.scope['surface']}" if "surface" in self.scope else "")

    @cached_property
    def rate(self) -> Amount:
        """The amount that governs, for one of whatever it is per: of a range the end that buys more material.

        A coverage of 250 sq ft per gal gives 250 sq ft/gal; coats give their number.
        """
        amount = self.governing
        return (amount / self.per).named(amount.label) if self.per is not None else amount

    @property
    def governing(self) -> Amount:
        """The amount; of a range, the end that buys more material."""
        return self.upper if self.upper is not None and self.kind.more == "larger" else self.amount

    @property
    def answer(self) -> tuple[object, ...]:
        """What the rule says, for telling equal answers from different ones."""
        return (self.choice,) if self.choice else (self.amount, self.per, self.upper, self.by)

    def buys_more_than(self, other: Rule) -> bool:
        """Whether following this rule buys more material than following the other of the same kind; False where unknown."""
        mine, theirs = self.rate, other.rate
        if self.kind.more is None or mine.unit.dimension != theirs.unit.dimension:
            return False
        return mine < theirs if self.kind.more == "smaller" else mine > theirs

    def says(self) -> str:
        """What the rule says, in a few words and exact: `250 sq ft per 1 gal`."""
        if self.choice:
            return self.choice
        text = self.amount.exact()
        if self.upper is not None:
            text = f"{text} to {self.upper.exact()}"
        if self.by is not None:
            text = f"{text} by {self.by.exact()}"
        if self.per is not None:
            text = f"{text} per {self.per.exact()}"
        return text if self.bound == "exact" else f"{self.bound} {text}"
