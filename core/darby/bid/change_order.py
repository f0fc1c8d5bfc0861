"""Change orders: what an addendum or a change costs after the bid, as the same bid before and after it, under the same terms."""

from __future__ import annotations

from decimal import Decimal

from attrs import frozen

from darby.bid.alternates import goods_moved, hours_moved
from darby.bid.model import Bid, Moved


@frozen
class CostMoved:
    """One line from cost to price, before and after."""

    label: str
    was: Decimal
    now: Decimal

    @property
    def sum(self) -> Decimal:
        """What it adds; below zero what it takes."""
        return self.now - self.was


@frozen(eq=False)
class ChangeOrder:
    """The difference between two bids of one job. Prices, rates, wages and mark-ups are the same on both sides."""

    before: Bid
    after: Bid
    number: str = ""
    cause: str = ""
    """In the words of whoever asks for it."""
    since: str = ""
    """What the estimate before it was kept as."""

    @property
    def sum(self) -> Decimal:
        """What is added to the price; below zero what is deducted."""
        return self.after.total - self.before.total

    @property
    def moved(self) -> tuple[Moved, ...]:
        """Packages and hours that are others than before."""
        return (*goods_moved(self.before, self.after), *hours_moved(self.before, self.after))

    @property
    def costs(self) -> tuple[CostMoved, ...]:
        """Every line from cost to price that is another than before, in the order of the bid; they make up the sum."""
        was, now = (_lines(bid) for bid in (self.before, self.after))
        nothing = self.after.terms.currency.nothing()
        found = (
            CostMoved(label, was.get(label, nothing), now.get(label, nothing)) for label in dict.fromkeys((*now, *was))
        )
        return tuple(line for line in found if line.sum)

    @property
    def missing(self) -> tuple[str, ...]:
        """What is not in the sum, since it has no price, rate or wage on the one side or the other."""
        open_ = (one.text for bid in (self.before, self.after) for one in bid.open if one.what == "missing")
        return tuple(dict.fromkeys(open_))


def _lines(bid: Bid) -> dict[str, Decimal]:
    return {name.capitalize(): sum_ for name, sum_ in bid.direct.items()} | {one.label: one.sum for one in bid.added}
