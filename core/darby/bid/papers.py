"""What the papers of a bid say: prices from the lists, production rates and wages, each looked over before anything is priced."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from attrs import evolve, frozen

from darby.bid.prices.meaning import Meanings
from darby.bid.prices.money import Currency
from darby.bid.prices.price_list import PriceRow, read_prices
from darby.bid.tasks import operations_of
from darby.bid.terms import Terms, Wage
from darby.estimate.model import Estimate
from darby.labor.methods import by_methods
from darby.labor.rate_lines import RateLine, plain_name, read_rates, read_said_rates, vocabulary
from darby.labor.task import Task
from darby.plugin_host.model import Plugins
from darby.reading.parsing.lexicon import Lexicon
from darby.text.diagnostics import Diagnostic, Label, Severity, is_error, problem
from darby.text.files import nearest
from darby.text.spans import Source


@frozen(eq=False)
class Papers:
    """The files that the terms name, as text."""

    prices: tuple[Source, ...] = ()
    labor: tuple[Source, ...] = ()


def priced_by(
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


def no_supplier(terms: Terms, rows: Iterable[PriceRow]) -> Iterable[Diagnostic]:
    """That no list has the supplier who all is to be bought from."""
    name, span = terms.supplier
    known = sorted({row.supplier for row in rows})
    if name and name not in known:
        near = nearest(name, known)
        yield problem(
            "bid-terms", f"no price list has a supplier {name}", span,
            help=(f"Did you mean {near}? " if near else "") + f"There are: {', '.join(known) or 'none'}.",
        )  # fmt: skip


def timed_by(
    plugins: Plugins, terms: Terms, sources: Iterable[Source]
) -> tuple[tuple[RateLine, ...], Mapping[str, Wage], list[Diagnostic]]:
    """The rates of all files and of the job itself, those of other methods than it goes by left out; and wages by the name of a trade or
    of an operation."""
    operations = operations_of(plugins)
    lexicon = Lexicon.of((vocabulary(), *plugins.vocabularies))
    rates: list[RateLine] = []
    found: list[Diagnostic] = []
    for source in sources:
        read, told = read_rates(source, operations, lexicon)
        rates += read
        found += told
    for rank, said in enumerate((terms.rates, terms.tried), start=1):
        read, told = read_said_rates(said, operations, lexicon, rank)
        rates += read
        found += told
    if not is_error(found):  # a method is looked up among the rates, of which some are not read
        rates, wrong = by_methods(rates, terms.methods, operations, lexicon)
        found += wrong
    wages: dict[str, Wage] = {}
    trades = {p.trade.name for p in plugins.trades}
    named = {plain_name(name, lexicon): name for name in operations} | {name: name for name in trades}
    for wage in terms.wages:
        name = named.get(wage.trade.casefold()) or named.get(plain_name(wage.trade, lexicon))
        if name is None:
            near = nearest(wage.trade, named)
            help_ = (f"Did you mean {near}? " if near else "") + f"There are: {', '.join(sorted({*named.values()}))}."
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


def wage_of(work: Task, wages: Mapping[str, Wage]) -> Wage | None:
    """The wage of some work: that of its operation, else that of its trade."""
    return wages.get(work.operation) or wages.get(work.trade)
