"""From an estimate to a bid. The whole run is `make_bid`, read from top to bottom."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from attrs import evolve, frozen

from darby.bid.hanging import opens
from darby.bid.markups import ALLOWANCES, DELIVERIES, LABOR, MATERIAL, put_on, read_allowances, read_markups
from darby.bid.model import Allowance, Bid, Crew, LaborLine, MaterialLine, PhaseOrder, PlaceLine
from darby.bid.places import NOWHERE, Place, Places, gathered, spread
from darby.bid.prices.meaning import Meanings
from darby.bid.prices.money import Currency
from darby.bid.prices.price_list import PriceRow, read_prices
from darby.bid.prices.pricing import price_goods, unmatched
from darby.bid.prices.suppliers import cheapest, each_alone
from darby.bid.tasks import operations_of, tasks_of
from darby.bid.terms import Terms, Wage
from darby.estimate.model import Estimate
from darby.labor.hours import Hours, hours_of, idle
from darby.labor.rate_lines import RateLine, plain_name, read_rates, vocabulary
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount, total
from darby.reading.parsing.lexicon import Lexicon
from darby.text.diagnostics import Diagnostic, Label, Severity, is_error, problem
from darby.text.files import nearest
from darby.text.spans import Source


@frozen(eq=False)
class Papers:
    """The files that the terms name, as text."""

    prices: tuple[Source, ...] = ()
    labor: tuple[Source, ...] = ()


def make_bid(
    estimate: Estimate, plugins: Plugins, terms: Terms, papers: Papers
) -> tuple[Bid | None, tuple[Diagnostic, ...]]:
    """The bid for an estimate on the terms of its job, and what is to be said of it; no bid where any of it is an error."""
    rows, terms, told = _prices(estimate, plugins, terms, papers.prices)
    rates, wages, said = _labor(plugins, terms, papers.labor)
    markups, wrong = read_markups(terms.markups)
    allowed, wrong_too = read_allowances(terms.allowances)
    found = [*told, *said, *wrong, *wrong_too]
    if terms.supplier and terms.supplier not in {row.supplier for row in rows}:
        found.append(_no_supplier(terms, rows, estimate))
    if is_error(found):
        return None, tuple(found)

    currency, places = terms.currency, Places(estimate.job)
    meanings = Meanings(Lexicon.of(plugins.vocabularies), estimate.job.units)
    goods = price_goods(estimate.items, rows, meanings, currency, terms.today)
    basket, alone = cheapest(goods, currency, terms.supplier), each_alone(goods, currency)
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


def _prices(
    estimate: Estimate, plugins: Plugins, terms: Terms, sources: Iterable[Source]
) -> tuple[list[PriceRow], Terms, list[Diagnostic]]:
    """All rows of all lists, and the terms with the currency that they turn out to be in."""
    meanings = Meanings(Lexicon.of(plugins.vocabularies), estimate.job.units)
    rows: list[PriceRow] = []
    found: list[Diagnostic] = []
    code = terms.currency.code
    for source in sources:
        read = read_prices(source, meanings, code)
        code = read.currency or code
        rows += read.rows
        found += read.diagnostics
    found += _twice(rows)
    dated = next((row for row in rows if row.valid_until is not None), None)
    if dated is not None and terms.today is None:
        found.append(
            problem(
                "bid-date",
                "prices have an end, and the bid has no date: none is found expired",
                dated.span,
                severity=Severity.WARNING,
                help="Write date = 2026-03-02 under [bid]. Darby looks at no clock, so that a bid is the same tomorrow.",
            )
        )
    return rows, evolve(terms, currency=Currency(code)), found


def _twice(rows: Iterable[PriceRow]) -> Iterable[Diagnostic]:
    """Two prices of one date for one thing at one supplier, in two lists."""
    first: dict[object, PriceRow] = {}
    for row in rows:
        before = first.setdefault((row.supplier, row.goods, row.first, row.dated, row.valid_until), row)
        if before.price != row.price and before.span.source is not row.span.source:
            yield problem(
                "price-twice", f"{row.supplier} has two prices for {row.product} in one package", row.span,
                help="Take one out, or give each its date: then the later one holds.", more=[Label(before.span, "the other one")],
            )  # fmt: skip
            return


def _no_supplier(terms: Terms, rows: Iterable[PriceRow], estimate: Estimate) -> Diagnostic:
    known = sorted({row.supplier for row in rows})
    near = nearest(terms.supplier, known)
    start = estimate.job.source.text.find(terms.supplier)
    span = estimate.job.source.span(start, start + len(terms.supplier)) if start >= 0 else None
    return problem(
        "bid-terms", f"no price list has a supplier {terms.supplier}", span,
        help=(f"Did you mean {near}? " if near else "") + f"There are: {', '.join(known) or 'none'}.",
    )  # fmt: skip


def _labor(
    plugins: Plugins, terms: Terms, sources: Iterable[Source]
) -> tuple[tuple[RateLine, ...], Mapping[str, Wage], list[Diagnostic]]:
    """The rates of all files, and wages by the name of a trade or of an operation."""
    operations = operations_of(plugins)
    lexicon = Lexicon.of((vocabulary(), *plugins.vocabularies))
    rates: list[RateLine] = []
    found: list[Diagnostic] = []
    for source in sources:
        read, told = read_rates(source, operations, lexicon)
        rates += read
        found += told
    wages: dict[str, Wage] = {}
    trades = {p.trade.name for p in plugins.trades}
    named = {plain_name(name, lexicon): name for name in operations} | {name: name for name in trades}
    for wage in terms.wages:
        name = named.get(wage.trade.casefold()) or named.get(plain_name(wage.trade, lexicon))
        if name is None:
            near = nearest(wage.trade, named)
            help_ = (f"Did you mean {near}? " if near else "") + f"There are: {', '.join(sorted(named))}."
            found.append(
                problem(
                    "bid-terms",
                    f"a wage is for {wage.trade}, which is no trade and no operation",
                    wage.span,
                    help=help_,
                )
            )
        elif name in wages:
            more = [Label(wages[name].span, "the other one")]
            found.append(problem("bid-terms", f"{name} has two wages", wage.span, help="Take one out.", more=more))
        else:
            wages[name] = wage
    return tuple(rates), wages, found


def _paid(hours: Hours, wages: Mapping[str, Wage], currency: Currency, places: Places) -> LaborLine:
    wage = wages.get(hours.work.operation) or wages.get(hours.work.trade)
    sum_ = None
    if wage is not None and hours.hours is not None:
        sum_ = currency.rounded(hours.hours.value * wage.cost)
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
