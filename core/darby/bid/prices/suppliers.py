"""Who is bought from: each supplier alone, with what is missing there, and the cheapest mix of them, deliveries counted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import combinations

from attrs import frozen

from darby.bid.prices.money import Currency
from darby.bid.prices.pricing import Goods, Offer

_MOST = 8
"""Suppliers of which every mix is tried; of more, each line goes where it is cheapest."""


@frozen(eq=False)
class Basket:
    """An order as it is bought from some suppliers."""

    suppliers: tuple[str, ...]
    chosen: Mapping[str, Offer]
    """The id of a line to the offer that is taken."""
    missing: tuple[Goods, ...]
    """Lines that nobody among them sells."""
    deliveries: Mapping[str, Decimal]
    """What each of them asks for a delivery, where it asks anything and something is bought there."""
    goods: Decimal
    """All packages, without deliveries."""

    @property
    def expired(self) -> int:
        """How many lines are bought at a price that holds no more."""
        return sum(offer.expired for offer in self.chosen.values())

    @property
    def sum(self) -> Decimal:
        """Packages and deliveries."""
        return sum(self.deliveries.values(), self.goods)


def each_alone(goods: Sequence[Goods], currency: Currency) -> tuple[Basket, ...]:
    """One basket for each supplier, in the order of their names."""
    return tuple(_basket((name,), goods, currency) for name in _names(goods))


def cheapest(goods: Sequence[Goods], currency: Currency, only: str = "") -> Basket:
    """The basket that leaves fewest lines without a price, rests on fewest expired prices and then costs least; of equals that of
    fewest suppliers.

    With `only` all of it is bought there.
    """
    names = [only] if only else _names(goods)
    if len(names) > _MOST:
        return _basket(tuple(names), goods, currency)
    mixes = (mix for size in range(1, len(names) + 1) for mix in combinations(names, size))
    baskets = [_basket(mix, goods, currency) for mix in mixes] or [_basket((), goods, currency)]
    return min(baskets, key=lambda b: (len(b.missing), b.expired, b.sum, len(b.suppliers), b.suppliers))


def _names(goods: Iterable[Goods]) -> list[str]:
    return sorted({name for one in goods for name in one.offers})


def _basket(names: Sequence[str], goods: Sequence[Goods], currency: Currency) -> Basket:
    chosen: dict[str, Offer] = {}
    missing: list[Goods] = []
    for one in goods:
        offers = [(one.offers[name].expired, one.offers[name].sum, name) for name in names if name in one.offers]
        if offers:
            chosen[one.item.id] = one.offers[min(offers)[2]]
        else:
            missing.append(one)
    fees: dict[str, Fraction] = {}
    for offer in chosen.values():
        name = offer.row.supplier
        fees[name] = max(fees.get(name, Fraction(0)), offer.row.delivery)
    deliveries = {name: currency.rounded(fees[name]) for name in sorted(fees) if fees[name]}
    used = tuple(name for name in names if any(o.row.supplier == name for o in chosen.values()))
    return Basket(used, chosen, tuple(missing), deliveries, currency.total(o.sum for o in chosen.values()))
