"""The bid as one table: a row for each line, with what it is a line of."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from darby.bid.model import Bid
from darby.documents.tables import Cell, Column, Sheet, to_csv
from darby.documents.words import name_of, place
from darby.labor.hours import told

_COLUMNS = ("part", "line", "quantity", "unit", "each", "sum", "from")
_EXACT = {"quantity", "each"}


def make(bid: Bid) -> bytes:
    """The table as a file."""
    return to_csv(sheet(bid))


def sheet(bid: Bid) -> Sheet:
    """The table: goods, hours, allowances, mark-ups, the price, and the price by trade and place."""
    return Sheet("bid", tuple(Column(name, exact=name in _EXACT) for name in _COLUMNS), tuple(_rows(bid)))


def _rows(bid: Bid) -> Iterator[tuple[Cell, ...]]:
    for line in bid.material:
        item, offer = line.goods.item, line.offer
        count = offer.bought if offer is not None else item.count
        unit = item.container or ("each" if item.count is not None else "")
        each, sum_ = (offer.each, Fraction(offer.sum)) if offer is not None else (None, None)
        source = f"{offer.row.supplier}, {place(offer.row.span)}" if offer is not None else "no price"
        yield ("material", name_of(item), count, unit, each, sum_, source)
    for name, fee in bid.basket.deliveries.items():
        yield ("delivery", name, None, "", None, Fraction(fee), "")
    for one in bid.labor:
        hours = one.hours.hours
        rates = "; ".join(f"{rate.text} {place(rate.span)}" for rate in one.hours.rates)
        wage = one.wage.cost if one.wage is not None else None
        yield (
            "labor", told(one.hours.work), hours.value if hours is not None else None, "hours", wage,
            Fraction(one.sum) if one.sum is not None else None, rates or "no rate",
        )  # fmt: skip
    for allowance in bid.allowances:
        yield ("allowance", allowance.label, None, "", None, Fraction(allowance.sum), place(allowance.span))
    for added in bid.added:
        yield ("mark-up", added.label, None, "", None, Fraction(added.sum), added.said)
    yield ("price", "price", None, bid.terms.currency.code, None, Fraction(bid.total), "")
    for part, lines in (("trade", bid.trades), ("room", bid.rooms), ("floor", bid.floors), ("phase", bid.phases)):
        for where in lines:
            area = where.area
            yield (
                f"price by {part}", where.name or "elsewhere", area.value if area is not None else None,
                area.unit.name if area is not None else "", None, Fraction(where.price), "",
            )  # fmt: skip
    for one_more in bid.alternates:
        kind = "alternate, in the price" if one_more.taken else "alternate"
        yield (
            kind,
            one_more.name,
            None,
            "",
            None,
            Fraction(one_more.sum) if one_more.sum is not None else None,
            f"{one_more.title} {place(one_more.span)}".strip(),
        )
    for asked in bid.unit_prices:
        price = Fraction(asked.sum) if asked.sum is not None else None
        yield ("unit price", f"{asked.name}: {asked.what}", None, asked.per, None, price, place(asked.span))
    for way in bid.ways:
        difference = Fraction(way.bid.total - bid.total)
        yield ("another way", way.name, None, "", difference, Fraction(way.bid.total), place(way.span))
    for hanging in bid.open:
        yield (
            "open",
            hanging.text,
            None,
            "",
            None,
            Fraction(hanging.sum) if hanging.sum is not None else None,
            hanging.what,
        )
