"""The unit prices that documents ask for: so much more of some work, priced with the goods and the hours of the trades that it names.

Goods are reckoned by what is used and not by whole packages, at the price of the bid where it buys them; mark-ups that are shares are
put on in their order, and sums are not. What cannot be told so is not priced, and is told.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from json import dumps

from attrs import evolve, frozen

from darby.bid.markups import DIRECT, LABOR, MATERIAL, put_on, read_markups
from darby.bid.model import Bid, UnitPart, UnitPrice
from darby.bid.papers import Papers, priced_by, timed_by, wage_of
from darby.bid.prices.meaning import Meanings, contained
from darby.bid.prices.price_list import PriceRow
from darby.bid.prices.pricing import price_goods
from darby.bid.prices.suppliers import cheapest
from darby.bid.tasks import tasks_of
from darby.bid.terms import Terms, Wage
from darby.documents.words import name_of
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.labor.hours import hours_of, told
from darby.labor.rate_lines import RateLine
from darby.pipeline import estimate
from darby.plugin_host.job_lines import names_in
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount
from darby.quantities.numerals import exact
from darby.quantities.plurals import plural
from darby.quantities.units import AREA, LENGTH
from darby.reading.addenda.price_requests import PriceRequest, named, price_requests
from darby.reading.left_undone import goods_in
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.read import Language
from darby.rules.rule import SPECIFICATION, alternate
from darby.text.spans import Source

_ASKED = alternate("999")
"""The layer of what is asked for: above the documents that ask, below the estimator's own lines."""
_COATS = frozenset({"COAT", "ORDINAL", "EACH_COAT", "A_COAT"})
_MORE = frozenset({"MORE", "ORDINAL"})
_MANY = 100
"""A price of one is reckoned over so many, since its lines are parts of a coin, and rounded once."""


def with_unit_prices(bid: Bid, plugins: Plugins, papers: Papers) -> Bid:
    """The bid with every unit price that its documents ask for, in their order."""
    plain = Language.of(plugins.readers, plugins.vocabularies)
    language = plain.naming(names_in(bid.estimate.job))
    found: dict[tuple[str, str], PriceRequest] = {}
    for source, layer in bid.estimate.papers:
        if layer.rank >= SPECIFICATION.rank:
            for one in price_requests(source, language):
                found.setdefault((one.number, one.what.casefold()), one)
    if not found:
        return bid
    prices, _, _ = priced_by(bid.estimate, plugins, bid.terms, papers.prices)
    rates, wages, _ = timed_by(plugins, bid.terms, papers.labor)
    means = _Means(bid, plugins, plain, language, prices, rates, wages)
    return evolve(bid, unit_prices=tuple(_Pricing(one, means).made() for one in found.values()))


@frozen(eq=False)
class _Means:
    """What every request is priced with, read once."""

    bid: Bid
    plugins: Plugins
    plain: Language
    language: Language
    prices: Sequence[PriceRow]
    rates: Sequence[RateLine]
    wages: Mapping[str, Wage]


