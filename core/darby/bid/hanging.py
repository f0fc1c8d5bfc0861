"""What hangs on what is open: everything that is not in a bid, or rests on a reading, a question or a price to look at, with its money."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from darby.bid.model import LaborLine, MaterialLine, Open
from darby.bid.prices.money import Currency
from darby.documents.confirmations import read_as
from darby.documents.words import listed, name_of, one_line, place, whereabouts
from darby.estimate.model import Confirmation, Estimate
from darby.labor.hours import told
from darby.quantities.amounts import Amount, total
from darby.text.spans import Span

MISSING, CONFIRM, QUESTION, PRICE = "missing", "confirm", "question", "price"


def opens(
    estimate: Estimate,
    material: Sequence[MaterialLine],
    labor: Sequence[LaborLine],
    currency: Currency,
    silent: Iterable[str],
) -> tuple[Open, ...]:
    """Everything that is open, what is not in the bid first and then by its money, the dearest first."""
    lines = {line.goods.item.id: line for line in material}
    missing = [*_without_price(material), *_without_hours(labor), *_not_told(estimate, silent)]
    rest = [
        *_confirmations(estimate, lines, currency),
        *_questions(estimate, lines, currency),
        *_prices(material),
        *_deliveries(material, currency),
        *_rates(labor),
    ]
    rest.sort(key=lambda one: (-(one.sum or Decimal(0)), one.what, one.text))
    return (*missing, *rest)


def _without_price(material: Iterable[MaterialLine]) -> Iterator[Open]:
    for line in material:
        if line.offer is None:
            what = name_of(line.goods.item)
            why = line.goods.why or f"No supplier that is bought from sells {line.goods.item.product}."
            yield Open(MISSING, f"{what} has no price. {why}", None)


def _without_hours(labor: Iterable[LaborLine]) -> Iterator[Open]:
    for line in labor:
        if line.hours.missing:
            yield Open(MISSING, line.hours.missing, None)
    unpaid: dict[str, list[Amount]] = {}
    for line in labor:
        if line.hours.hours is not None and line.wage is None:
            unpaid.setdefault(line.trade, []).append(line.hours.hours)
    for trade, hours in unpaid.items():
        yield Open(MISSING, f"What is an hour of {one_line(trade)} paid? {total(hours)} have no wage.", None)


def _not_told(estimate: Estimate, silent: Iterable[str]) -> Iterator[Open]:
    for trade in silent:
        yield Open(
            MISSING,
            f"The trade {one_line(trade)} orders goods and tells no work: is its labor in another trade's rates?",
            None,
        )
    for name in estimate.missing:
        yield Open(MISSING, f"The lines of {one_line(name)} are missing, since that part failed.", None)


def _confirmations(estimate: Estimate, lines: Mapping[str, MaterialLine], currency: Currency) -> Iterator[Open]:
    for one in estimate.confirmations:
        text = f"{read_as(one)}, as we read {whereabouts(one.place)}: {one_line(one.why)}"
        yield Open(CONFIRM, text, _moved(one, lines, currency), one.place)


def _moved(one: Confirmation, lines: Mapping[str, MaterialLine], currency: Currency) -> Decimal | None:
    """The material that a reading moves: what the order costs less, or more, without it; None where that is not known."""
    if one.without is None:
        return _of_items(one.items, lines, currency)
    moved = currency.nothing()
    for shift in one.without:
        item = shift.now or shift.then
        line = lines.get(item.id) if item is not None else None
        if line is None or line.offer is None:
            return None
        now, then = (side.count if side is not None else 0 for side in (shift.now, shift.then))
        if now is None or then is None:
            return None
        moved += currency.rounded(line.offer.each * abs(then - now))
    return moved


def _of_items(items: Iterable[str], lines: Mapping[str, MaterialLine], currency: Currency) -> Decimal | None:
    """All that is paid for some lines of the order; None where one of them has no price."""
    offers = [lines[name].offer if name in lines else None for name in items]
    known = [offer.sum for offer in offers if offer is not None]
    return currency.total(known) if known and len(known) == len(offers) else None


def _questions(estimate: Estimate, lines: Mapping[str, MaterialLine], currency: Currency) -> Iterator[Open]:
    for one in estimate.questions:
        yield Open(QUESTION, one_line(one.text), _of_items(one.items, lines, currency), one.place)


def _prices(material: Iterable[MaterialLine]) -> Iterator[Open]:
    """Prices that hold no more, and those of which it is not sure that they are for what is ordered."""
    for line in material:
        offer = line.offer
        if offer is None:
            continue
        what = f"{name_of(line.goods.item)} at {one_line(offer.row.supplier)}"
        if offer.expired and offer.row.valid_until is not None:
            text = f"{what}: the price held until {offer.row.valid_until.isoformat()}. Does it still?"
            yield Open(PRICE, text, offer.sum, offer.row.span)
        if offer.doubts:
            yield Open(PRICE, f"{what}: {' '.join(offer.doubts)}", offer.sum, offer.row.span)


def _deliveries(material: Iterable[MaterialLine], currency: Currency) -> Iterator[Open]:
    """Deliveries that one supplier asks differently for goods that are bought there: one is charged, the dearest."""
    asked: dict[str, dict[Fraction, Span]] = {}
    for line in material:
        if line.offer is not None and line.offer.row.delivery:
            asked.setdefault(line.offer.row.supplier, {}).setdefault(line.offer.row.delivery, line.offer.row.span)
    for supplier, places in sorted(asked.items()):
        dearest, *others = sorted(places, reverse=True)
        if others:
            fees = listed(
                f"{currency.shown(currency.rounded(fee))} ({place(places[fee])})"
                for fee in sorted(places, reverse=True)
            )
            text = f"{one_line(supplier)} asks different sums for a delivery, {fees}: {currency.shown(currency.rounded(dearest))} is charged, once. Is it one delivery?"
            yield Open(PRICE, text, currency.total(map(currency.rounded, others)), places[others[0]])


def _rates(labor: Iterable[LaborLine]) -> Iterator[Open]:
    """Rates of equal weight that say something else than the one that was used."""
    for line in labor:
        others = [rate for part in line.hours.parts for rate in part.others]
        if others:
            used = listed(f"“{rate.text}”" for rate in line.hours.rates)
            text = f"{told(line.hours.work)}: {used} is used, being slower; {listed(f'“{r.text}”' for r in dict.fromkeys(others))} would do too. Which holds?"
            yield Open(PRICE, text, line.sum, others[0].span)
