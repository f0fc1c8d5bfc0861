"""What moves between two bids of one job: packages, hours, and each line from cost to price."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from fractions import Fraction

from attrs import frozen

from darby.bid.markups import Added
from darby.bid.model import Bid, Moved
from darby.documents.words import name_of
from darby.estimate.line_item import LineItem
from darby.labor.hours import told


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


_WHERE = "surface"
"""What of a pool says where goods go, and nothing of the goods."""


def goods_moved(without: Bid, with_it: Bid) -> Iterator[Moved]:
    """Lines of the order that come in other numbers of packages. The same goods for other surfaces are one line under the later name."""
    before, after = ({line.goods.item.id: line.goods.item for line in bid.material} for bid in (without, with_it))
    come = [name for name in after if name not in before]
    called: dict[str, str] = {}
    for name in before:
        same = (one for one in come if name not in after and _goods(before[name]) == _goods(after[one]))
        if (now := next(same, None)) is not None:
            come.remove(now)
            called[now] = name
    renamed = set(called.values())
    for name in dict.fromkeys((*(name for name in before if name not in renamed), *after)):
        was, now_ = _count(before.get(called.get(name, name))), _count(after.get(name))
        item = after.get(name) or before[name]
        if was != now_:
            yield Moved(name_of(item), was, now_, item.container)


def _goods(item: LineItem) -> tuple[object, ...]:
    """What is bought, wherever it goes."""
    return item.product, item.container, item.package, [(k, v) for k, v in item.pool.items() if k != _WHERE]


def _count(item: LineItem | None) -> Fraction:
    return Fraction(item.count or 0) if item is not None else Fraction(0)


def hours_moved(without: Bid, with_it: Bid) -> Iterator[Moved]:
    """Work that takes other hours."""
    before, after = (hours_by_task(bid) for bid in (without, with_it))
    for name in dict.fromkeys((*before, *after)):
        was, now = before.get(name, Fraction(0)), after.get(name, Fraction(0))
        if was != now:
            yield Moved(name, was, now, "hour")


def hours_by_task(bid: Bid) -> Mapping[str, Fraction]:
    """The hours that are known, by the work in a few words."""
    found: dict[str, Fraction] = {}
    for line in bid.labor:
        if line.hours.hours is not None:
            name = told(line.hours.work)
            found[name] = found.get(name, Fraction(0)) + line.hours.hours.value
    return found


def cost_lines(bid: Bid) -> dict[str, Decimal]:
    """Every line from cost to price, by its label, in the order of the bid; they make up the price."""
    return labelled(bid.direct, bid.added)


def labelled(direct: Mapping[str, Decimal], added: Iterable[Added]) -> dict[str, Decimal]:
    """Direct costs and what is put on them, by the labels that a bid shows."""
    return {name.capitalize(): sum_ for name, sum_ in direct.items()} | {one.label: one.sum for one in added}


def costs_moved(was: Mapping[str, Decimal], now: Mapping[str, Decimal], nothing: Decimal) -> tuple[CostMoved, ...]:
    """The lines that are others than before, in the order of the later bid; they make up the difference of the prices."""
    lines = (
        CostMoved(label, was.get(label, nothing), now.get(label, nothing)) for label in dict.fromkeys((*now, *was))
    )
    return tuple(line for line in lines if line.sum)


def missing_in(bid: Bid) -> tuple[str, ...]:
    """What is not in a price, a sentence each."""
    return tuple(dict.fromkeys(one.text for one in bid.open if one.what == "missing"))
