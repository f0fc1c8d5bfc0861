"""How long a fastener must be: through all layers of board and far enough into the support."""

from __future__ import annotations

from attrs import frozen

from darby.api import Amount, Answer, Consultation, Place
from darby_fasteners.counting import BOARD

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


def reach(product: str, place: Place, layers: Answer, book: Consultation) -> Reach:
    """What is said of the length, and a sentence on what the thickness asks for."""
    supports = place.first.marks.get("supports", "").strip().casefold()
    kind = "steel" if any(word in supports for word in ("steel", "metal")) else "wood"
    about = dict(place.about)
    stated = book.peek("fastener length", product, {**about, "where": kind})
    thickness = book.book.ask("thickness", BOARD, about, take=("type",))
    if (product, kind) not in PENETRATION:
        return Reach(stated, (f"{product.capitalize()}s do not hold in {kind} supports: use screws there.",))
    if thickness is None:
        return Reach(stated, ())
    depth = Amount.read(PENETRATION[product, kind])
    total = thickness.amount * layers.amount + depth
    shown = total.to("mm").round_up().exact() if thickness.amount.unit.system == "metric" else total.to("in").exact()
    board = f"{_count(layers.amount)} of {thickness.amount.exact()}"
    if stated is None:
        return Reach(None, (f"{product.capitalize()}s through {board} into {kind} are at least {shown} long.",))
    if stated.amount < total:
        short = f"{product.capitalize()}s of {stated.amount.exact()} are too short through {board} into {kind}: {shown} at least."
        return Reach(stated, (short,))
    return Reach(stated, ())


def _count(layers: Amount) -> str:
    return "one layer" if layers.value == 1 else f"{layers.exact()} layers"
