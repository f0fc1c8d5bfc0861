"""A change order as a document that can be sent: number, date, cause, quantities and hours up and down, the difference in the price."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from darby.bid.compared.bought import Kept
from darby.bid.compared.change_order import ChangeOrder
from darby.bid.model import Moved
from darby.bid.prices.money import spelled
from darby.bid.sheet.bid_sheet import ROUNDING, in_form
from darby.bid.sheet.sections import so_many
from darby.documents.letters.heads import BLANK, head
from darby.documents.letters.prose import Block, Fields, Heading, Paragraph, Prose, Table, entries
from darby.documents.words import name_of, one_line, packages
from darby.quantities.numerals import rounded


def make(change: ChangeOrder, form: str = "terminal") -> str:
    """The change order as text for a terminal, as Markdown (`md`) or as a page (`html`)."""
    return in_form(write(change), form)


def write(change: ChangeOrder) -> Prose:
    """The change order."""
    number = f" {one_line(change.head.number)}" if change.head.number else ""
    name = one_line(change.after.estimate.job.name) or "unnamed job"
    return Prose(f"Change order{number}: {name}", _blocks(change))


def _blocks(change: ChangeOrder) -> Iterator[Block]:
    terms, said = change.after.terms, change.head
    money, code = terms.currency.shown, f" {terms.currency.code}" if terms.currency.code else ""
    given = {
        "number": said.number, "date": said.date or (terms.today.isoformat() if terms.today is not None else ""),
        "from": said.sender, "to": said.to, "cause": said.cause,
    }  # fmt: skip
    yield head(given, given)
    way = "Add" if change.sum > 0 else "Deduct" if change.sum < 0 else "No change of the price"
    yield Paragraph(f"{money(abs(change.sum))}{code}", way)
    yield Paragraph(
        f"{money(change.before.total)} before, {money(change.price)} after, both at the prices, rates and mark-ups of the bid.",
        "Price",
    )
    if change.since:
        yield Paragraph(f"the estimate kept as {one_line(change.since)}", "Against")
    if change.missing:
        yield Paragraph(
            f"{len(change.missing)} things have no price, rate or wage before or after; what they move is not in the sum.",
            "Not complete",
        )
    yield from _moved("Quantities", change.moved)
    if change.kept:
        yield from _kept(change)
    yield from _moved("Hours", change.hours)
    if change.days:
        yield Paragraph(f"{'; '.join(_days(*one) for one in change.days)}.", "Time")
    yield Heading("From cost to price")
    costs = [
        (one_line(line.label), money(line.was), money(line.now), _signed(money(line.sum))) for line in change.costs
    ]
    costs.append(("Price", money(change.before.total), money(change.price), _signed(money(change.sum))))
    yield Table(("", "Before", "After", "Difference"), tuple(costs), frozenset({1, 2, 3}))
    if change.missing:
        yield Heading("Not in the sum")
        yield entries(change.missing)
    if not change.counted and any(line.now < line.was for line in change.moved):
        yield Paragraph(
            "Nobody said what is bought already: all that is no longer needed is deducted as if it could be given back. "
            "List what is bought before you sign.", "Mind",
        )  # fmt: skip
    yield Paragraph(ROUNDING, "Rounding")
    yield Heading("Agreed")
    yield Fields(tuple((label, BLANK) for label in ("For the contractor", "Date", "For the client", "Date")))


def _moved(title: str, lines: Iterable[Moved]) -> Iterator[Block]:
    yield Heading(title)
    rows = [
        (one_line(m.name), so_many(m.was, m.unit), so_many(m.now, m.unit), _signed(rounded(m.now - m.was)))
        for m in lines
    ]
    if rows:
        yield Table(("", "Before", "After", "Difference"), tuple(rows), frozenset({1, 2, 3}))
    else:
        yield Paragraph("None move.")


def _kept(change: ChangeOrder) -> Iterator[Block]:
    money = change.after.terms.currency.shown
    yield Heading("Bought already and left over")
    rows = [(name_of(one.line.goods.item), *_left(one), money(one.sum)) for one in change.kept]
    yield Table(("", "Bought", "Left over", "Paid back", "Not deducted"), tuple(rows), frozenset({1, 2, 3, 4}))


def _left(one: Kept) -> tuple[str, str, str]:
    item = one.line.goods.item
    return packages(item, one.bought), packages(item, one.count), f"{spelled(one.back * 100)} %"


def _days(trade: str, more: Fraction) -> str:
    return f"{one_line(trade)} {rounded(abs(more))} {'days more' if more > 0 else 'days fewer'}"


def _signed(text: str) -> str:
    return text if text.startswith("-") else f"+{text}"
