"""Corner bead over outside corners and the edges of finished reveals, cut from sticks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from darby.api import (
    LENGTH,
    Amount,
    Answer,
    Consultation,
    Corner,
    LineItem,
    Price,
    Surface,
    costs_of,
    rules_of,
    total,
    with_waste,
)

BEAD = "corner bead"


def bead(
    corners: Sequence[Corner],
    boarded: Sequence[Surface],
    book: Consultation,
    units: str = "us",
    prices: Sequence[Price] = (),
) -> Iterator[LineItem]:
    """Sticks of corner bead, one item for each length of stick that is used.

    A corner is covered in one piece where a stick is long enough; what is cut off serves for another piece that is no longer, so a
    9 ft corner takes a stick of 10 ft, and a side of 6 ft and a head of 4 ft take one together. Of the sticks on offer each corner takes the one of which it
    uses least, or, where the job prices them all, the one that costs it least; a corner longer than any is pieced together.
    """
    runs = edges(corners, boarded)
    if not runs:
        return
    unit = "ft" if units == "us" else "m"
    offers = [o for o in book.book.all("package", BEAD) if o.rule.amount.unit.dimension == LENGTH]
    waste = book.peek("waste", BEAD)
    if not offers:
        book.miss("package", BEAD)
        lengths = total((length * count for length, count, _ in runs), "outside corners").to(unit)
        yield LineItem(BEAD, with_waste(lengths, waste, "corner bead needed"), rules=rules_of(waste))
        return
    cut: dict[int, list[Amount]] = {}
    taken: list[tuple[Amount, Amount, int]] = []
    costs = costs_of(BEAD, offers, prices)
    for length, count, label in runs:
        number = min(range(len(offers)), key=lambda i: _taken(length, offers[i], costs[i] if costs else None))
        cut.setdefault(number, []).append(_piece(length, count, label, offers[number]))
        taken.append((length, count, number))
    for number, parts in sorted(cut.items()):
        offer = offers[number]
        left = tuple(o.rule for i, o in enumerate(offers) if i not in cut)
        book.use(Answer(offer.asked, offer.rule, (*left, *offer.beaten)))
        pool = {"package": f"{offer.rule.amount.exact()} stick"} if len(cut) > 1 else {}
        pieces = [(length, int(count.value)) for length, count, number in taken if offers[number] is offer]
        need = with_waste(_cut(total(parts, "outside corners").to(unit), pieces, offer), waste, "corner bead needed")
        notes = (f"Sizes of {BEAD} are chosen by the prices of the job.",) if costs and len(offers) > 1 else ()
        yield LineItem(BEAD, need, pool, offer.rate, rules=rules_of(offer, waste), notes=notes)


def edges(corners: Sequence[Corner], boarded: Sequence[Surface]) -> list[tuple[Amount, Amount, str]]:
    """What gets bead: a length, how many of it, and what it is."""
    return [*_corners(corners), *_reveals(boarded)]


def _corners(corners: Sequence[Corner]) -> Iterator[tuple[Amount, Amount, str]]:
    for corner in corners:
        if corner.kind == "outside" and corner.count:
            where = f" of {corner.room}" if corner.room else ""
            yield corner.height, corner.count, f"outside corners{where}, {corner.height.exact()} each"


def _reveals(surfaces: Sequence[Surface]) -> Iterator[tuple[Amount, Amount, str]]:
    for surface in surfaces:
        for opening in surface.openings:
            if opening.reveal is not None:
                times = opening.count * surface.faces
                yield opening.height, times * 2, f"sides of {opening.name} in {surface.name}"
                across = times * 2 if opening.sill else times
                yield (
                    opening.width,
                    across,
                    f"head{' and foot' if opening.sill else ''} of {opening.name} in {surface.name}",
                )


def _cut(alone: Amount, pieces: Sequence[tuple[Amount, int]], offer: Answer) -> Amount:
    """What the sticks come to that pieces are cut from, where offcuts serve shorter pieces; as it is where that saves none.

    The longest piece that is left first, and with it the pieces that fill its stick best: a bound from above, and none is claimed to be least.
    """
    stick = offer.rule.amount
    counts: dict[Fraction, int] = {}
    sticks = 0
    for length, count in pieces:
        whole = Fraction(length.size) // Fraction(stick.size)
        sticks += whole * count
        if rest := Fraction(length.size) - whole * Fraction(stick.size):
            counts[rest] = counts.get(rest, 0) + count
    while any(counts.values()):
        pattern = _pattern(counts, Fraction(stick.size))
        times = min(counts[size] // many for size, many in pattern.items())
        sticks += times
        counts = {size: many - times * pattern.get(size, 0) for size, many in counts.items()}
    most = (stick * sticks).to(alone.unit)
    if most.size >= alone.size or not sticks:
        return alone
    lengths = total((length * many for length, many in pieces), "outside corners, in pieces").to(alone.unit)
    offcuts = Amount.settled(most.value - lengths.value, alone.unit, label="offcuts that serve no other piece")
    return (lengths + offcuts).named(f"outside corners, cut from {sticks} sticks")


_TRIES = 500
"""Ways to fill a stick that are looked at."""


def _pattern(counts: Mapping[Fraction, int], stick: Fraction) -> dict[Fraction, int]:
    """How many pieces of each length are cut from one stick: the longest among them, and of the ways tried the one that leaves least."""
    sizes = sorted((size for size, many in counts.items() if many), reverse=True)
    best: tuple[Fraction, dict[Fraction, int]] = (stick, {})
    ways: list[tuple[int, Fraction, dict[Fraction, int]]] = [(0, stick, {})]
    for _ in range(_TRIES):
        if not ways or not best[0]:
            break
        at, left, taken = ways.pop()
        if taken and left < best[0]:
            best = left, taken
        if at < len(sizes):
            most = int(min(counts[sizes[at]], left // sizes[at]))
            # the last put on is tried first: as many as there is room for
            ways.extend(
                (at + 1, left - many * sizes[at], {**taken, sizes[at]: many} if many else taken)
                for many in range(0 if at else 1, most + 1)
            )
    return best[1]


def _pieces(length: Amount, offer: Answer) -> int:
    """Whole pieces of a length that one stick gives; 0 where it is too short for one."""
    ratio = Fraction(offer.rule.amount.size) / length.size
    return ratio.numerator // ratio.denominator


def _taken(length: Amount, offer: Answer, cost: Fraction | None) -> tuple[bool, Fraction, Fraction]:
    """How much of a stick one piece takes, the offcut that is of no use included, or what it costs; too short a stick comes last."""
    pieces, stick = _pieces(length, offer), offer.rule.amount.size
    if cost is not None:
        return (pieces == 0, cost / pieces if pieces else cost / stick, stick)
    return (pieces == 0, stick / pieces if pieces else -stick, stick)


def _piece(length: Amount, count: Amount, label: str, offer: Answer) -> Amount:
    """What so many pieces take, offcuts included; in each a number that was settled, since another stick is cut otherwise."""
    pieces = _pieces(length, offer)
    if not pieces or length * pieces == offer.rule.amount:
        return (length * count + Amount.settled(0, length.unit, label="offcuts")).named(label)
    share = (offer.rule.amount / Amount.settled(pieces, label="pieces from a stick")).named(
        "stick for a piece, with its offcut"
    )
    return (share * count).named(label)
