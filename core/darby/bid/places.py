"""Where a quantity is: the share of each row of the job in it, by its working, and with that each room, floor and phase.

A quantity is a sum of products, and each measured number in it knows its row. So the share of a row is found by going down the
working: through sums to every term, through products to the one factor that is measured in more than one row. What cannot be parted so
is of no place, and is told as such.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from attrs import frozen

from darby.bid.prices.money import Currency
from darby.estimate.sides import ONE, OTHER
from darby.job.model import Job, Surface
from darby.quantities.amounts import Amount, walk

NOWHERE = ""
"""The room of what belongs to none, or can be parted among none."""
_NONE = Fraction(0)

Shares = Mapping[str, Fraction]
"""What part of a quantity is in each room; the parts make one."""


@frozen(eq=False)
class Place:
    """A room, and the larger places that it lies in."""

    room: str
    floor: str = ""
    phase: str = ""


class Parted:
    """Parts quantities of one job by where they are: `names` has a place for each name that a working may bear."""

    def __init__(self, names: Mapping[str, str]) -> None:
        self._names = names

    @staticmethod
    def names_of(surface: Surface) -> tuple[str, ...]:
        """What workings call a surface and its sides."""
        return (surface.name, f"{surface.name}, {ONE}", f"{surface.name}, {OTHER}")

    def shares(self, amount: Amount) -> Shares:
        """What part of an amount is in each place, the parts making one; nothing where there is nothing."""
        if not amount:
            return {}
        nodes = tuple(walk(amount))
        rooms = self._rooms(nodes)
        parts: dict[str, Fraction] = {}
        held = {id(amount.step): Fraction(1)}
        for node in reversed(nodes):  # what is made of others before these
            share = held.get(id(node.step), _NONE)
            among = rooms[id(node.step)]
            if not share:
                continue
            if len(among) <= 1 or not (below := _below(node, rooms)):
                room = next(iter(among)) if len(among) == 1 else NOWHERE
                parts[room] = parts.get(room, _NONE) + share
            for part, weight in below if len(among) > 1 else ():
                held[id(part.step)] = held.get(id(part.step), _NONE) + share * weight
        parts = {room: part for room, part in parts.items() if part}
        return parts if all(part > 0 for part in parts.values()) else {NOWHERE: Fraction(1)}

    def _rooms(self, nodes: Sequence[Amount]) -> dict[int, frozenset[str]]:
        """The places that each step of a working has numbers from."""
        found: dict[int, frozenset[str]] = {}
        for node in nodes:
            step = node.step
            name = step.label if step.label in self._names else step.origin.key.rpartition(" ")[0]
            if name in self._names and (step.label == name or step.op == "given"):
                found[id(step)] = frozenset({self._names[name]})
            elif step.op == "given":
                found[id(step)] = frozenset({NOWHERE} if step.origin.note.startswith("measured") else ())
            else:
                found[id(step)] = frozenset[str]().union(*(found[id(part.step)] for part in step.of))
        return found


class Places(Parted):
    """Parts the quantities of one job by room."""

    def __init__(self, job: Job) -> None:
        called = {room.name: room.called for room in job.rooms}
        names = {room: room for room in called}
        for surface in job.measured:
            names |= dict.fromkeys(self.names_of(surface), surface.room)
            for opening in surface.openings:
                names.setdefault(opening.name, surface.room)
        super().__init__(names)
        rooms = dict.fromkeys([*called, *(s.room for s in job.measured), *(c.room for c in job.corners)])
        self.of = {
            room: Place(room, known.floor, known.phase) if (known := called.get(room)) is not None else Place(room)
            for room in rooms
        }


def _below(node: Amount, rooms: Mapping[int, frozenset[str]]) -> list[tuple[Amount, Fraction]]:
    """What a step that is of several rooms is made of, each with its part of it; empty where it cannot be parted."""
    parts = node.step.of
    if node.step.op in ("+", "-", "sum"):
        signs = [-1 if node.step.op == "-" and n else 1 for n in range(len(parts))]
        return [(part, sign * part.size / node.size) for part, sign in zip(parts, signs, strict=True)]
    several = [n for n, part in enumerate(parts) if len(rooms[id(part.step)]) > 1]
    if (
        len(several) != 1
        or (node.step.op == "/" and several[0])
        or any(rooms[id(p.step)] for n, p in enumerate(parts) if n != several[0])
    ):
        return []
    return [(parts[several[0]], Fraction(1))]


def spread(sums: Iterable[tuple[Decimal, Shares]], places: Places, currency: Currency) -> Mapping[str, Decimal]:
    """Sums over rooms, each parted to the coin by its shares, so that the rooms make up the whole. What has no shares is nowhere."""
    found: dict[str, Decimal] = dict.fromkeys((room for room in places.of if room != NOWHERE), currency.nothing())
    found[NOWHERE] = currency.nothing()
    for sum_, shares in sums:
        rooms = list(shares) or [NOWHERE]
        weights = [shares[room] for room in rooms] if shares else [Fraction(1)]
        for room, part in zip(rooms, currency.shared(sum_, weights), strict=True):
            found[room] = found.get(room, currency.nothing()) + part
    return found


def gathered(rooms: Mapping[str, Decimal], places: Places, larger: Callable[[Place], str]) -> Mapping[str, Decimal]:
    """The sums of rooms added up by the larger place that each lies in."""
    found: dict[str, Decimal] = {}
    for room, part in rooms.items():
        name = larger(places.of[room]) if room in places.of else NOWHERE
        found[name] = found.get(name, Decimal(0)) + part
    return found
