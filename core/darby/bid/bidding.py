"""From an estimate to a bid. The whole run is `make_bid`, read from top to bottom."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from darby.bid.hanging import opens
from darby.bid.markups import ALLOWANCES, DELIVERIES, LABOR, MATERIAL, put_on, read_allowances, read_markups
from darby.bid.model import Allowance, Bid, Crew, LaborLine, MaterialLine, PhaseOrder, PlaceLine
from darby.bid.papers import Papers, no_supplier, priced_by, timed_by, wage_of
from darby.bid.places import NOWHERE, Place, Places, gathered, spread
from darby.bid.prices.meaning import Meanings
from darby.bid.prices.money import Currency
from darby.bid.prices.pricing import price_goods, unmatched
from darby.bid.prices.suppliers import cheapest, each_alone
from darby.bid.tasks import tasks_of
from darby.bid.terms import Terms, Wage
from darby.estimate.model import Estimate
from darby.labor.hours import Hours, hours_of, idle
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount, total
from darby.reading.parsing.lexicon import Lexicon
from darby.text.diagnostics import Diagnostic, Severity, is_error, problem


def make_bid(
    estimate: Estimate, plugins: Plugins, terms: Terms, papers: Papers
) -> tuple[Bid | None, tuple[Diagnostic, ...]]:
    """The bid for an estimate on the terms of its job, and what is to be said of it; no bid where any of it is an error."""
    rows, terms, told = priced_by(estimate, plugins, terms, papers.prices)
    rates, wages, said = timed_by(plugins, terms, papers.labor)
    markups, wrong = read_markups(terms.markups)
    allowed, wrong_too = read_allowances(terms.allowances)
    found = [*told, *said, *wrong, *wrong_too]
    found += no_supplier(terms, rows)
    if is_error(found):
        return None, tuple(found)

    currency, places = terms.currency, Places(estimate.job)
    meanings = Meanings(Lexicon.of(plugins.vocabularies), estimate.job.units)
    goods = price_goods(estimate.items, rows, meanings, currency, terms.today)
    basket, alone = cheapest(goods, currency, terms.supplier[0]), each_alone(goods, currency)
    material = tuple(MaterialLine(g, basket.chosen.get(g.item.id), places.shares(g.item.need)) for g in goods)

    work = tasks_of(estimate, plugins)
    hours = hours_of(work.works, rates)
    labor = tuple(_paid(one, wages, currency, places) for one in hours)
    allowances = tuple(Allowance(label, currency.rounded(value), span) for label, value, span in allowed)

    direct = {
        MATERIAL: basket.goods,
        DELIVERIES: currency.total(basket.deliveries.values()),
        LABOR: currency.total(line.sum for line in labor if line.sum is not None),
        ALLOWANCES: currency.total(one.sum for one in allowances),
    }
    added = put_on(direct, markups, terms.minimum, currency)
    price = currency.total((*direct.values(), *(one.sum for one in added)))

    rooms = _by_place(material, labor, places, currency, price, estimate)
    found += work.diagnostics
    found += _idle_wages(wages, labor)
    return Bid(
        estimate, terms, material, basket, alone, labor, _crews(labor, currency), allowances, direct, added, price,
        _by_trade(material, labor, currency, price),
        rooms,
        _larger(rooms, places, "floor"),
        _larger(rooms, places, "phase"),
        _by_phase(material, places, currency),
        opens(estimate, material, labor, currency, work.silent),
        unmatched(rows, goods), idle(rates, hours), tuple(dict.fromkeys(found)),
    ), ()  # fmt: skip


def _paid(hours: Hours, wages: Mapping[str, Wage], currency: Currency, places: Places) -> LaborLine:
    wage = wage_of(hours.work, wages)
    sum_ = wage.paid(hours.hours.value, currency) if wage is not None and hours.hours is not None else None
    return LaborLine(hours, wage, sum_, places.shares(hours.work.amounts[0]))


def _crews(labor: Iterable[LaborLine], currency: Currency) -> tuple[Crew, ...]:
    found: dict[int, tuple[Wage, list[Amount], list[Decimal]]] = {}
    for line in labor:
        if line.wage is not None and line.hours.hours is not None and line.sum is not None:
            _, hours, sums = found.setdefault(id(line.wage), (line.wage, [], []))
            hours.append(line.hours.hours)
            sums.append(line.sum)
    return tuple(
        Crew(wage, total(hours, f"hours of {wage.trade}"), currency.total(sums)) for wage, hours, sums in found.values()
    )


def _idle_wages(wages: Mapping[str, Wage], labor: Sequence[LaborLine]) -> Iterable[Diagnostic]:
    used = {id(line.wage) for line in labor if line.wage is not None and line.hours.hours is not None}
    for name, wage in wages.items():
        if id(wage) not in used:
            yield problem(
                "wage-idle", f"the wage of {name} is paid for no hours", wage.span, severity=Severity.WARNING,
                help="Either the job has none of this work, or no production rate says how long it takes; that is then asked.",
            )  # fmt: skip


def _by_trade(
    material: Iterable[MaterialLine], labor: Iterable[LaborLine], currency: Currency, price: Decimal
) -> tuple[PlaceLine, ...]:
    goods: dict[str, Decimal] = {}
    work: dict[str, Decimal] = {}
    for line in material:
        goods[line.trade] = goods.get(line.trade, currency.nothing()) + (
            line.offer.sum if line.offer else currency.nothing()
        )
    for one in labor:
        work[one.trade] = work.get(one.trade, currency.nothing()) + (one.sum or currency.nothing())
    names = sorted(goods.keys() | work.keys())
    return _lines(names, goods, work, currency, price, {})


def _by_place(
    material: Iterable[MaterialLine], labor: Iterable[LaborLine], places: Places, currency: Currency, price: Decimal,
    estimate: Estimate,
) -> tuple[PlaceLine, ...]:  # fmt: skip
    goods = spread(((m.offer.sum, m.shares) for m in material if m.offer is not None), places, currency)
    work = spread(((w.sum, w.shares) for w in labor if w.sum is not None), places, currency)
    areas: dict[str, list[Amount]] = {}
    for surface in estimate.job.surfaces:
        areas.setdefault(surface.room, []).append(surface.gross.in_system(estimate.job.units))
    measured = {room: total(some, "measured") for room, some in areas.items()}
    names = [name for name in goods if name != NOWHERE or goods[name] or work[name] or name in measured]
    return _lines(names, goods, work, currency, price, measured)


def _lines(
    names: Sequence[str], goods: Mapping[str, Decimal], work: Mapping[str, Decimal], currency: Currency, price: Decimal,
    measured: Mapping[str, Amount],
) -> tuple[PlaceLine, ...]:  # fmt: skip
    """A line for each name, with its part of the price in proportion to its cost."""
    nothing = currency.nothing()
    costs = [goods.get(name, nothing) + work.get(name, nothing) for name in names]
    parts = currency.shared(price, [Fraction(cost) for cost in costs]) if any(costs) else [nothing] * len(names)
    return tuple(
        PlaceLine(name, goods.get(name, nothing), work.get(name, nothing), part, measured.get(name))
        for name, part in zip(names, parts, strict=True)
    )


def _larger(rooms: Sequence[PlaceLine], places: Places, by: str) -> tuple[PlaceLine, ...]:
    """The same by floor or phase, where the job has any."""
    if not any(getattr(place, by) for place in places.of.values()):
        return ()

    def larger(place: Place) -> str:
        return str(getattr(place, by))

    goods = gathered({line.name: line.material for line in rooms}, places, larger)
    work = gathered({line.name: line.labor for line in rooms}, places, larger)
    price = gathered({line.name: line.price for line in rooms}, places, larger)
    areas: dict[str, list[Amount]] = {}
    for line in rooms:
        if line.area is not None:
            areas.setdefault(larger(places.of[line.name]) if line.name in places.of else NOWHERE, []).append(line.area)
    return tuple(
        PlaceLine(name, goods[name], work[name], price[name], total(areas[name]) if name in areas else None)
        for name in sorted(goods, key=lambda name: (name == NOWHERE, name))
    )


def _by_phase(material: Iterable[MaterialLine], places: Places, currency: Currency) -> tuple[PhaseOrder, ...]:
    """What rounding by phase would order more."""
    found = []
    for line in material:
        item = line.goods.item
        if item.package is None or item.count is None or line.offer is None or not line.shares:
            continue
        phases: dict[str, Fraction] = {}
        for room, share in line.shares.items():
            phase = places.of[room].phase if room in places.of else ""
            phases[phase] = phases.get(phase, Fraction(0)) + share
        needed = (item.need / item.package).value
        more = sum(-(-(needed * share) // 1) for share in phases.values()) - item.count
        if len(phases) > 1 and more > 0:
            found.append(PhaseOrder(line, int(more), currency.rounded(line.offer.each * int(more))))
    return tuple(found)