class _Pricing:
    """One request being priced."""

    def __init__(self, one: PriceRequest, means: _Means) -> None:
        bid = means.bid
        self.tags: Sequence[Tag] = means.language.lexicon.tags(one.what)
        subjects = {tag.value for tag in self.tags if tag.name == "subject"}
        held = _held(one.per, subjects, bid) if one.per is not None else None
        self.one = evolve(one, per=held) if held is not None else one
        self.means, self.bid = means, bid
        self.doubts: list[str] = []
        self.times = 1 if self.one.per is None or self.one.per.value >= _MANY else _MANY

    def made(self) -> UnitPrice:
        """Its price, or why there is none."""
        one = self.one
        if one.per is not None and one.per.unit.dimension == LENGTH:
            parts = [*self._along(one.per * self.times)]
            return (
                self._priced(parts)
                if parts
                else self._open("Nothing in this bid is measured by length under that name.")
            )
        job, why = self._job()
        if job is None:
            return self._open(why)
        trades = self._trades(job)
        if not trades:
            return self._open("It is not known which of our work is asked for.")
        source = Source(job.name, _plain(job, self.bid.estimate.job.units, trades))
        measured, _ = load(source, self.means.plugins.marks)
        if measured is None:
            return self._open("So much of it cannot be measured.")
        asked = (Source(named(one), f"{one.what}."), _ASKED)
        made = estimate(
            measured, (*self.bid.estimate.papers, asked), self.means.plugins, self.means.plain, asking=False
        )
        parts = [*self._material(made), *self._labor(made)]
        return self._priced(parts) if parts else self._open("It takes no goods and no work.")

    def _job(self) -> tuple[Source | None, str]:
        """A job that holds so much of it and nothing else; or why there can be none."""
        one = self.one
        names = [tag.name for tag in self.tags]
        if _COATS & set(names) and _MORE & set(names):
            return None, "A coat by itself is asked for; price it by hand."
        surfaces = [tag.value for tag in self.tags if tag.name == "surface"]
        rooms = [tag.value for tag in self.tags if tag.name == "room"]
        if len(set(surfaces)) > 1 or len(set(rooms)) > 1:
            return None, "It is asked for several places at once; price each by hand."
        if one.per is None or one.per.unit.dimension != AREA:
            return None, f"It is asked for {one.said}, which is no area and no length."
        size = self._size()
        surface = surfaces[0] if surfaces else "wall"
        if surface not in ("wall", "ceiling"):
            return None, f"It is asked for {plural(surface)} by their area; price it by hand."
        room = f"room = {dumps(rooms[0])}\n" if rooms else ""
        faces = "faces = 1\n" if surface == "wall" else ""
        return Source(named(one), f'[[{surface}s]]\nname = "{named(one)}"\narea = "{size}"\n{faces}{room}'), ""

    def _size(self) -> str:
        """Over how much it is reckoned."""
        per = self.one.per
        return f"{exact(per.value * self.times)} {per.unit.name}" if per is not None else ""

    def _along(self, length: Amount) -> Iterator[UnitPart]:
        """Goods of the bid that are needed by their length, and the work that names them, for so much of it."""
        subjects = {tag.value for tag in self.tags if tag.name == "subject"}
        currency = self.bid.terms.currency
        for line in self.bid.material:
            item = line.goods.item
            if item.product in subjects and item.package is not None and item.need.unit.dimension == LENGTH:
                many = (length / item.package).value
                sum_ = currency.rounded(many * line.offer.each) if line.offer is not None else None
                yield UnitPart(MATERIAL, name_of(item), many, item.container, sum_)
                break  # of several lengths of stick one is enough
        for work in self.bid.labor:
            measured = work.hours.work.measured_in(LENGTH)
            if measured and any(name in work.hours.work.operation for name in subjects):
                hours = work.hours.hours
                many_hours = hours.value * length.size / measured.size if hours is not None else None
                paid = (
                    work.wage.paid(many_hours, currency) if many_hours is not None and work.wage is not None else None
                )
                yield UnitPart(LABOR, told(work.hours.work), many_hours, "hour", paid)

    def _trades(self, job: Source) -> list[str]:
        """The trades whose work is asked for, as a job would have it in which nothing else is."""
        alone, _ = load(Source(job.name, _plain(job, self.bid.estimate.job.units)), self.means.plugins.marks)
        if alone is None:
            return []
        paper = (Source(named(self.one), f"{self.one.what}."), SPECIFICATION)
        made = estimate(alone, (paper,), self.means.plugins, self.means.plain, asking=False)
        if made.items:
            named_by = {item.trade for item in made.items}
            at_work = {name for name, _, _ in self.bid.estimate.trades}
            return sorted(named_by & at_work or named_by)
        goods = goods_in(
            self.one.what, self.tags, self.means.language.vocabularies
        )  # the name of a trade is that of work and not of goods
        return sorted({line.trade for line in self.bid.material if line.goods.item.product in goods})

    def _material(self, made: Estimate) -> Iterator[UnitPart]:
        bid, currency = self.bid, self.bid.terms.currency
        meanings = Meanings(Lexicon.of(self.means.plugins.vocabularies), made.job.units)
        found = price_goods(made.items, self.means.prices, meanings, currency, bid.terms.today)
        chosen = cheapest(found, currency, bid.terms.supplier[0]).chosen
        known = {line.goods.item.id: line.offer for line in bid.material if line.offer is not None}
        for item in made.items:
            offer = known.get(item.id) or chosen.get(item.id)
            many = packages_of(item)
            if offer is None or many is None:
                yield UnitPart(MATERIAL, name_of(item), many, item.container, None)
            else:
                self.doubts += [f"{name_of(item)}: {text}" for text in offer.doubts]
                yield UnitPart(MATERIAL, name_of(item), many, item.container, currency.rounded(many * offer.each))

    def _labor(self, made: Estimate) -> Iterator[UnitPart]:
        for hours in hours_of(tasks_of(made, self.means.plugins).works, self.means.rates):
            wage = wage_of(hours.work, self.means.wages)
            many = hours.hours.value if hours.hours is not None else None
            sum_ = None
            if many is not None and wage is not None and not hours.missing:
                sum_ = wage.paid(many, self.bid.terms.currency)
            yield UnitPart(LABOR, told(hours.work), many, "hour", sum_)

    def _priced(self, parts: Sequence[UnitPart]) -> UnitPrice:
        one = self.one
        made = UnitPrice(
            named(one),
            one.what,
            one.said,
            one.span,
            None,
            tuple(parts),
            (),
            doubts=tuple(self.doubts),
            over=self._size(),
        )
        return priced(made, Fraction(self.times), self.bid.terms)

    def _open(self, why: str) -> UnitPrice:
        one = self.one
        return UnitPrice(named(one), one.what, one.said, one.span, None, (), (), (why,))


