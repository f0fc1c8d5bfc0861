"""The order list for the supplier: what, how much, where to and when, as one sends it; products and packages, and no working."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from darby.documents.letters.forms import forms
from darby.documents.letters.goods import description, unsaid
from darby.documents.letters.heads import BLANK, head
from darby.documents.letters.prose import Block, Heading, Paragraph, Prose, Table, entries
from darby.documents.letters.said import said, told
from darby.documents.needs import Need, needs
from darby.documents.open_points import OpenPoints
from darby.documents.tables import Column, Sheet, csv_document
from darby.documents.words import content_of, one_line, packages
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.packing import USE
from darby.estimate.working import told as told_amount

_LABELS = ("date", "number", "from", "to", "deliver to", "needed by", "contact")


def write(estimate: Estimate) -> Prose:
    """The order list."""
    goods = list(_goods(estimate))
    known = [(need, item) for need, item in goods if item.count is not None]
    loose = [need for need, item in goods if item.count is None]
    blocks: list[Block] = [head(estimate.job.sending.order, _LABELS)]
    if not estimate.complete:
        missing = f"The lines of {', '.join(estimate.missing)} are missing, since that part failed."
        blocks.append(Paragraph(missing, "Incomplete"))
    if known:
        uses: dict[str, list[tuple[str, ...]]] = {}
        for number, (need, item) in enumerate(known, 1):
            unknown = unsaid(item, estimate.columns)
            uses.setdefault(_use(item), []).append(_row(number, need, item, unknown))
        for use, rows in uses.items():
            blocks += [Heading(use.capitalize())] if use else []
            blocks.append(Table(("Item", "Order", "Package", "Product", "Description"), tuple(rows), frozenset({0, 1})))
    elif not loose:
        blocks.append(Paragraph("Nothing to order."))
    asked = [one_line(q.ask) for q in OpenPoints(estimate).questions if q.to == "supplier"]
    if loose or asked:
        blocks.append(Heading("Please tell us"))
        lines = [f"{need.name}: {need.needed(estimate.job.units)} needed; what packages do you have?" for need in loose]
        blocks.append(entries([*lines, *(f"{question} {BLANK}" for question in asked)]))
    spare = "as the documents ask" if any(_use(item) for _, item in known) else "not in the items above"
    for title, what in (("Delivery, as the documents ask", "delivery"), (f"Spare stock, {spare}", "spare")):
        clauses = said(estimate, what)
        if clauses:
            blocks += [Heading(title), entries(told(span) for span in clauses)]
    return Prose(f"Order list: {one_line(estimate.job.name) or 'unnamed job'}", blocks)


def _row(number: int, need: Need, item: LineItem, unknown: Iterable[str]) -> tuple[str, ...]:
    """One row; the sides of a sheet stand where others have what is in a package, and spare stock under its heading."""
    content, count = _content(item), item.count or 0
    order = packages(item, count) if content != "each" else f"{count:,}"  # beside a package that says `each`
    size = item.pool.told(item.container) if item.container in item.pool else content
    goods = description(need, item, apart=(USE, item.container), unsaid=unknown)
    return (str(number), order, size, one_line(item.product), goods)


def _use(item: LineItem) -> str:
    """What goods beside the work are for, as spare stock; empty for the work itself."""
    return one_line(item.pool.get(USE, ""))


def _goods(estimate: Estimate) -> Iterator[tuple[Need, LineItem]]:
    """Every package to order, by product, what is beside the work last; the sizes of one need stand together."""
    for need in sorted(needs(estimate), key=lambda n: (_use(n.first), n.first.product.casefold(), n.kind)):
        yield from ((need, item) for item in need.items)


def _content(item: LineItem) -> str:
    content = content_of(item)
    return told_amount(content) if content is not None else "each"


def sheet(estimate: Estimate) -> Sheet:
    """The order list as a table: one row a product and package."""
    rows = []
    for number, (need, item) in enumerate(_goods(estimate), 1):
        content = content_of(item)
        rows.append(
            (
                number, item.product, description(need, item), item.count, item.container or ("each" if item.count is not None else ""),
                content.value if content is not None else None, content.unit.name if content is not None else "",
            )
        )  # fmt: skip
    names = ("item", "product", "kind", "order", "package", "holds", "holds unit")
    return Sheet("order", tuple(Column(name, exact=name == "holds") for name in names), tuple(rows))


DOCUMENTS = (
    *forms("order", "the order list for the supplier", write),
    csv_document("order.csv", "the order list for the supplier, a table", sheet),
)
