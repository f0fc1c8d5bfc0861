"""The unit prices that the estimator names: what the bid's own goods and hours come to for one unit of a partition type, a room, a door.

Of each line the part that is used there is taken, by its working, and priced as the bid does: parts of a package counted, and not the
packages that the order rounds up to. A line that cannot be parted between what is named and the rest is not in it, and is told.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction

from attrs import evolve, frozen

from darby.bid.compared.unit_prices import packages_of, priced
from darby.bid.markups import LABOR, MATERIAL
from darby.bid.model import Bid, UnitPart, UnitPrice
from darby.bid.places import NOWHERE, Parted, Shares
from darby.bid.terms import Said
from darby.documents.words import name_of
from darby.job.model import Job, Surface
from darby.job.openings import folded
from darby.labor.hours import told
from darby.quantities.amounts import Amount, total
from darby.quantities.units import AREA, LENGTH, UnitError
from darby.rules.systems import plain_mark
from darby.text.files import nearest

_HERE, _ELSEWHERE = "here", "elsewhere"
_UNPARTED = "cannot be told apart from what is elsewhere"
_ONE = frozenset({"each", "per piece", "a piece", "per room", "per door", "per wall", "per unit"})
_KINDS = {"walls": "wall", "ceilings": "ceiling", "doors": "door", "trim": "trim"}
_HOW = 'Write it as "W3: per sq ft.", "Office: per room.", "Doors: each." or "Trim: per ft."'


@frozen(eq=False)
class _Named:
    """What is named: the surfaces, and what one unit of it is."""

    surfaces: tuple[Surface, ...]
    unit: Amount
    size: Amount
    """All of it, in that unit."""
    measured: str
    """How it was measured, in a few words."""


def with_named_units(bid: Bid) -> Bid:
    """The bid with every unit price that its terms name, behind those that its documents ask for."""
    made = tuple(_price(bid, said) for said in bid.terms.unit_prices)
    return evolve(bid, unit_prices=(*bid.unit_prices, *made)) if made else bid


def _price(bid: Bid, said: Said) -> UnitPrice:
    text, span = said
    what, _, per = (part.strip(" .") for part in text.rpartition(":"))
    found = _named(bid.estimate.job, what, per)
    if isinstance(found, str):
        return UnitPrice("Unit price", what or text, per, span, None, (), (), (found,))
    parted = Parted(_where(bid.estimate.job, {id(one) for one in found.surfaces}))
    left: list[str] = []
    doubts: list[str] = []
    parts = (*_goods(bid, parted, doubts), *_work(bid, parted, left))
    if not parts:
        return UnitPrice("Unit price", what, per, span, None, (), (), (*left, "Nothing in this bid is used there."))
    times = found.size.size / found.unit.size
    over = f"{found.size.in_system(bid.estimate.job.units)}{found.measured}"
    one = UnitPrice("Unit price", what, per, span, None, parts, (), tuple(left), tuple(doubts), over=over)
    return priced(one, times, bid.terms)


def _named(job: Job, what: str, per: str) -> _Named | str:
    """What a line names; or why it names nothing."""
    if not what or not per:
        return f"It does not say of what it is, and per what. {_HOW}"
    some, kind = _surfaces(job, what)
    if not some and kind:
        return kind
    if not some:
        known = [s.name for s in job.measured] + [room.name for room in job.places] + [*_KINDS]
        near = nearest(what, [*known, *(mark for s in job.measured for marks in s.systems for mark in marks)])
        return f"Nothing that is measured is called “{what}”." + (f" Did you mean {near}?" if near else "")
    if per.casefold() in _ONE:
        many = _pieces(some, kind)
        return (
            _Named(some, Amount.of(1, "each"), Amount.of(many, "each"), " of them")
            if many
            else f"It is not known how many {what} there are."
        )
    one = _unit(per)
    if one is None:
        return f"“{per}” is no area, no length and no piece. {_HOW}"
    if one.unit.dimension == AREA:
        return _Named(some, one, total([s.area for s in _first_faces(some)], what), ", measured once, openings left in")
    runs = [s.length if s.kind != "trim" else s.measures[0] for s in _first_faces(some)]
    if None in runs:
        return f"Not all of it is measured so that it has a price {per}."
    return _Named(some, one, total([run for run in runs if run is not None], what), ", measured along it")


def _unit(per: str) -> Amount | None:
    """So much of an area or a length: `per 100 sq ft`, `per m2`; None for anything else."""
    said = re.sub(r"^per\b\s*", "", per.casefold())
    try:
        one = Amount.read(said if said[:1].isdigit() else f"1 {said}")
    except UnitError:
        return None
    return one if one.value > 0 and one.unit.dimension in (AREA, LENGTH) else None


def _surfaces(job: Job, what: str) -> tuple[tuple[Surface, ...], str]:
    """The surfaces that a name means, and whether it is a `room`, a `mark`, a `name` or a `kind`; none where it may be several of
    these, and why.
    """
    name, mark = folded(what), plain_mark(what)
    rooms = {room.name for room in job.places if name in {folded(n) for n in (room.name, room.number, *room.also) if n}}
    ways = {
        "name": [s for s in job.measured if name in _names(s)],
        "room": [s for s in job.measured if s.room in rooms],
        "mark": [s for s in job.measured if mark in _marks(s, 0)],
        "kind": [s for s in job.measured if s.kind == _KINDS.get(name, "") and not s.part],
    }
    found = {way: some for way, some in ways.items() if some}
    if len({tuple(map(id, some)) for some in found.values()}) > 1:
        return (), f"“{what}” is a {' and also a '.join(found)}; name one of them in full."
    if any(mark in _marks(s, 1) and _marks(s, 0) for s in job.measured):
        return (
            (),
            f"“{what}” is given to a room in which surfaces have marks of their own; name the surfaces or the room.",
        )
    return next(((tuple(some), way) for way, some in found.items()), ((), ""))


def _names(surface: Surface) -> tuple[str, ...]:
    """What it is called: without the number of the room that it is in, and its other face by the wall."""
    name = folded(surface.name.partition(" (")[0])
    return (folded(surface.name), name, *([name.removesuffix(" other face")] if surface.side > 1 else []))


def _marks(surface: Surface, at: int) -> list[str]:
    """The marks given to a surface itself, or else to its room."""
    return [plain_mark(one) for one in surface.systems[at]] if at < len(surface.systems) else []


def _first_faces(some: Iterable[Surface]) -> list[Surface]:
    """Without the other faces of walls of which the first is among them, so that a wall is measured once."""
    named = {(s.name, s.copy) for s in some if s.side == 1}
    return [s for s in some if s.side == 1 or (s.name.replace(" other face", ""), s.copy) not in named]


def _pieces(some: Iterable[Surface], kind: str) -> Fraction:
    """How many there are: rooms by their count, doors by theirs, else surfaces; nothing where it is not known."""
    some = list(some)
    if kind == "room":
        return Fraction(len({(s.room, s.copy) for s in some}))
    if all(s.kind == "door" for s in some):
        return Fraction(sum((s.measures[0].value for s in some), Fraction(0)))
    return Fraction(len(_first_faces(some)))


def _where(job: Job, here: set[int]) -> dict[str, str]:
    """For each name that a working may have: whether it is here, elsewhere, or in both and so not known."""
    found: dict[str, set[str]] = {}
    rooms: dict[str, set[str]] = {}
    for surface in job.measured:
        at = _HERE if id(surface) in here else _ELSEWHERE
        rooms.setdefault(surface.room, set()).add(at)
        for name in (*Parted.names_of(surface), *(opening.name for opening in surface.openings)):
            found.setdefault(name, set()).add(at)
    walls = any(id(s) in here and s.kind == "wall" for s in job.measured)
    for corner in job.corners:  # those of rooms go by their names, below
        key = corner.height.step.origin.key.rpartition(" ")[0]
        found.setdefault(key, set()).update(rooms.get(corner.room, {_ELSEWHERE}) if walls else {_ELSEWHERE})
    for room, places in rooms.items():
        if room:
            found[room] = found.get(room, set()) | places
    return {name: next(iter(some)) if len(some) == 1 else NOWHERE for name, some in found.items()}


def _goods(bid: Bid, parted: Parted, doubts: list[str]) -> Iterator[UnitPart]:
    for line in bid.material:
        name, unit = name_of(line.goods.item), line.goods.item.container
        share = _share(parted.shares(line.goods.item.need))
        if share is None:
            yield UnitPart(MATERIAL, name, None, unit, None, _UNPARTED)
        elif share:
            all_of_it = packages_of(line.goods.item)
            many = all_of_it * share if all_of_it is not None else None
            sum_ = None
            if line.offer is not None and many is not None:
                sum_ = bid.terms.currency.rounded(many * line.offer.each)
                doubts += [f"{name}: {text}" for text in line.offer.doubts]
            yield UnitPart(MATERIAL, name, many, unit, sum_)


def _work(bid: Bid, parted: Parted, left: list[str]) -> Iterator[UnitPart]:
    for line in bid.labor:
        hours, name = line.hours.hours, told(line.hours.work)
        share = _share(parted.shares(hours if hours is not None else line.hours.work.amounts[0]))
        if share is None:
            yield UnitPart(LABOR, name, None, "hour", None, _UNPARTED)
        elif share:
            many = hours.value * share if hours is not None else None
            sum_ = line.wage.paid(many, bid.terms.currency) if line.wage is not None and many is not None else None
            if line.hours.missing and sum_ is not None:
                left.append(line.hours.missing)
            yield UnitPart(LABOR, name, many, "hour", sum_)


def _share(shares: Shares) -> Fraction | None:
    """What part of a line is here; None where that is not known."""
    return None if shares.get(NOWHERE) else shares.get(_HERE, Fraction(0))
