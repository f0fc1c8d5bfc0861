"""What the goods of an order cost by the price lists that its job names, for whoever shows what an open point is worth."""

# ruff: noqa: PLC0415 - a form is loaded where it is asked for

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from pathlib import Path

from attrs import define

from darby.bid.bidding import make_bid
from darby.bid.compared.alternates import with_alternates
from darby.bid.compared.named_units import with_named_units
from darby.bid.compared.unit_prices import with_unit_prices
from darby.bid.compared.ways import with_ways
from darby.bid.model import Bid
from darby.bid.papers import Papers, no_supplier, priced_by
from darby.bid.prices.meaning import Meanings
from darby.bid.prices.pricing import Goods, price_goods
from darby.bid.prices.suppliers import cheapest
from darby.bid.terms import Said, Terms, read_terms
from darby.desk.panes.money import Prices
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.plugin_host.model import Plugins
from darby.reading.parsing.lexicon import Lexicon
from darby.text.beside import open_beside
from darby.text.diagnostics import Diagnostic, is_error
from darby.text.spans import Source


def papers_of(terms: Terms, folder: Path, *, anywhere: bool = False) -> tuple[Papers, list[Diagnostic]]:
    """The price lists and files of production rates that the terms of a bid name, and what is wrong with them."""
    prices, told = sources_of(terms.prices, folder, anywhere=anywhere, table=True)
    labor, more = sources_of(terms.labor, folder, anywhere=anywhere)
    return Papers(prices, labor), [*told, *more]


def sources_of(
    names: Iterable[Said], folder: Path, *, anywhere: bool = False, table: bool = False
) -> tuple[tuple[Source, ...], list[Diagnostic]]:
    """The files that the job names beside it, and what is wrong with them."""
    sources: list[Source] = []
    told: list[Diagnostic] = []
    for name, span in names:
        source, found = open_beside(folder, name, span, anywhere=anywhere, table=table)
        told.extend(found)
        if source is not None:
            sources.append(source)
    return tuple(sources), told


def sheet_of(made: Bid, form: str, *, longhand: bool = False) -> str | bytes:
    """A bid written out: `terminal`, `md`, `html`, `csv`, `json` or `xlsx`."""
    if form == "csv":
        from darby.bid.sheet.to_csv import make as to_csv

        return to_csv(made)
    if form == "json":
        from darby.bid.sheet.to_json import make as to_json

        return to_json(made)
    if form == "xlsx":
        from darby.bid.sheet.to_xlsx import make as to_xlsx

        return to_xlsx(made)
    from darby.bid.sheet.bid_sheet import make as to_sheet

    return to_sheet(made, form, longhand=longhand)


@define
class Priced:
    """Prices the orders of one job, by the lists that lie beside it."""

    folder: Path
    plugins: Plugins
    """Those that the order was worked out with."""

    def __call__(self, estimate: Estimate) -> Prices | None:
        """What a package of each line costs where it is bought; None where the job names no price lists, or one is wrong: the bid says what."""
        terms, found = read_terms(estimate.job.source)
        if not terms.prices or is_error(found):
            return None
        lists, told = sources_of(terms.prices, self.folder, table=True)
        rows, terms, wrong = priced_by(estimate, self.plugins, terms, lists)
        wrong += no_supplier(terms, rows)
        if is_error((*told, *wrong)):
            return None
        meanings = Meanings(Lexicon.of(self.plugins.vocabularies), estimate.job.units)
        goods = price_goods(estimate.items, rows, meanings, terms.currency, terms.today)
        basket = cheapest(goods, terms.currency, terms.supplier[0])
        each = {name: offer.each for name, offer in basket.chosen.items()}
        others = price_goods(tuple(_not_ordered(estimate)), rows, meanings, terms.currency, terms.today)
        each |= {one.item.id: _least(one, terms.supplier[0]) for one in others if _sold(one, terms.supplier[0])}
        return Prices(each, terms.currency)

    def bid(self, estimate: Estimate) -> tuple[Bid | None, tuple[Diagnostic, ...]]:
        """The bid on the terms that the job states, and what is to be said of it; None where these are wrong, or there are none."""
        terms, found = read_terms(estimate.job.source)
        if not terms.stated and not found:
            return None, ()
        papers, told = papers_of(terms, self.folder)
        if is_error((*found, *told)):
            return None, (*found, *told)
        made, said = make_bid(estimate, self.plugins, terms, papers)
        return made, (*found, *told, *said)

    def paper(self, estimate: Estimate, form: str) -> str | bytes | None:
        """The bid sheet in a form, as `darby bid` writes it; None where there is no bid."""
        made, _ = self.bid(estimate)
        if made is None:
            return None
        papers, _ = papers_of(made.terms, self.folder)
        return sheet_of(with_named_units(with_unit_prices(made, self.plugins, papers)), form)

    def otherwise(self, estimate: Estimate) -> tuple[Bid | None, tuple[Diagnostic, ...]]:
        """The bid with the alternates of the documents and the ways that the job names; None where its terms are wrong. A job without
        terms has its alternates too, and no prices.
        """
        terms, found = read_terms(estimate.job.source)
        papers, told = papers_of(terms, self.folder)
        if is_error((*found, *told)):
            return None, (*found, *told)
        made, said = make_bid(estimate, self.plugins, terms, papers)
        if made is None:
            return None, (*found, *told, *said)
        made, wrong = with_ways(with_alternates(made, self.plugins, papers), self.plugins, papers)
        return (None, wrong) if is_error(wrong) else (made, (*found, *told, *said, *wrong))


def _not_ordered(estimate: Estimate) -> Iterator[LineItem]:
    """Lines that would be ordered only if a reading did not hold."""
    known = {item.id for item in estimate.items}
    for one in estimate.confirmations:
        for shift in one.without or ():
            if shift.then is not None and shift.then.id not in known:
                known.add(shift.then.id)
                yield shift.then


def _sold(goods: Goods, supplier: str) -> bool:
    return bool(goods.offers) if not supplier else supplier in goods.offers


def _least(goods: Goods, supplier: str) -> Fraction:
    if supplier:
        return goods.offers[supplier].each
    return min(goods.offers.values(), key=lambda offer: (offer.expired, offer.each)).each
