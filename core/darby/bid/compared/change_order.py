"""Change orders: what an addendum or a change costs after the bid, as the same bid before and after it, under the same terms.

What is bought already and no longer needed is deducted only as far as it can be given back.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import cached_property

from attrs import frozen

from darby.bid.compared.bought import Kept
from darby.bid.compared.moved import CostMoved, cost_lines, costs_moved, goods_moved, hours_moved, labelled, missing_in
from darby.bid.markups import MATERIAL, put_on, read_markups
from darby.bid.model import Bid, Moved
from darby.bid.terms import NO_HEAD, Change


@frozen(eq=False, slots=False)
class ChangeOrder:
    """The difference between two bids of one job. Prices, rates, wages and mark-ups are the same on both sides."""

    before: Bid
    after: Bid
    head: Change = NO_HEAD
    since: str = ""
    """What the estimate before it was kept as."""
    kept: tuple[Kept, ...] = ()
    """What is bought and left over."""
    counted: bool = False
    """Whether it was told what is bought already."""

    @property
    def sum(self) -> Decimal:
        """What is added to the price; below zero what is deducted."""
        return self.price - self.before.total

    @cached_property
    def price(self) -> Decimal:
        """The price after the change, what is left over of what is bought in it."""
        return sum(self._lines.values(), self.after.terms.currency.nothing())

    @property
    def moved(self) -> tuple[Moved, ...]:
        """Packages that are others than before."""
        return tuple(goods_moved(self.before, self.after))

    @property
    def hours(self) -> tuple[Moved, ...]:
        """Work that takes other hours than before."""
        return tuple(hours_moved(self.before, self.after))

    @property
    def costs(self) -> tuple[CostMoved, ...]:
        """Every line from cost to price that is another than before, in the order of the bid; they make up the sum."""
        return costs_moved(cost_lines(self.before), self._lines, self.after.terms.currency.nothing())

    @property
    def missing(self) -> tuple[str, ...]:
        """What is not in the sum, since it has no price, rate or wage on the one side or the other."""
        return tuple(dict.fromkeys((*missing_in(self.before), *missing_in(self.after))))

    @property
    def days(self) -> Sequence[tuple[str, Fraction]]:
        """The days that each crew takes more, or fewer, by its trade; none of crews whose number nobody says."""
        was, now = (_days(bid) for bid in (self.before, self.after))
        moved = (
            (trade, now.get(trade, Fraction(0)) - was.get(trade, Fraction(0))) for trade in dict.fromkeys((*was, *now))
        )
        return [(trade, more) for trade, more in moved if more]

    @cached_property
    def _lines(self) -> Mapping[str, Decimal]:
        """Every line from cost to price after the change."""
        terms = self.after.terms
        if not self.kept:
            return cost_lines(self.after)
        lost = terms.currency.total(one.sum for one in self.kept)
        direct = {name: sum_ + lost if name == MATERIAL else sum_ for name, sum_ in self.after.direct.items()}
        markups, _ = read_markups(terms.markups)
        return labelled(direct, put_on(direct, markups, terms.minimum, terms.currency))


def _days(bid: Bid) -> dict[str, Fraction]:
    return {crew.wage.trade: crew.days for crew in bid.crews if crew.days is not None}
