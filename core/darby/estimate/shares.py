"""Shares: what each place takes of a product, put together with the shares that are bought, or measured, together."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Iterable, Mapping, Sequence
from typing import Protocol, TypeVar

from darby.estimate.areas import Deduct, Place, pooled
from darby.estimate.line_item import LineItem
from darby.quantities.amounts import Amount, total
from darby.quantities.units import AREA, Dimension
from darby.rules.answer import Answer
from darby.rules.consultation import Consultation
from darby.rules.rule import Rule


class Share(Protocol):
    """What one place takes of a product. A trade's own class has the answers that shape it, and these besides."""

    @property
    def place(self) -> Place:
        """Where it goes."""
        ...

    @property
    def deduct(self) -> Deduct:
        """What the rule book says of openings there."""
        ...

    @property
    def alike(self) -> Hashable:
        """What must agree for two shares to be measured together, as one subtotal: the kind of surface, and the rules."""
        ...


_T = TypeVar("_T")
_K = TypeVar("_K", bound=Hashable)
_S = TypeVar("_S", bound=Share)


def grouped(things: Iterable[_T], key: Callable[[_T], _K]) -> dict[_K, list[_T]]:
    """Things by a key, as shares by what must agree for them to be bought together; keys and things in order of first use."""
    groups: dict[_K, list[_T]] = {}
    for thing in things:
        groups.setdefault(key(thing), []).append(thing)
    return groups


def alike(shares: Iterable[_S]) -> list[list[_S]]:
    """The shares of a pool in groups that are measured together, each of which makes one subtotal."""
    return list(grouped(shares, lambda share: share.alike).values())


def area_of(shares: Sequence[Share], label: str, units: str) -> Amount:
    """Net area of all surfaces of some shares that are alike, in the usual area of `units`. Raises IndexError where there is none."""
    surfaces = [surface for share in shares for surface in share.place.surfaces]
    return pooled(surfaces, shares[0].deduct, label, units=units)


def area_over(lines: Iterable[LineItem], shares: Mapping[LineItem, Sequence[_S]], units: str) -> Amount:
    """Net area that some lines go over, by the shares that each is made of; a share of several lines counts once."""
    once = {id(share): share for line in lines for share in shares[line]}
    return total((area_of(group, "area", units) for group in alike(once.values())), "area")


def layers_on(place: Place, subject: str, book: Consultation) -> Answer | None:
    """How many layers of a subject, whatever their type, lie on each side of a place; None where there are none.

    A silence becomes a question, as with `Consultation.ask`.
    """
    layers = book.ask("layers", subject, {**place.about, "where": "each side"}, take=("type",))
    return layers if layers is not None and layers.amount else None


def by_area(rule: Rule, dimensions: Collection[Dimension]) -> bool:
    """Whether a rule is a rate over an area, of what is told in one of some dimensions: `14 lb per 100 sq ft` is one of MASS."""
    return rule.amount.unit.dimension in dimensions and rule.per is not None and rule.per.unit.dimension == AREA


def no_use_over_area(rule: Rule) -> str:
    """The sentence that tells whoever checks the order that a rate is none over an area."""
    return f"The rate of {rule.says()} ({rule.span}) cannot be used over an area."


def rules_of(*answers: Answer | None) -> tuple[Rule, ...]:
    """The rules behind some answers, those that were not given left out."""
    return tuple(answer.rule for answer in answers if answer is not None)
