"""The bid beside the order: its price, its lines by trade, what is put on top, and what is in none of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from typing import Any

from darby.bid.markups import ALLOWANCES, DELIVERIES, LABOR, MATERIAL
from darby.bid.model import Bid, LaborLine, MaterialLine
from darby.bid.prices.own_list import listed_as, price_in
from darby.documents.words import heading_of, name_of, one_line, order_of, place
from darby.estimate.model import Estimate
from darby.labor.hours import told
from darby.quantities.amounts import Amount, total
from darby.quantities.numerals import rounded
from darby.quantities.units import AREA, LENGTH
from darby.text.diagnostics import Diagnostic, Severity

View = dict[str, Any]

Bidding = Callable[[Estimate], tuple[Bid | None, tuple[Diagnostic, ...]]]
"""Makes the bid of an estimate: None, with what is wrong, where it cannot be made."""

OWN_PRICES = "own-prices.csv"
"""The list that prices typed at the desk go into."""
LISTED = {
    "markups": "Mark-ups",
    "rates": "Hours as you typed them",
    "allowances": "Allowances",
    "excludes": "Not in the price",
    "prices": "Price lists",
}
"""The lists of the terms that are shown with a way to take a line out."""
_MOST = 50
"""Lines of an order whose prices can be typed at once; of more, a list is taken in."""
_PER = {
    ("us", AREA): "per 100 sq ft", ("metric", AREA): "per 10 m2", ("us", LENGTH): "per 100 ft", ("metric", LENGTH): "per 10 m",
}  # fmt: skip
_COST = {MATERIAL: "Material", DELIVERIES: "Deliveries", LABOR: "Labor", ALLOWANCES: "Allowances"}


def bid_view(bid: Bid | None, found: tuple[Diagnostic, ...]) -> View:
    """A bid as the pane shows it, or why there is none."""
    wrong = [
        {"text": one_line(d.message).rstrip("."), "help": one_line(d.help), "place": place(d.span) if d.span is not None else ""}
        for d in found
        if d.severity is Severity.ERROR or bid is None
    ]  # fmt: skip
    if bid is None:
        return {"price": "", "wrong": wrong}
    money = bid.terms.currency.shown
    return {
        "price": f"{money(bid.total)} {bid.terms.currency.code}".rstrip(),
        "wrong": wrong,
        "missing": [one_line(one.text) for one in bid.open if one.what == "missing"],
        "failed": [one_line(name) for name in bid.estimate.missing],
        "trades": list(_trades(bid)),
        "steps": [
            *((_COST[name], "", money(sum_)) for name, sum_ in bid.direct.items() if sum_ or name in (MATERIAL, LABOR)),
            *((one_line(one.label), one_line(one.said), money(one.sum)) for one in bid.added),
        ],
    }


def begin_view(estimate: Estimate) -> View:
    """What the form to begin a bid proposes."""
    return {"currency": "USD" if estimate.job.units == "us" else "", "date": date.today().isoformat()}


def typed_view(bid: Bid, prices: list[dict[str, str]], wages: list[dict[str, Any]]) -> View:
    """What can be typed for a bid: a price for each line of the order that no other list prices, the wage of each trade, hours for each
    kind of work without a rate. `prices` and `wages` are what was typed before, the wages as rows of the job file.
    """
    system = bid.estimate.job.units
    goods: dict[str, View] = {}
    for line in bid.material:
        named = listed_as(line.goods.item)
        own = price_in(prices, named) if named else ""
        if named and (line.offer is None or own or line.offer.row.span.source.name == OWN_PRICES):
            told = name_of(line.goods.item)
            goods.setdefault(
                str(named), {"id": line.goods.item.id, "name": told, "package": named["package"], "price": own}
            )
    paid = {row.get("trade"): row for row in wages}
    trades = dict.fromkeys(one.trade for one in bid.labor if one.wage is None or one.trade in paid)
    work: dict[str, list[Amount]] = {}
    for one in bid.labor:
        if one.hours.missing:
            work.setdefault(one.hours.work.operation, []).append(one.hours.work.amounts[0])
    return {
        "goods": list(goods.values())[:_MOST],
        "more": max(0, len(goods) - _MOST),
        "wages": [(name, heading_of(name), *(str(paid.get(name, {}).get(key, "")) for key in ("wage", "burden"))) for name in trades],
        "rates": [
            (name, str(total(some)), _PER.get((system, some[0].unit.dimension), "each")) for name, some in work.items()
        ],
    }  # fmt: skip


def per_of(said: str) -> str:
    """Over what hours are told, as the form said it; each where it said nothing that a form says."""
    return said if said in _PER.values() else "each"


def _trades(bid: Bid) -> Iterator[View]:
    """The lines of each trade, goods before work, with what the trade comes to before what is put on top."""
    money = bid.terms.currency.shown
    goods: dict[str, list[MaterialLine]] = {}
    work: dict[str, list[LaborLine]] = {}
    for material in bid.material:
        goods.setdefault(material.trade, []).append(material)
    for labor in bid.labor:
        work.setdefault(labor.trade, []).append(labor)
    sums = {one.name: (one.material, one.labor) for one in bid.trades}
    for name in dict.fromkeys((*goods, *work)):
        rows = [*(_bought(one, bid) for one in goods.get(name, ())), *(_worked(one, bid) for one in work.get(name, ()))]
        yield {"name": heading_of(name), "sum": money(sum(sums.get(name, ()), bid.total * 0)), "rows": rows}


def _bought(line: MaterialLine, bid: Bid) -> tuple[str, str, str]:
    """Goods, what is ordered, and what it costs."""
    sum_ = bid.terms.currency.shown(line.offer.sum) if line.offer is not None else "no price"
    return name_of(line.goods.item), order_of(line.goods.item), sum_


def _worked(line: LaborLine, bid: Bid) -> tuple[str, str, str]:
    """Work, its hours, and what they cost."""
    hours = line.hours
    lacking = "no rate" if hours.hours is None else "no wage"
    known = f"{rounded(hours.hours.value)} hours" if hours.hours is not None else ""
    if hours.missing and hours.hours is not None:
        known += ", in part"
    return one_line(told(hours.work)), known, bid.terms.currency.shown(line.sum) if line.sum is not None else lacking
