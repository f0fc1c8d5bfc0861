"""The bid sheet: material, labor, what is put on top, the price; by trade and place; what is in it, what is not, and what is open."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from darby.bid.markups import ALLOWANCES, DELIVERIES, LABOR, MATERIAL
from darby.bid.model import Bid, LaborLine, MaterialLine
from darby.bid.prices.money import spelled
from darby.bid.prices.pricing import Offer
from darby.bid.sheet.sections import (
    alternates,
    counted,
    open_points,
    places,
    scope,
    suppliers,
    unit_prices,
    working_of_hours,
)
from darby.bid.sheet.ways_side_by_side import side_by_side
from darby.documents.letters.prose import Block, Heading, Paragraph, Prose, Table, as_markdown, entries
from darby.documents.words import documents_used, listed, name_of, one_line, order_of, packages, place
from darby.labor.hours import told
from darby.quantities.numerals import rounded

ROUNDING = "Every line is rounded once, half up, to the smallest coin; a total is the sum of what the lines show."
_COST = {MATERIAL: "Material", DELIVERIES: "Deliveries", LABOR: "Labor", ALLOWANCES: "Allowances"}


def make(bid: Bid, form: str = "terminal", *, longhand: bool = False) -> str:
    """The bid sheet as text for a terminal, as Markdown (`md`) or as a page (`html`); with `longhand` the working of all hours."""
    return in_form(write(bid, longhand=longhand), form)


def in_form(prose: Prose, form: str) -> str:
    """A document as text for a terminal, as Markdown (`md`) or as a page (`html`)."""
    if form == "md":
        return as_markdown(prose)
    if form == "html":
        from darby.documents.letters.prose_page import prose_page  # noqa: PLC0415 - loads jinja2, which only pages need

        return prose_page(prose)
    from darby.bid.sheet.to_terminal import shown  # noqa: PLC0415 - loads rich, which only a terminal needs

    return shown(prose)


def write(bid: Bid, *, longhand: bool = False) -> Prose:
    """The bid sheet."""
    return Prose(f"Bid: {one_line(bid.estimate.job.name) or 'unnamed job'}", _blocks(bid, longhand=longhand))


def _blocks(bid: Bid, *, longhand: bool) -> Iterator[Block]:
    money = bid.terms.currency.shown
    code = f" {bid.terms.currency.code}" if bid.terms.currency.code else ""
    yield Paragraph(f"{money(bid.total)}{code}", "Price")
    missing = [one for one in bid.open if one.what == "missing"]
    if missing:
        yield Paragraph(
            f"{counted(len(missing), 'thing is', 'things are')} not in this price; see what is open.", "Not complete"
        )
    if bid.terms.today is not None:
        yield Paragraph(
            f"{bid.terms.today.isoformat()}"
            + (f"; the bid stands {one_line(bid.terms.valid)}" if bid.terms.valid else ""),
            "Date",
        )
    papers = documents_used(bid.estimate)
    yield Paragraph(f"{listed(papers) if papers else 'no specification'}.", "Based on")
    yield from _material(bid)
    yield from _labor(bid)
    yield from _price(bid)
    yield from places(bid)
    yield from scope(bid)
    yield from alternates(bid)
    yield from unit_prices(bid)
    yield from side_by_side(bid)
    yield from open_points(bid)
    yield from suppliers(bid)
    if longhand:
        yield from working_of_hours(bid)
    yield Paragraph(ROUNDING, "Rounding")


def _material(bid: Bid) -> Iterator[Block]:
    yield Heading("Material")
    if not bid.material:
        yield Paragraph("None.")
        return
    rows = [(name_of(line.goods.item), order_of(line.goods.item), *_bought(line, bid)) for line in bid.material]
    rows.append(("Material", "", "", bid.terms.currency.shown(bid.direct[MATERIAL]), ""))
    yield Table(("Goods", "Order", "Each", "Sum", "From"), tuple(rows), frozenset({2, 3}))
    more = [
        f"{name_of(line.goods.item)}: {packages(line.goods.item, line.offer.bought)} are bought, "
        f"the fewest that {one_line(line.offer.row.supplier)} sells{_together(line.offer)}."
        for line in bid.material
        if line.offer is not None and line.offer.bought != line.goods.item.count
    ]
    if more:
        yield entries(more)


def _together(offer: Offer) -> str:
    """How many are sold together, where it is more than one."""
    package = offer.row.package
    return f" by the {package.load} of {package.many}" if package.load else ""


def _bought(line: MaterialLine, bid: Bid) -> tuple[str, str, str]:
    if line.offer is None:
        return ("", "no price", "")
    expired = ", expired" if line.offer.expired else ""
    supplier = f"{one_line(line.offer.row.supplier)} ({place(line.offer.row.span)}{expired})"
    return (
        spelled(line.offer.each) if line.offer.each.denominator < 10**6 else rounded(line.offer.each),
        bid.terms.currency.shown(line.offer.sum),
        supplier,
    )


def _labor(bid: Bid) -> Iterator[Block]:
    yield Heading("Labor")
    if not bid.labor:
        yield Paragraph("None is known: no trade told any work.")
        return
    rows = [_worked(line, bid) for line in bid.labor]
    hours = sum(
        (line.hours.hours.value for line in bid.labor if line.hours.hours is not None), start=bid.terms.minimum * 0
    )
    rows.append(("Labor", "", "", rounded(hours), bid.terms.currency.shown(bid.direct[LABOR])))
    yield Table(("Task", "Measured", "Rate", "Hours", "Sum"), tuple(rows), frozenset({1, 3, 4}))
    if bid.crews:
        yield entries(_crews(bid))


def _worked(line: LaborLine, bid: Bid) -> tuple[str, str, str, str, str]:
    hours = line.hours
    rates = "; ".join(
        f"{rate.text.partition(':')[2].strip().rstrip('.')}" + (f" [{rate.cited}]" if rate.cited else "")
        for rate in hours.rates
    )
    sum_ = (
        "no wage"
        if line.sum is None and hours.hours is not None
        else "no rate"
        if line.sum is None
        else bid.terms.currency.shown(line.sum)
    )
    measured = (
        next((part.amount for part in hours.parts), hours.work.amounts[0])
        if len(hours.parts) == 1
        else hours.work.amounts[0]
    )
    partly = " (in part)" if hours.missing and hours.hours is not None else ""
    return (
        one_line(told(hours.work)),
        str(measured),
        one_line(rates),
        (rounded(hours.hours.value) if hours.hours is not None else "") + partly,
        sum_,
    )


def _crews(bid: Bid) -> Iterator[str]:
    money = bid.terms.currency.shown
    for crew in bid.crews:
        wage = crew.wage
        burden = f" and {spelled(wage.burden * 100)} % burden" if wage.burden else ""
        text = f"{one_line(wage.trade)}: {crew.hours} at {spelled(wage.wage)}{burden}, {money(crew.sum)}"
        if crew.days is not None:
            text += f"; a crew of {wage.crew} takes {rounded(crew.days)} days of {spelled(wage.hours)} hours"
        yield f"{text}."


def _price(bid: Bid) -> Iterator[Block]:
    money = bid.terms.currency.shown
    yield Heading("From cost to price")
    rows = [
        (_COST[name], _said(name, bid), money(sum_))
        for name, sum_ in bid.direct.items()
        if sum_ or name in (MATERIAL, LABOR)
    ]
    rows += [(one_line(one.label), one_line(one.said), money(one.sum)) for one in bid.added]
    rows.append(("Price", "", money(bid.total)))
    yield Table(("Line", "Reckoned as", "Sum"), tuple(rows), frozenset({2}))
    if bid.allowances:
        yield entries(f"Allowance, {one_line(one.label)}: {money(one.sum)}." for one in bid.allowances)
    if bid.area is not None and bid.area:
        each = bid.terms.currency.rounded(Fraction(bid.total) / bid.area.value)
        yield Paragraph(
            f"{money(each)} per {bid.area.unit}, over {bid.area} of faces measured, openings left in.", "Unit price"
        )


def _said(name: str, bid: Bid) -> str:
    if name == DELIVERIES:
        return listed(f"{one_line(who)} {bid.terms.currency.shown(fee)}" for who, fee in bid.basket.deliveries.items())
    return ""
