"""What the lists ask for each line of an order: the rows that are prices of its goods, and of each supplier the one that holds.

A row is a price of a line where nothing that it says of the goods is otherwise in the order. A row that says more than the order, or
less, is taken where no other fits better, and what it leaves open is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction

from attrs import frozen

from darby.bid.prices.descriptions import Meant
from darby.bid.prices.meaning import Meanings, Package, contained, meets
from darby.bid.prices.money import Currency
from darby.bid.prices.price_list import PriceRow
from darby.documents.words import listed, place
from darby.estimate.line_item import LineItem
from darby.quantities.amounts import Amount
from darby.quantities.units import NUMBER_ONLY

MADE_UP = frozenset({"surface", "package", "coat", "measure"})
"""Keys that keep lines of an order apart and are no properties of goods in a shop."""


@frozen(eq=False)
class Offer:
    """What one supplier asks for one line: so many packages at a price."""

    row: PriceRow
    each: Fraction
    """Exact price of one package."""
    bought: int
    """Packages that are bought: those ordered, or the fewest that are sold."""
    sum: Decimal
    """All of them, rounded once."""
    expired: bool = False
    doubts: tuple[str, ...] = ()
    """What the list leaves open, a sentence each: the price counts, and should be looked at."""


@frozen(eq=False)
class Goods:
    """One line of the order, as a price list would say it, with what each supplier asks; none where nobody sells it."""

    item: LineItem
    offers: Mapping[str, Offer]
    """By supplier."""
    why: str = ""
    """Why there is no price, in a sentence."""


def price_goods(
    items: Iterable[LineItem], rows: Sequence[PriceRow], meanings: Meanings, currency: Currency, today: date | None
) -> tuple[Goods, ...]:
    """Every line with what the lists ask for it. `today` is the date of the bid; without it no price is found expired."""
    shelf: dict[str, dict[object, list[PriceRow]]] = {}
    for row in rows:
        shelf.setdefault(row.product, {}).setdefault(row.goods, []).append(row)
    return tuple(_goods(item, shelf.get(item.product, {}), meanings, currency, today) for item in items)


def unmatched(rows: Iterable[PriceRow], goods: Iterable[Goods]) -> tuple[PriceRow, ...]:
    """The rows that are a price of nothing in the order, in the order of the lists."""
    ordered = {one.item.product for one in goods}
    return tuple(row for row in rows if row.product not in ordered)


def of_item(row: PriceRow, item: LineItem, meanings: Meanings) -> bool:
    """Whether what a row names are the goods and the package of a line."""
    return (
        row.product == item.product
        and _met(row, _asked(item, meanings), item) is not None
        and _packed_alike(row.package, item)
    )


def _asked(item: LineItem, meanings: Meanings) -> dict[str, Meant]:
    return {key: meanings.of(value) for key, value in item.pool.items() if key not in MADE_UP}


def _goods(
    item: LineItem, shelf: Mapping[object, list[PriceRow]], meanings: Meanings, currency: Currency, today: date | None
) -> Goods:
    if item.package is None or item.count is None:
        return Goods(item, {}, "The order does not say in which packages it comes, so that no price can be looked up.")
    asked = _asked(item, meanings)
    found: dict[str, list[tuple[tuple[int, int], tuple[str, ...], list[PriceRow]]]] = {}
    near: dict[str, PriceRow] = {}
    for rows in shelf.values():
        first = rows[0]
        met = _met(first, asked, item)
        if met is None:
            continue
        if not _packed_alike(first.package, item):
            near.setdefault(str(first.package), first)
            continue
        rank, doubts = met
        doubts += _package_doubts(first, item)
        for supplier, own in _by_supplier(rows).items():
            found.setdefault(supplier, []).append((rank, doubts, own))
    offers: dict[str, Offer] = {}
    for supplier in sorted(found):
        best = min(rank for rank, _, _ in found[supplier])
        alike = [(doubts, own) for rank, doubts, own in found[supplier] if rank == best]
        made = [_offer(own, doubts, item, currency, today) for doubts, own in alike]
        offers[supplier] = min(made, key=lambda o: (o.expired, o.sum, str(o.row.span)))
    return Goods(item, offers, "" if offers else _why(item, near, bool(shelf)))


def _met(row: PriceRow, asked: Mapping[str, Meant], item: LineItem) -> tuple[tuple[int, int], tuple[str, ...]] | None:
    """How well a row fits what is ordered, the least best, with what stays open; None where it is a price of something else."""
    more: list[str] = []
    for key, said in row.named.items():
        if key in MADE_UP:
            continue
        if key not in asked:
            more.append(f"{key} {said[1]}" if said[0] == "word" else key)
        elif not meets(asked[key], said):
            return None
    known = set(row.named)
    for size in row.sizes:
        same = [key for key, said in asked.items() if meets(said, size)]
        if not same and any(
            said[0] == size[0] or (said[0], size[0]) == ("at least", "amount") for said in asked.values()
        ):
            return None
        known.update(same)
        if not same:
            more.append("a size")
    less = [key for key in asked if key not in known]
    doubts: tuple[str, ...] = ()
    if more:
        doubts += (f"The list says {listed(more)}, of which the order says nothing.",)
    if less:
        told = listed(f"{key} {item.pool[key]}" for key in less)
        doubts += (f"The list does not say whether the price is one for {told}.",)
    return (len(more), len(less)), doubts


def _packed_alike(package: Package, item: LineItem) -> bool:
    """Whether a price is one for the packages that are ordered, or for a measure of them."""
    if item.package is None:
        return False
    content, container = contained(item.package)
    if package.singly:
        return not container or (content.unit.dimension == NUMBER_ONLY and content.value == 1)
    if package.content is None:
        return package.container == container
    if package.per:
        return package.content.unit.dimension == content.unit.dimension
    return package.content == content and package.container in ("", container)


def _package_doubts(row: PriceRow, item: LineItem) -> tuple[str, ...]:
    """What is open where a price is for a package of which nobody says what it holds, and the goods do not say so either."""
    if item.package is None or row.package.content is not None or row.package.singly:
        return ()
    sized = any(said[0] == "size" for said in (*row.named.values(), *row.sizes))
    content, container = contained(item.package)
    return () if sized else (f"The list does not say what a {container} holds; {content} is ordered.",)


def _by_supplier(rows: Iterable[PriceRow]) -> dict[str, list[PriceRow]]:
    found: dict[str, list[PriceRow]] = {}
    for row in rows:
        found.setdefault(row.supplier, []).append(row)
    return found


def _offer(
    rows: Sequence[PriceRow], doubts: tuple[str, ...], item: LineItem, currency: Currency, today: date | None
) -> Offer:
    """Of a supplier's rows for one thing the one that holds: not expired, the latest, and of its steps the one for that many."""
    current = [row for row in rows if not _expired(row, today)] or list(rows)
    latest = max(row.dated or date.min for row in current)
    current = [row for row in current if (row.dated or date.min) == latest]
    many = current[0].package.many  # of one thing in one package, all rows have as many
    count = max(-(-(item.count or 0) // many), min(row.minimum for row in current)) if item.count else 0
    reached = [row for row in current if row.first <= count] or [min(current, key=lambda r: r.first)]
    row = max(reached, key=lambda r: (r.first, -r.price))
    bought = max(count, row.minimum, row.first if row.first > count else 0) * many if count else 0
    each = _each(row, item)
    return Offer(row, each, bought, currency.rounded(each * bought), _expired(row, today), doubts)


def _each(row: PriceRow, item: LineItem) -> Fraction:
    """The price of one package: of one that is priced by its measure, what it holds times the price of the measure; of those that are
    sold together, its part."""
    if not row.package.per or row.package.content is None or item.package is None:
        return row.price / row.package.many
    content: Amount = contained(item.package)[0]
    return row.price * content.size / row.package.content.size


def _expired(row: PriceRow, today: date | None) -> bool:
    return today is not None and row.valid_until is not None and row.valid_until < today


def _why(item: LineItem, near: Mapping[str, PriceRow], sold: bool) -> str:
    if near:
        others = listed(f"{package} ({place(row.span)})" for package, row in _few(near.items()))
        return f"No list has a price for {_ordered_in(item)}; there are prices for {others}. Which is bought?"
    if sold:
        return f"No price in the lists is one for {item.product} of this kind."
    return f"No list has a price for {item.product}."


def _few(pairs: Iterable[tuple[str, PriceRow]]) -> Iterator[tuple[str, PriceRow]]:
    for number, pair in enumerate(pairs):
        if number < 4:
            yield pair


def _ordered_in(item: LineItem) -> str:
    if item.package is None:
        return item.product
    content, container = contained(item.package)
    return f"{item.product} in {container} of {content}" if container else f"{item.product} singly"
