"""A change order as a document that can be sent: number, date, cause, quantities and hours up and down, the difference in the price."""

from __future__ import annotations

from collections.abc import Iterator

from darby.bid.change_order import ChangeOrder
from darby.bid.model import Moved
from darby.bid.sheet.bid_sheet import ROUNDING, in_form
from darby.documents.letters.prose import Block, Heading, Paragraph, Prose, Table, entries
from darby.documents.words import one_line
from darby.quantities.numerals import rounded


def make(change: ChangeOrder, form: str = "terminal") -> str:
    """The change order as text for a terminal, as Markdown (`md`) or as a page (`html`)."""
    return in_form(write(change), form)


def write(change: ChangeOrder) -> Prose:
    """The change order."""
    number = f" {one_line(change.number)}" if change.number else ""
    name = one_line(change.after.estimate.job.name) or "unnamed job"
    return Prose(f"Change order{number}: {name}", _blocks(change))


def _blocks(change: ChangeOrder) -> Iterator[Block]:
    terms = change.after.terms
    money, code = terms.currency.shown, f" {terms.currency.code}" if terms.currency.code else ""
    way = "Add" if change.sum > 0 else "Deduct" if change.sum < 0 else "No change of the price"
    yield Paragraph(f"{money(abs(change.sum))}{code}", way)
    if terms.today is not None:
        yield Paragraph(terms.today.isoformat(), "Date")
    if change.cause:
        yield Paragraph(one_line(change.cause), "Cause")
    if change.since:
        yield Paragraph(f"the estimate kept as {one_line(change.since)}", "Against")
    yield Paragraph(
        f"{money(change.before.total)} before, {money(change.after.total)} after, both at the prices, rates and mark-ups of this job file.",
        "Price",
    )
    if change.missing:
        yield Paragraph(
            f"{len(change.missing)} things have no price, rate or wage before or after; what they move is not in the sum.",
            "Not complete",
        )
    yield Heading("Quantities")
    rows = [
        (line.name, _many(line, before=True), _many(line, before=False), _difference(line)) for line in change.moved
    ]
    if rows:
        yield Table(("", "Before", "After", "Difference"), tuple(rows), frozenset({1, 2, 3}))
    else:
        yield Paragraph("None move.")
    yield Heading("From cost to price")
    costs = [
        (one_line(line.label), money(line.was), money(line.now), _signed(money(line.sum))) for line in change.costs
    ]
    costs.append(("Price", money(change.before.total), money(change.after.total), _signed(money(change.sum))))
    yield Table(("", "Before", "After", "Difference"), tuple(costs), frozenset({1, 2, 3}))
    if change.missing:
        yield Heading("Not in the sum")
        yield entries(change.missing)
    yield Paragraph(
        "What is bought already and no longer needed is deducted here as if it could be given back; look before you sign.",
        "Mind",
    )
    yield Paragraph(ROUNDING, "Rounding")


def _many(line: Moved, *, before: bool) -> str:
    value = line.was if before else line.now
    plural = "" if value == 1 or not line.unit else "es" if line.unit == "box" else "s"
    return f"{rounded(value)} {line.unit}{plural}".strip()


def _difference(line: Moved) -> str:
    return _signed(rounded(line.now - line.was))


def _signed(text: str) -> str:
    return text if text.startswith("-") else f"+{text}"
