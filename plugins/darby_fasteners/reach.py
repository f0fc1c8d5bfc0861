"""How long a fastener must be: through all layers of board and far enough into the support."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from attrs import frozen

from darby.api import Amount, Answer, Consultation, Side
from darby_fasteners.counting import BASE, BOARD

PENETRATION = {
    ("nail", "wood"): "3/4 in",
    ("screw", "wood"): "5/8 in",
    ("screw", "steel"): "3/8 in",
}
"""Into wood: CMHC guide to building code 9.29.5; IRC R702.3.5.1. Past the face of steel: trade book (Renovation, 4th ed.).
Nails do not hold in steel. A length that a rule states beats what is worked out from these."""


@frozen(eq=False)
class Reach:
    """The length of a place's fasteners: as stated, and what it takes at least."""

    stated: Answer | None
    notes: tuple[str, ...]

    @property
    def said(self) -> str:
        """The length as stated, or nothing."""
        return self.stated.amount.exact() if self.stated else ""


def reach(product: str, side: Side, about: Mapping[str, str], book: Consultation) -> Reach:
    """What is said of the length, and a sentence on what the thickness asks for. `about` names the layer where layers are told apart."""
    supports = side.place.first.marks.get("supports", "").strip().casefold()
    kind = "steel" if any(word in supports for word in ("steel", "metal")) else "wood"
    stated = book.peek("fastener length", product, {**about, "where": kind}, take=("type",))
    boards = list(_through(side, about, book))
    if (product, kind) not in PENETRATION:
        return Reach(stated, (f"{product.capitalize()}s do not hold in {kind} supports: use screws there.",))
    if None in boards:
        return Reach(stated, ())
    known = [(thickness, many) for thickness, many in filter(None, boards)]
    depth = Amount.read(PENETRATION[product, kind])
    total = sum((thickness * many for thickness, many in known), start=depth)
    shown = total.to("mm").round_up().exact() if known[0][0].unit.system == "metric" else total.to("in").exact()
    board = " and ".join(f"{_count(many)} of {thickness.exact()}" for thickness, many in known)
    if stated is None:
        return Reach(None, (f"{product.capitalize()}s through {board} into {kind} are at least {shown} long.",))
    if stated.amount < total:
        short = f"{product.capitalize()}s of {stated.amount.exact()} are too short through {board} into {kind}: {shown} at least."
        return Reach(stated, (short,))
    return Reach(stated, ())


def _through(side: Side, about: Mapping[str, str], book: Consultation) -> Iterator[tuple[Amount, Amount] | None]:
    """The boards that a fastener goes through: thickness and number of each course, None where the thickness is not known."""
    for course in side.courses:
        thickness = book.book.ask("thickness", BOARD, course.about, take=("type",))
        yield (thickness.amount, course.many) if thickness else None
        if course.about.get("layer", "") == about.get("layer") == BASE:
            return


def _count(layers: Amount) -> str:
    return "one layer" if layers.value == 1 else f"{layers.exact()} layers"
