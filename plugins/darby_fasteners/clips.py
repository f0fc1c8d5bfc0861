"""Drywall clips: along each inside corner, none at its ends, since the plates hold there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from darby.api import (
    Amount,
    Answer,
    Consultation,
    Corner,
    LineItem,
    Price,
    Rule,
    ordered,
    rooms_told_apart,
    total,
    with_waste,
)

CLIP = "drywall clip"
HELD = Amount.of(1, label="for the plates at top and bottom")
"""They take the board at both ends, so n spaces have n - 1 clips between them."""


def clips(corners: Sequence[Corner], book: Consultation, prices: Sequence[Price] = ()) -> Iterator[LineItem]:
    """Clips at inside corners, any height and spacing."""
    counts: list[Amount] = []
    rules: list[Rule] = []
    room_of = rooms_told_apart(book)
    found: dict[str, Answer | None] = {}
    for corner in corners:
        if corner.kind != "inside" or not corner.count:
            continue
        room = room_of(corner.room)
        if room not in found:
            about = {"room": room, "where": "inside corner"}
            found[room] = book.ask("spacing", CLIP, about, take=("surface", "note"))
        spacing = found[room]
        if spacing is None or not spacing.amount:
            continue
        counts.append(_at(corner, spacing.amount))
        rules.append(spacing.rule)
    if not counts:
        return
    waste = book.peek("waste", CLIP)
    if waste is not None:
        rules.append(waste.rule)
    need = with_waste(total(counts), waste, "clips needed")
    yield from ordered(CLIP, need, book, {}, rules=rules, prices=prices)


def _at(corner: Corner, spacing: Amount) -> Amount:
    """Clips of some corners of one height. A part of a space is a space: this counts, it does not round what is bought."""
    spaces = (corner.height / spacing).round_up().named("spaces")
    if spaces <= HELD:
        return (Amount.of(0, label="clips") * corner.count).named(f"clips in {_told(corner)}")
    return ((spaces - HELD) * corner.count).named(f"clips in {_told(corner)}")


def _told(corner: Corner) -> str:
    where = f" of {corner.room}" if corner.room else ""
    return f"corners{where}, {corner.height.exact()} high"
