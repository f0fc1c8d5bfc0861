"""The bid: what the order and the work cost, what is put on top, and what is still open, each sum with what it comes from."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

from attrs import frozen

from darby.bid.markups import Added
from darby.bid.places import Shares
from darby.bid.prices.price_list import PriceRow
from darby.bid.prices.pricing import Goods, Offer
from darby.bid.prices.suppliers import Basket
from darby.bid.terms import Terms, Wage
from darby.estimate.model import Estimate
from darby.labor.hours import Hours
from darby.labor.rate_lines import RateLine
from darby.quantities.amounts import Amount
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Span


@frozen(eq=False)
class MaterialLine:
    """One line of the order with what is paid for it; without an offer it is not in the bid."""

    goods: Goods
    offer: Offer | None
    shares: Shares

    @property
    def trade(self) -> str:
        """The trade that orders it."""
        return self.goods.item.trade


@frozen(eq=False)
class LaborLine:
    """One piece of work with its hours and what they cost; without a sum it is not in the bid, or only in part."""

    hours: Hours
    wage: Wage | None
    sum: Decimal | None
    shares: Shares

    @property
    def trade(self) -> str:
        """The trade whose people do it."""
        return self.hours.work.trade


@frozen(eq=False)
class Crew:
    """The hours under one wage, and how long its crew takes."""

    wage: Wage
    hours: Amount
    sum: Decimal

    @property
    def days(self) -> Fraction | None:
        """Days of the crew; None where nobody says how many it is."""
        return self.hours.value / (self.wage.crew * self.wage.hours) if self.wage.crew else None


@frozen(eq=False)
class Allowance:
    """A sum set aside for what cannot be measured yet."""

    label: str
    sum: Decimal
    span: Span


@frozen(eq=False)
class PlaceLine:
    """One room, floor or phase: what is used there, and its part of the price. What is of no place has no name."""

    name: str
    material: Decimal
    labor: Decimal
    price: Decimal
    area: Amount | None = None
    """All faces measured there, openings left in."""


@frozen(eq=False)
class PhaseOrder:
    """A line that would be ordered in more packages if each phase were rounded up by itself."""

    material: MaterialLine
    packages: int
    """How many more."""
    sum: Decimal
    """What these cost."""


@frozen(eq=False)
class Open:
    """Something that the bid rests on, or that is not in it, and the money that hangs on it."""

    what: str
    """`missing` (no price, rate or wage: not in the bid), `confirm` (a reading), `question` (an open one) or `price` (one to look at)."""
    text: str
    sum: Decimal | None
    """None where it is not known what it would come to."""
    span: Span | None = None


@frozen(eq=False)
class Moved:
    """A quantity that an alternate moves: packages to order, or hours."""

    name: str
    was: Fraction
    now: Fraction
    unit: str
    """What is counted: `pail`, `hour`; nothing for goods that come singly."""


@frozen(eq=False)
class AlternatePrice:
    """An alternate with what it adds to the price; a sum below zero is deducted."""

    name: str
    title: str
    span: Span
    taken: bool
    """Whether it is in the bid."""
    sum: Decimal | None
    """None where nothing of it could be priced."""
    moved: tuple[Moved, ...]
    """The quantities behind the sum."""
    open: tuple[str, ...] = ()
    """What of it is not in the sum, a sentence each."""


@frozen(eq=False)
class UnitPart:
    """Goods or work in a unit price."""

    of: str
    """`material` or `labor`."""
    name: str
    many: Fraction | None
    """Packages, parts of one counted, or hours; None where it is not known how many."""
    unit: str
    sum: Decimal | None
    """None where there is no price, rate or wage."""
    why: str = ""
    """Why there is no sum, as the end of a sentence that begins with its name; nothing where a price, a rate or a wage is missing."""


@frozen(eq=False)
class UnitPrice:
    """A unit price that the documents ask for, or the terms name."""

    name: str
    what: str
    """In the words of the document."""
    per: str
    """For how much, as it is written there."""
    span: Span
    sum: Decimal | None
    """None where nothing of it could be priced."""
    parts: tuple[UnitPart, ...]
    added: tuple[tuple[str, Decimal], ...]
    """The mark-ups, each with its sum; with the parts they make up the price."""
    open: tuple[str, ...] = ()
    """What is not in it, or why there is none, a sentence each."""
    doubts: tuple[str, ...] = ()
    """What price lists leave open of goods that are in it, a sentence each."""
    without: tuple[str, ...] = ()
    """Mark-ups that are sums, of which it has no part."""
    over: str = ""
    """Over how much it was reckoned: `100 sq ft`."""
    whole: Decimal = Decimal(0)
    """What the parts and the mark-ups make over so much."""


@frozen(eq=False)
class WayPrice:
    """The bid made again by another way of doing the work."""

    name: str
    span: Span
    bid: Bid
    moved: tuple[Moved, ...]
    """The packages and hours that are others than in the bid."""
    departs: tuple[str, ...] = ()
    """The clauses of the documents that it does not follow, quoted, with their places."""
    lacking: tuple[str, ...] = ()
    """What is not in its price and is in that of the bid or of another way, a sentence each."""


@frozen(eq=False)
class Bid:
    """Everything about the money of one estimate. Sums are rounded line by line, and totals are sums of what the lines show."""

    estimate: Estimate
    terms: Terms
    material: tuple[MaterialLine, ...]
    basket: Basket
    """What is bought where."""
    alone: tuple[Basket, ...]
    """What each supplier would take for all of it."""
    labor: tuple[LaborLine, ...]
    crews: tuple[Crew, ...]
    allowances: tuple[Allowance, ...]
    direct: Mapping[str, Decimal]
    """Material, deliveries, labor, allowances: what mark-ups are put on."""
    added: tuple[Added, ...]
    total: Decimal
    trades: tuple[PlaceLine, ...]
    """The same by trade; deliveries and allowances are of none."""
    rooms: tuple[PlaceLine, ...]
    floors: tuple[PlaceLine, ...]
    phases: tuple[PlaceLine, ...]
    phase_orders: tuple[PhaseOrder, ...]
    open: tuple[Open, ...]
    """The dearest first; what is not in the bid before all else."""
    unmatched: tuple[PriceRow, ...] = ()
    """Prices of what is not ordered."""
    idle: tuple[RateLine, ...] = ()
    """Rates that nothing had a use for."""
    diagnostics: tuple[Diagnostic, ...] = ()
    alternates: tuple[AlternatePrice, ...] = ()
    """What each alternate of the documents adds or takes, where that was asked for."""
    unit_prices: tuple[UnitPrice, ...] = ()
    """The unit prices that the documents ask for, then those that the terms name."""
    ways: tuple[WayPrice, ...] = ()
    """Other ways of doing the work, where they were asked for."""

    @property
    def complete(self) -> bool:
        """Whether nothing is missing in it."""
        return self.estimate.complete and not any(one.what == "missing" for one in self.open)

    @property
    def cost(self) -> Decimal:
        """All direct cost."""
        return sum(self.direct.values(), Decimal(0))

    @property
    def area(self) -> Amount | None:
        """All faces measured, openings left in; None where nothing was."""
        areas = [line.area for line in self.rooms if line.area is not None]
        return None if not areas else sum(areas[1:], areas[0])
