"""A reading to confirm, in words: what was read, what hangs on it in packages, and the way out."""

from __future__ import annotations

from collections.abc import Iterator

from darby.documents.differences import Difference
from darby.documents.words import kind_of, listed, need_of, one_line, order_of, packages, told_rule
from darby.estimate.line_item import LineItem
from darby.estimate.model import Confirmation, Estimate, Shift

WAY_OUT = (
    "To settle a reading, say it as it should read, and where, in a plain line of your own under rules in the job file. Your "
    "line beats the documents, and nothing is to confirm any more."
)


def read_as(confirmation: Confirmation) -> str:
    """What was read: `varnish, wall: 2 coats; varnish, ceiling: 2 coats`."""
    return "; ".join(dict.fromkeys(map(told_rule, confirmation.rules)))


def lines_of(confirmation: Confirmation, estimate: Estimate) -> tuple[int, ...]:
    """The numbers of the lines to order that hang on it."""
    return tuple(n for n, item in enumerate(estimate.items, 1) if item.id in confirmation.items)


def hangs_on(confirmation: Confirmation, estimate: Estimate) -> str:
    """Which lines hang on it: `Lines 2 and 5 hang on it.`"""
    numbers = lines_of(confirmation, estimate)
    if not numbers:
        return "No line hangs on it."
    return f"Line{'s' * (len(numbers) > 1)} {listed(map(str, numbers))} hang{'s' * (len(numbers) == 1)} on it."


def without(confirmation: Confirmation, estimate: Estimate) -> str:
    """What the order is where the reading does not hold: `Without it: 7 pails of varnish instead of 10, 3 fewer.`"""
    if confirmation.without is None:
        return "What the order is without it was not worked out."
    return f"Without it: {otherwise(confirmation, estimate) or 'the order is the same'}."


def otherwise(confirmation: Confirmation, estimate: Estimate) -> str:
    """The lines that are ordered otherwise without it; nothing where none is, or that was not worked out."""
    return "; ".join(_shifts(confirmation.without or (), estimate.job.units))


def own_words(confirmation: Confirmation) -> str:
    """The line to write where the reading is right: `If it is right, write: Walls: 2 coats varnish.`"""
    return f"If it is right, write: {' '.join(map(one_line, confirmation.lines))}" if confirmation.lines else ""


def _shifts(shifts: tuple[Shift, ...], units: str) -> Iterator[str]:
    for shift in shifts:
        now, then = shift.now, shift.then
        if now is None:
            assert then is not None
            yield f"{_amount(then, units)} of {_name(then)}, none now"
        elif then is None:
            yield f"no {_name(now)}, now {_amount(now, units)}"
        elif now.count is None or then.count is None or now.package != then.package or now.container != then.container:
            yield f"{_name(then)}: {_order(then, units)} instead of {_order(now, units)}"
        else:
            yield str(Difference(now, "", now.count, then.count))


def _name(item: LineItem) -> str:
    kind = kind_of(item)
    return one_line(item.product) + (f" ({kind})" if kind else "")


def _amount(item: LineItem, units: str) -> str:
    """So many packages; where they are not known, the need."""
    return need_of(item, units) if item.count is None else packages(item, item.count)


def _order(item: LineItem, units: str) -> str:
    return need_of(item, units) if item.count is None else order_of(item)
