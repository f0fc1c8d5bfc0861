"""What a job lists beside what it measures: types with their lines, and prices of packages."""

from __future__ import annotations

from collections.abc import Iterable

from darby.job.model import Price, Type
from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import Sheet, shown
from darby.rules.systems import plain_mark
from darby.text.diagnostics import Label

PRICE = "product package price".split()
"""The keys of a price."""
TYPES = "name lines".split()
"""The keys of a type."""


def type_of(row: Row) -> Type | None:
    """The type of a row, or None where it makes none, which is then told."""
    name = row.text("name", 'Write name = "W3", the mark that walls, rooms and documents use for it.')
    if "lines" not in row:
        row.missing("lines", 'Write lines = ["..."], plain lines as in a specification, each in quotes.')
    said = row.texts("lines", 'Write lines = ["..."], plain lines as in a specification, or leave the type out.')
    lines = tuple((text, span) for text, span in said if text.strip())
    return Type(name, lines, row.span("name")) if name and lines else None


def tell_twice(sheet: Sheet, types: Iterable[Type]) -> None:
    """Tells of a mark that two tables define."""
    found: dict[str, Type] = {}
    for one in types:
        first = found.setdefault(plain_mark(one.mark), one)
        if first is not one:
            sheet.say(
                "job-duplicate-name", one.span, f'the type "{shown(one.mark)}" is defined twice',
                "Put all of its lines under one of the two.", [Label(first.span, "defined here")],
            )  # fmt: skip


def price_of(row: Row) -> Price | None:
    """The price of a row, or None where it makes none, which is then told."""
    product = row.text("product", 'Write product = "...", as the order list calls it.')
    if "package" not in row:
        row.missing("package", 'Write package = "...", what one package holds, as in "5 gal".')
    if "price" not in row:
        row.missing("price", 'Write price = "...", the price of one package, without a currency.')
    package, price = row.content("package"), row.money("price")
    if not product or package is None or price is None:
        return None
    return Price(product, package, price, row.span("price"))
