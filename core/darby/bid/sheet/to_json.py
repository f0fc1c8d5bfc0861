"""The bid as JSON of the schema `darby.bid/1`: sums as decimals in texts, quantities as exact fractions."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from darby.bid.compared.ways import cheapest_of
from darby.bid.model import AlternatePrice, Bid, LaborLine, MaterialLine, Moved, PlaceLine, UnitPrice, WayPrice
from darby.bid.prices.pricing import Offer
from darby.bid.prices.suppliers import Basket
from darby.documents.exact_json.parts import Json, amount_json, diagnostic_json, dump, start_json
from darby.labor.hours import Part
from darby.text.diagnostics import Diagnostic

SCHEMA = "darby.bid/1"


def make(bid: Bid) -> str:
    """The document as text."""
    return dump(bid_json(bid))


def refused_json(problems: Iterable[Diagnostic]) -> Json:
    """The same document where the input is wrong and nothing was priced."""
    return {"schema": SCHEMA, "job": None, "diagnostics": [diagnostic_json(d) for d in problems]}


def bid_json(bid: Bid) -> Json:
    """The bid as plain data."""
    terms = bid.terms
    data: Json = {
        "schema": SCHEMA,
        "job": bid.estimate.job.name,
        "currency": terms.currency.code,
        "complete": bid.complete,
    }
    if terms.today is not None:
        data["date"] = terms.today.isoformat()
    if terms.valid:
        data["valid"] = terms.valid
    data |= {
        "price": str(bid.total),
        "direct": {name: str(sum_) for name, sum_ in bid.direct.items()},
        "material": [_material(line) for line in bid.material],
        "labor": [_labor(line) for line in bid.labor],
        "crews": [
            {
                "trade": c.wage.trade,
                "hours": amount_json(c.hours),
                "sum": str(c.sum),
                **({"days": str(c.days)} if c.days is not None else {}),
            }
            for c in bid.crews
        ],
        "allowances": [{"label": one.label, "sum": str(one.sum), **start_json(one.span)} for one in bid.allowances],
        "markups": [
            {"label": one.label, "said": one.said, "sum": str(one.sum)}
            | ({"share": str(one.share), "of": list(one.of), "base": str(one.base)} if one.share is not None else {})
            | start_json(one.span)
            for one in bid.added
        ],
        "suppliers": [_basket(one) for one in bid.alone],
        "bought": _basket(bid.basket),
    }
    for name, lines in (("trades", bid.trades), ("rooms", bid.rooms), ("floors", bid.floors), ("phases", bid.phases)):
        data[name] = [_place(line) for line in lines]
    data["by_phase"] = [
        {"item": one.material.goods.item.id, "packages": one.packages, "sum": str(one.sum)} for one in bid.phase_orders
    ]
    if bid.alternates:
        data["alternates"] = [_alternate(one) for one in bid.alternates]
    if bid.unit_prices:
        data["unit_prices"] = [_unit_price(one) for one in bid.unit_prices]
    if bid.ways:
        data["ways"] = [_way(one) for one in bid.ways]
        name, why = cheapest_of(bid)
        data["cheapest"] = {"name": name, "why": why}
    data["open"] = [{"what": o.what, "text": o.text, "sum": _sum(o.sum), **start_json(o.span)} for o in bid.open]
    data["diagnostics"] = [diagnostic_json(d) for d in bid.diagnostics]
    return data


def _unit_price(one: UnitPrice) -> Json:
    parts = [
        {
            "of": p.of,
            "name": p.name,
            "many": str(p.many) if p.many is not None else None,
            "unit": p.unit,
            "sum": _sum(p.sum),
        }
        for p in one.parts
    ]
    data: Json = {
        "name": one.name,
        "what": one.what,
        "per": one.per,
        "sum": _sum(one.sum),
        "over": one.over,
        "whole": str(one.whole),
        "parts": parts,
    }
    data["markups"] = [{"label": label, "sum": str(sum_)} for label, sum_ in one.added]
    said = {"open": list(one.open), "doubts": list(one.doubts), "without": list(one.without)}
    return {**data, **said, **start_json(one.span)}


def _way(one: WayPrice) -> Json:
    other = one.bid
    data: Json = {
        "name": one.name,
        "price": str(other.total),
        "direct": {name: str(sum_) for name, sum_ in other.direct.items()},
        "material": [_material(line) for line in other.material],
        "labor": [_labor(line) for line in other.labor],
        "moved": _moved(one.moved),
    }
    return {**data, "departs": list(one.departs), "lacking": list(one.lacking), **start_json(one.span)}


def _moved(moved: Iterable[Moved]) -> list[Json]:
    return [{"name": m.name, "was": str(m.was), "now": str(m.now), "unit": m.unit} for m in moved]


def _alternate(one: AlternatePrice) -> Json:
    data: Json = {
        "name": one.name,
        "title": one.title,
        "taken": one.taken,
        "sum": _sum(one.sum),
        "moved": _moved(one.moved),
    }
    return {**data, "open": list(one.open), **start_json(one.span)}


def _sum(value: Decimal | None) -> str | None:
    return str(value) if value is not None else None


def _material(line: MaterialLine) -> Json:
    item = line.goods.item
    data: Json = {
        "item": item.id,
        "product": item.product,
        "trade": item.trade,
        "order": item.count,
        "package": item.container,
    }
    data["offer"] = _offer(line.offer) if line.offer is not None else None
    if line.goods.why:
        data["why"] = line.goods.why
    others = [o for o in line.goods.offers.values() if o is not line.offer]
    return {**data, "others": [_offer(o) for o in others]}


def _offer(offer: Offer) -> Json:
    row = offer.row
    data: Json = {
        "supplier": row.supplier,
        "each": str(offer.each),
        "bought": offer.bought,
        "sum": str(offer.sum),
        "expired": offer.expired,
    }
    if row.valid_until is not None:
        data["valid_until"] = row.valid_until.isoformat()
    return {**data, "doubts": list(offer.doubts), **start_json(row.span)}


def _labor(line: LaborLine) -> Json:
    hours, work = line.hours, line.hours.work
    data: Json = {
        "operation": work.operation,
        "trade": work.trade,
        "about": dict(work.about),
        "measured": [amount_json(a) for a in work.amounts],
    }
    data["parts"] = [_part(part) for part in hours.parts]
    data["hours"] = amount_json(hours.hours) if hours.hours is not None else None
    if line.wage is not None:
        wage = line.wage
        data["wage"] = {"hour": str(wage.wage), "burden": str(wage.burden), **start_json(wage.span)}
    data["sum"] = _sum(line.sum)
    return {**data, "missing": hours.missing} if hours.missing else data


def _part(part: Part) -> Json:
    data: Json = {"amount": amount_json(part.amount)}
    if part.band:
        data["band"] = part.band
    rate = part.rate
    if rate is None:
        return {**data, "rate": None}
    return {**data, "rate": {**amount_json(rate.rate), "text": rate.text, "cited": rate.cited, **start_json(rate.span)}}


def _place(line: PlaceLine) -> Json:
    data: Json = {"name": line.name, "material": str(line.material), "labor": str(line.labor), "price": str(line.price)}
    return {**data, "area": amount_json(line.area)} if line.area is not None else data


def _basket(basket: Basket) -> Json:
    return {
        "suppliers": list(basket.suppliers), "goods": str(basket.goods), "sum": str(basket.sum),
        "deliveries": {name: str(fee) for name, fee in basket.deliveries.items()},
        "missing": [one.item.id for one in basket.missing],
    }  # fmt: skip
