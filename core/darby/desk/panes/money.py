"""What open points are worth in money, where the job says what its goods cost."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction

from attrs import frozen

from darby.bid.prices.money import Currency
from darby.estimate.line_item import LineItem

_NOT_KNOWN = "not known in money: no price"
_IN_PART = ", and what has no price"


@frozen(eq=False)
class Prices:
    """What a package of each line of an order costs where it is bought, by the id of the line."""

    each: Mapping[str, Fraction]
    currency: Currency

    def moved(self, pairs: Iterable[tuple[LineItem | None, int | None, LineItem | None, int | None]]) -> str:
        """What some lines cost more or less in other packages: each as it is and as it would be, with its packages.

        `312.40 USD less`. Every line is rounded by itself, as in a bid. Deliveries, labor and mark-ups are in none of it.
        """
        total = self.currency.nothing()
        known = unknown = 0
        for now, count, then, other in pairs:
            before, after = self._sum(now, count), self._sum(then, other)
            if before is None or after is None:
                unknown += 1
            else:
                known += 1
                total += after - before
        if not known:
            return _NOT_KNOWN if unknown else ""
        moved = f"{self._shown(abs(total))} {'more' if total > 0 else 'less'}" if total else "at the same price"
        return moved + _IN_PART * bool(unknown)

    def rests(self, items: Iterable[LineItem]) -> str:
        """What some lines cost together: `812.40 USD`; nothing where none of them has a price."""
        sums = [self._sum(item, item.count) for item in items]
        known = [one for one in sums if one is not None]
        return self._shown(self.currency.total(known)) + _IN_PART * (len(known) < len(sums)) if known else ""

    def _sum(self, item: LineItem | None, count: int | None) -> Decimal | None:
        if item is None:
            return self.currency.nothing()
        each = self.each.get(item.id)
        return None if each is None or count is None else self.currency.rounded(each * count)

    def _shown(self, value: Decimal) -> str:
        return f"{self.currency.shown(value)} {self.currency.code}".rstrip()