def priced(one: UnitPrice, times: Fraction, terms: Terms) -> UnitPrice:
    """A unit price with its parts, which are of so many units, added up: mark-ups that are shares put on, and rounded once for one unit."""
    direct = dict.fromkeys(DIRECT, terms.currency.nothing())
    for part in one.parts:
        direct[part.of] += part.sum or Decimal(0)
    markups, _ = read_markups(terms.markups)
    shares = [evolve(markup, sum=Fraction(0)) for markup in markups]
    added = [mark for mark in put_on(direct, shares, Fraction(0), terms.currency) if mark.share is not None]
    missing = [
        f"{part.name} {part.why or ('has no price' if part.of == MATERIAL else 'has no rate or wage')}."
        for part in one.parts
        if part.sum is None
    ]
    whole = terms.currency.total((*direct.values(), *(mark.sum for mark in added)))
    sum_ = terms.currency.rounded(Fraction(whole) / times)
    known = any(part.sum is not None for part in one.parts)
    left = [markup.label for markup in markups if markup.share is None]
    return evolve(
        one, sum=sum_ if known else None, added=tuple((mark.label, mark.sum) for mark in added),
        open=(*missing, *one.open), without=tuple(left), whole=whole,
    )  # fmt: skip


def _plain(job: Source, units: str, trades: Sequence[str] = ()) -> str:
    names = ", ".join(f'"{name}"' for name in trades)
    listed = f"trades = [{names}]\n" if trades else ""
    return f'name = "{job.name}"\nunits = "{units}"\n{listed}\n{job.text}'


def _held(per: Amount, subjects: Collection[str], bid: Bid) -> Amount | None:
    """What so many packages hold, where goods are asked for by the package; None where the bid has none such, or several sizes of it."""
    found = {
        contained(item.package)[0]
        for item in (line.goods.item for line in bid.material)
        if item.package is not None and item.product in subjects and item.container == per.unit.name
    }
    return found.pop() * per.value if len(found) == 1 else None


def packages_of(item: LineItem) -> Fraction | None:
    """How many packages the need comes to, parts of one counted, as an order would round them up."""
    return (item.need / item.package).value if item.package is not None else None
