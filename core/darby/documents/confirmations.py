"""A reading to confirm, in words: what was read, what hangs on it in packages, and the way out."""

from __future__ import annotations

from collections.abc import Iterator

from darby.documents.differences import Difference
from darby.documents.needs import numbers
from darby.documents.words import kind_of, listed, one_line, order_of, packages, shown, so_many, told_rule
from darby.estimate.line_item import LineItem
from darby.estimate.model import Confirmation, Estimate, Shift

WAY_OUT = (
    "To settle a reading, write it as it should read in a plain line of your own under rules in the job file. Your line "
    "overrides the documents."
)


def read_as(confirmation: Confirmation) -> str:
    """What was read: `varnish, wall: 2 coats; varnish, ceiling: 2 coats`."""
    return "; ".join(dict.fromkeys(map(told_rule, confirmation.rules)))


def lines_of(confirmation: Confirmation, estimate: Estimate) -> tuple[int, ...]:
    """The numbers of the lines to order that hang on it."""
    known = numbers(estimate)
    return tuple(sorted({known[name] for name in confirmation.items if name in known}))


def hangs_on(confirmation: Confirmation, estimate: Estimate) -> str:
    """Which lines it affects: `It affects lines 2 and 5.`"""
    numbers = lines_of(confirmation, estimate)
    if not numbers:
        return "It affects no line."
    return f"It affects line{'s' * (len(numbers) > 1)} {listed(map(str, numbers))}."


def without(confirmation: Confirmation, estimate: Estimate) -> str:
    """What the order is where the reading does not hold: `Without it: 7 pails of varnish instead of 10, 3 fewer.`"""
    if confirmation.without is None:
        return "The order without it was not worked out."
    return f"Without it: {otherwise(confirmation, estimate) or 'the order is the same'}."


def otherwise(confirmation: Confirmation, estimate: Estimate) -> str:
    """The lines that are ordered otherwise without it; nothing where none is, or that was not worked out."""
    return "; ".join(_shifts(confirmation.without or (), estimate.job.units))


def own_words(confirmation: Confirmation) -> str:
    """The line to write where the reading is right: `If it is right, write: Walls: 2 coats varnish.`"""
    return f"If it is right, write: {' '.join(map(one_line, confirmation.lines))}" if confirmation.lines else ""


def _shifts(shifts: tuple[Shift, ...], units: str) -> Iterator[str]:
    """Each line that is ordered otherwise. A line that goes and one that comes of the same product are one change."""
    gone = [shift.now for shift in shifts if shift.now is not None and shift.then is None]
    come = [shift.then for shift in shifts if shift.then is not None and shift.now is None]
    for shift in shifts:
        now, then = shift.now, shift.then
        if now is not None and then is not None:
            if (
                now.count is None
                or then.count is None
                or now.package != then.package
                or now.container != then.container
            ):
                yield f"{_name(then)}: {_order(then, units)} instead of {_order(now, units)}"
            else:
                yield str(Difference(now, "", now.count, then.count))
    for now in gone:
        other = max((i for i in come if i.product == now.product), key=lambda i: _shared(i, now), default=None)
        if other is None:
            yield f"no {_name(now)} (now {_amount(now, units)})"
            continue
        come.remove(other)
        if _same(other, now):
            continue  # as much of one thing, called by where it goes
        yield f"{_goods(other, units)} instead of {_amount(now, units)} ({kind_of(now)})"
    for then in come:
        yield f"{_goods(then, units)} (now none)"


def _same(one: LineItem, other: LineItem) -> bool:
    """Whether two lines are one order of one thing, wherever it goes."""
    keys = (one.pool.keys() | other.pool.keys()) - {"surface"}
    same = all(one.pool.get(key) == other.pool.get(key) for key in keys)
    return same and (one.count, one.container, one.package) == (other.count, other.container, other.package)


def _shared(one: LineItem, other: LineItem) -> int:
    """In how much of what describes them two items are alike."""
    return sum(other.pool.get(key) == value for key, value in one.pool.items())


def _name(item: LineItem) -> str:
    kind = kind_of(item)
    return one_line(item.product) + (f" ({kind})" if kind else "")


def _goods(item: LineItem, units: str) -> str:
    """So many packages with what is in them and what tells it apart; where they are not known, the need."""
    if item.count is None:
        return f"{shown(item.need, units)} of {_name(item)}"
    kind = kind_of(item)
    return so_many(item, item.count) + (f" ({kind})" if kind else "")


def _amount(item: LineItem, units: str) -> str:
    """So many packages; where they are not known, the need."""
    return shown(item.need, units) if item.count is None else packages(item, item.count)


def _order(item: LineItem, units: str) -> str:
    return shown(item.need, units) if item.count is None else order_of(item)
