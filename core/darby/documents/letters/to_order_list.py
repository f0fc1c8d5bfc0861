"""The order list for the supplier: products and packages, and no working."""

from __future__ import annotations

from darby.documents.letters.forms import forms
from darby.documents.letters.prose import Block, Heading, Paragraph, Prose, Table, entries
from darby.documents.tables import Column, Sheet, csv_document
from darby.documents.words import content_of, kind_of, name_of, need_of, one_line, packages
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.working import told


def write(estimate: Estimate) -> Prose:
    """The order list."""
    known = [item for item in _by_product(estimate) if item.count is not None]
    loose = [item for item in _by_product(estimate) if item.count is None]
    blocks: list[Block] = []
    if not estimate.complete:
        blocks.append(
            Paragraph(f"The lines of {', '.join(estimate.missing)} are missing, since that part failed.", "Incomplete")
        )
    if known:
        rows = tuple((one_line(i.product), kind_of(i), packages(i, i.count or 0), _content(i)) for i in known)
        blocks.append(Table(("Product", "Kind", "Order", "Package"), rows, frozenset({2})))
    elif not loose:
        blocks.append(Paragraph("Nothing to order."))
    if loose:
        blocks.append(Heading("Please tell us the packages you have"))
        blocks.append(entries(f"{name_of(i)}: {need_of(i, estimate.job.units)} needed" for i in loose))
    return Prose(f"Order list: {one_line(estimate.job.name) or 'unnamed job'}", blocks)


def _by_product(estimate: Estimate) -> list[LineItem]:
    return sorted(estimate.items, key=lambda item: (item.product.casefold(), kind_of(item)))


def _content(item: LineItem) -> str:
    content = content_of(item)
    return told(content) if content is not None else "singly"


def sheet(estimate: Estimate) -> Sheet:
    """The order list as a table: one row a product and package."""
    rows = []
    for item in _by_product(estimate):
        content = content_of(item)
        rows.append(
            (
                item.product, kind_of(item), item.count, item.container or ("each" if item.count is not None else ""),
                content.value if content is not None else None, content.unit.name if content is not None else "",
            )
        )  # fmt: skip
    names = ("product", "kind", "order", "package", "holds", "holds unit")
    return Sheet("order", tuple(Column(name, exact=name == "holds") for name in names), tuple(rows))


DOCUMENTS = (
    *forms("order", "the order list for the supplier", write),
    csv_document("order.csv", "the order list for the supplier, a table", sheet),
)
