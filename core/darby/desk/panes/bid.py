"""The bid beside the order: its price, its lines by trade, what is put on top, and what is in none of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from darby.bid.markups import ALLOWANCES, DELIVERIES, LABOR, MATERIAL
from darby.bid.model import Bid, LaborLine, MaterialLine
from darby.documents.words import heading_of, name_of, one_line, order_of, place
from darby.estimate.model import Estimate
from darby.labor.hours import told
from darby.quantities.numerals import rounded
from darby.text.diagnostics import Diagnostic, Severity

View = dict[str, Any]

Bidding = Callable[[Estimate], tuple[Bid | None, tuple[Diagnostic, ...]]]
"""Makes the bid of an estimate: None, with what is wrong, where it cannot be made."""

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
