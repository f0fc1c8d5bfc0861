"""A line item looked over: whether it can stand in an estimate, and be shown."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import islice

from attrs import evolve

from darby.estimate.attachments import unsound
from darby.estimate.line_item import LineItem
from darby.plugin_host.isolation.failures import NonsenseError
from darby.quantities.amounts import Amount, walk
from darby.quantities.units import NUMBER_ONLY
from darby.rules.rule import Rule

MOST_ITEMS = 10_000
"""Line items that one trade may give; more are a trade that does not stop."""

MOST_ATTACHED = 10_000
"""Tables and drawings of one line that are looked at."""

MOST_TEXT = 1_000_000
"""Characters that one trade may put into its lines, all together."""


def checked(item: object, trade: str) -> LineItem:
    """The item with its trade filled in. Raises NonsenseError, or whatever looking at it raises."""
    if not isinstance(item, LineItem):
        raise NonsenseError(f"gave a {type(item).__name__} where a LineItem is wanted")
    if not isinstance(item.product, str) or not item.product.strip():
        raise NonsenseError("gave a line item without a product")
    named = f"the line item {item.product}"
    if not all(isinstance(part, str) for pair in item.pool.items() for part in pair):
        raise NonsenseError(f"gave {named}, whose pool holds something other than text")
    if not all(isinstance(rule, Rule) for rule in item.rules) or not all(isinstance(n, str) for n in item.notes):
        raise NonsenseError(f"gave {named}, whose rules or notes are none")
    if not _exact(item.need) or item.need.value < 0:
        raise NonsenseError(f"gave {named}, whose need is no exact quantity of zero or more")
    if item.package is not None:
        if not _exact(item.package) or item.package.value <= 0:
            raise NonsenseError(f"gave {named}, whose package holds no exact quantity above zero")
        order = item.order
        singly = item.need.unit.dimension == NUMBER_ONLY and not item.package.unit.dimension
        if order is None or not (singly or (item.container and order.unit.name == item.container)):
            raise NonsenseError(f"gave {named}, whose need {item.need} does not go into packages of {item.package}")
    return evolve(item, trade=trade)


def handed_over(item: LineItem) -> LineItem:
    """The item with its tables and drawings made. Raises NonsenseError where one is none."""
    made = tuple(islice(item.attachments(), MOST_ATTACHED))
    if wrong := next(filter(None, map(unsound, made)), ""):
        raise NonsenseError(f"gave the line item {item.product} with {wrong}")
    return evolve(item, attachments=lambda: made)


def letters(item: LineItem) -> int:
    """How much text a line holds."""
    return len(item.product) + sum(len(k) + len(v) for k, v in item.pool.items()) + sum(map(len, item.notes))


def inexact_in(item: LineItem) -> Iterator[object]:
    """What is no exact number in the working of an item."""
    amounts = (item.need,) if item.package is None else (item.need, item.package)
    for amount in amounts:
        yield from (a.value for a in walk(amount) if not isinstance(a.value, Fraction | int))


def _exact(amount: object) -> bool:
    return isinstance(amount, Amount) and isinstance(amount.value, Fraction | int)
