"""The order as one reads it: a line for each need, in one size of package or a mix of sizes; and its working, room by room."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import frozen

from darby.documents.words import one_line, order_of, shown
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.working import LISTED, Line
from darby.quantities.amounts import Amount, total, walk

_SIZE = "package"
"""The key of a pool that tells the sizes of a mix apart."""


@frozen(eq=False)
class Need:
    """One product that is needed, and what it is bought in: one line item, or one for each size of a mix, the largest first."""

    number: int
    """Its number on the list, from 1."""
    items: tuple[LineItem, ...]

    @property
    def first(self) -> LineItem:
        """The item that stands for it."""
        return self.items[0]

    @property
    def worked(self) -> LineItem:
        """The item whose working shows the whole need: of a mix the smallest size, which takes what the others leave."""
        return self.items[-1]

    @property
    def kind(self) -> str:
        """What tells it from others of its product."""
        return one_line(
            ", ".join(self.first.pool.told(key) for key in self.first.pool if not self.mixed or key != _SIZE)
        )

    @property
    def name(self) -> str:
        """Product and what tells it from others: `varnish, satin`."""
        return one_line(self.first.product) + (f", {self.kind}" if self.kind else "")

    @property
    def mixed(self) -> bool:
        """Whether it is bought in several sizes."""
        return len(self.items) > 1

    @property
    def notes(self) -> tuple[str, ...]:
        """What whoever checks it should know, each once."""
        return tuple(dict.fromkeys(note for item in self.items for note in item.notes))

    def needed(self, system: str) -> str:
        """The whole need in the usual unit of `us` or `metric`, rounded for the eye."""
        one = self.first.need
        return shown(Amount.of(sum(item.need.to(one.unit).value for item in self.items), one.unit), system)

    def order(self) -> str:
        """`5 pails of 5 gal + 1 can of 1 gal`."""
        return " + ".join(map(order_of, self.items))


def needs(estimate: Estimate) -> tuple[Need, ...]:
    """Every need of an estimate, in the order of its items and numbered from 1."""
    found: dict[tuple[object, ...], list[LineItem]] = {}
    for item in estimate.items:
        found.setdefault(key_of(item), []).append(item)
    return tuple(Need(number, _sorted(items)) for number, items in enumerate(found.values(), 1))


def numbers(estimate: Estimate) -> dict[str, int]:
    """The number of the need that each item belongs to, by the id of the item."""
    return {item.id: need.number for need in needs(estimate) for item in need.items}


def key_of(item: LineItem) -> tuple[object, ...]:
    """What items of one mix share; an item that is no part of one has a key of its own."""
    if _SIZE not in item.pool or item.package is None:
        return (item.id,)
    return (item.trade, item.product, *((key, value) for key, value in item.pool.items() if key != _SIZE))


def _sorted(items: list[LineItem]) -> tuple[LineItem, ...]:
    """Items of one mix, the largest package first."""
    if len(items) == 1:
        return tuple(items)
    return tuple(sorted(items, key=lambda i: -i.package.size if i.package is not None else 0))


@frozen(eq=False)
class Stretch:
    """Lines of working that follow one another: those of one room, rows of none, or a single other line, which has no rows."""

    room: str
    lines: tuple[Line, ...]
    rows: tuple[Line, ...] = ()
    """Of a room, the lines that its sum is made of; the others say how these were made."""

    @property
    def sum(self) -> Amount | None:
        """What its rows come to; None where they are in several units, or there is but one line."""
        return added(row.amount for row in self.rows) if len(self.lines) > 1 else None


def by_room(lines: Sequence[Line], estimate: Estimate) -> tuple[Stretch, ...]:
    """The lines in their order. A row is what a room, or a long sum, is made of; what stands before it and is in it made it."""
    rooms = {surface.name: surface.room or surface.name for surface in estimate.job.measured}
    heights = {id(corner.height.step): corner.room for corner in estimate.job.corners}
    sums = [line.amount.step.of for line in lines if _is_long_sum(line)]
    terms = {id(part.step) for parts in sums for part in parts}
    found: list[tuple[str, list[Line], list[Line]]] = []
    waiting: list[Line] = []
    for line in lines:
        room = rooms.get(line.label, "") if line.rule is None else ""
        if not (room or id(line.amount.step) in terms) or line.rule is not None or _is_long_sum(line):
            waiting.append(line)
            continue
        inside = {id(node.step) for node in walk(line.amount)} if waiting else set()
        room = room or next((heights[at] for at in inside & heights.keys()), "")
        first = len(waiting)
        while first and waiting[first - 1].rule is None and id(waiting[first - 1].amount.step) in inside:
            first -= 1
        found += [("", [other], []) for other in waiting[:first]]
        if not (found and found[-1][0] == room and found[-1][2]):
            found.append((room, [], []))
        found[-1][1].extend((*waiting[first:], line))
        found[-1][2].append(line)
        waiting = []
    found += [("", [other], []) for other in waiting]
    return tuple(Stretch(room, tuple(some), tuple(rows)) for room, some, rows in found)


def _is_long_sum(line: Line) -> bool:
    return line.amount.step.op == "sum" and len(line.amount.step.of) > LISTED


def added(amounts: Iterable[Amount]) -> Amount | None:
    """Amounts of one unit added up, as a bare number; None where they are of several."""
    amounts = list(amounts)
    if len({amount.unit.name for amount in amounts}) != 1:
        return None
    return Amount.of(total(amounts).value, amounts[0].unit)
