"""Ways of doing the work side by side: the price of each, the packages and hours that are otherwise, and the cheapest with its reason."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from darby.bid.compared.moved import hours_by_task
from darby.bid.compared.ways import cheapest_of, compared
from darby.bid.markups import LABOR, MATERIAL
from darby.bid.model import Bid
from darby.documents.letters.prose import Block, Heading, Paragraph, Table, entries
from darby.documents.words import name_of, one_line, order_of, packages
from darby.estimate.line_item import LineItem
from darby.quantities.numerals import rounded

_BESIDE = 4
"""Columns of figures that still fit on a page."""


def side_by_side(bid: Bid) -> Iterator[Block]:
    """The section of the bid sheet; nothing where there are no ways to compare."""
    if not bid.ways:
        return
    yield Heading("Other ways of doing the work")
    both = compared(bid.ways, bid)
    money = bid.terms.currency.shown
    rows = []
    partly = {way.name for way in bid.ways if way.lacking}
    for name, other in both:
        hours = sum(hours_by_task(other).values(), Fraction(0))
        more = other.total - bid.total
        difference = "" if other is bid else "the same" if not more else ("+" if more > 0 else "") + money(more)
        difference += " (in part)" if other is not bid and name in partly else ""
        rows.append(
            (
                one_line(name),
                money(other.direct[MATERIAL]),
                rounded(hours),
                money(other.direct[LABOR]),
                money(other.total),
                difference,
            )
        )
    yield Table(("", "Material", "Hours", "Labor", "Price", "Difference"), tuple(rows), frozenset({1, 2, 3, 4, 5}))
    name, why = cheapest_of(bid)
    yield Paragraph(f"{one_line(name)}. {why}" if name else why, "Cheapest")
    told = [
        *(
            (f"{one_line(way.name)} departs from {text}: ask before you bid on it.")
            for way in bid.ways
            for text in way.departs
        ),
        *(f"{one_line(way.name)}, not in its price: {text}" for way in bid.ways for text in way.lacking),
    ]
    if told:
        yield entries(told)
    for start in range(1, len(both), _BESIDE - 1):
        yield from _otherwise([both[0], *both[start : start + _BESIDE - 1]])


def _otherwise(some: Sequence[tuple[str, Bid]]) -> Iterator[Block]:
    """Goods and work that are not the same in all of them, a column for each."""
    rows = [row for row in (*_goods(some), *_work(some)) if len(set(row[1:])) > 1]
    heads = ("Otherwise in them", *(one_line(name) for name, _ in some))
    if rows:
        yield Table(heads, tuple(rows), frozenset(range(1, len(heads))))


def _goods(some: Sequence[tuple[str, Bid]]) -> Iterator[tuple[str, ...]]:
    orders = [{name_of(line.goods.item): _order(line.goods.item) for line in bid.material} for _, bid in some]
    for name in dict.fromkeys(name for order in orders for name in order):
        yield (name, *(order.get(name, "none") for order in orders))


def _order(item: LineItem) -> str:
    return order_of(item) if item.count is None else packages(item, item.count)


def _work(some: Sequence[tuple[str, Bid]]) -> Iterator[tuple[str, ...]]:
    worked = [hours_by_task(bid) for _, bid in some]
    for name in dict.fromkeys(name for hours in worked for name in hours):
        yield (one_line(name), *(f"{rounded(hours[name])} hours" if name in hours else "none" for hours in worked))
