"""A price list of one's own: a row for each line of an order, with its properties in columns, so that each is a price of that line alone."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping

from darby.bid.prices.meaning import contained
from darby.bid.prices.pricing import MADE_UP
from darby.estimate.line_item import LineItem

_LAST = ("package", "price")


def listed_as(item: LineItem) -> dict[str, str]:
    """How a list names a line: its product, what tells it from others of that name, and its package; nothing where that is not known.

    Lines that are alike in a shop, as the same goods on two surfaces, are named alike.
    """
    if item.package is None or item.count is None:
        return {}
    content, container = contained(item.package)
    if not container:
        package = "each"
    elif content.unit.name == "each":
        package = container if content.value == 1 else f"{container} of {content.exact()}"
    else:
        package = f"{content.exact()} {container}"
    kinds = {key: str(said) for key, said in item.pool.items() if key not in MADE_UP}
    return {"product": item.product, **kinds, "package": package}


def own_prices(text: str) -> list[dict[str, str]]:
    """The filled cells of each row of such a list, by the heads of its columns."""
    rows = csv.DictReader(io.StringIO(text, newline=""))
    return [{key: said for key, said in row.items() if key and isinstance(said, str) and said} for row in rows]


def price_in(rows: list[dict[str, str]], goods: Mapping[str, str]) -> str:
    """What a list asks for goods that are named so; nothing where it has no such row, or no price in it."""
    return next((row.get("price", "") for row in rows if _named(row) == goods), "")


def with_price(rows: list[dict[str, str]], goods: Mapping[str, str], price: str) -> list[dict[str, str]]:
    """The list with a price for goods, in place of the one it had; without a price their row is taken out."""
    kept = [row for row in rows if _named(row) != goods]
    at = next((n for n, row in enumerate(rows) if _named(row) == goods), len(rows))
    return [*kept[:at], *([{**goods, "price": price}] if price else []), *kept[at:]]


def written(rows: list[dict[str, str]]) -> str:
    """The list as a file holds it; each property is a column."""
    keys = dict.fromkeys(key for row in rows for key in row)
    heads = ["product", *(key for key in keys if key not in ("product", *_LAST)), *_LAST]
    made = io.StringIO(newline="")
    writer = csv.DictWriter(made, heads, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return made.getvalue()


def _named(row: Mapping[str, str]) -> dict[str, str]:
    return {key: said for key, said in row.items() if key != "price"}
