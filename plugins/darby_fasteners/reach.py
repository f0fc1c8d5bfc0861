"""How long a fastener must be: through all layers of board and far enough into the support."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from darby.api import Amount, Answer, Consultation, Rule, Side, rules_of
from darby_fasteners.counting import BASE
from darby_fasteners.layered import Layered, board_of
from darby_fasteners.support import Support

PENETRATION = {
    ("nail", "wood"): "3/4 in",
    ("screw", "wood"): "5/8 in",
    ("screw", "steel"): "3/8 in",
}
"""Into wood: CMHC guide to building code 9.29.5; IRC R702.3.5.1. Past the face of steel: trade book (Renovation, 4th ed.).
Nails do not hold in steel. A length that a rule states beats what is worked out from these."""


@frozen(eq=False)
class Reach:
    """The length of a place's fasteners: as stated, else the least that holds; and what should be known of it."""

    support: Support
    stated: Answer | None
    least: str
    """What it takes at least, as it is shown; nothing where a thickness is not known."""
    notes: tuple[str, ...]

    @property
    def said(self) -> str:
        """The length as it is ordered: as stated, or `1 1/8 in or longer`; nothing where neither is known."""
        if self.stated is not None:
            return self.stated.amount.exact()
        return f"{self.least} or longer" if self.least else ""

    @property
    def rules(self) -> tuple[Rule, ...]:
        """The rules behind it."""
        return rules_of(self.stated, self.support.said, self.support.typed)


def reach(product: str, side: Side, layer: Layered, book: Consultation, into: Support) -> Reach:
    """How long the fasteners of a layer are, and a sentence on what the thickness asks for."""
    about = {**side.place.about, **layer.about}
    boards = list(_through(side, layer, book))
    asked = {**about, "where": into.material, **dict(_told_apart(layer, boards))}
    stated = book.peek("fastener length", product, asked, take=("type",))
    if stated is None and not layer.about and layer.depth.value == 1:  # the only layer is a first one too
        stated = book.peek("fastener length", product, {**asked, "layer": BASE}, take=("type",))
    if into.said is not None:
        book.use(into.said)
    if (product, into.material) not in PENETRATION:
        return Reach(
            into, stated, "", (f"{product.capitalize()}s do not hold in {into.material} supports: use screws there.",)
        )
    if None in boards:
        return Reach(into, stated, "", ())
    known = [(thickness, many) for thickness, many in filter(None, boards)]
    depth = Amount.read(PENETRATION[product, into.material])
    total = sum((thickness * many for thickness, many in known), start=depth)
    shown = total.to("mm").round_up().exact() if known[0][0].unit.system == "metric" else total.to("in").exact()
    board = " and ".join(f"{_count(many)} of {thickness.exact()}" for thickness, many in known)
    if stated is None:
        notes = [f"{product.capitalize()}s through {board} into {into.kind} are at least {shown} long."]
        if into.guess:
            notes.append(f"Nobody says what the {product}s go into: {into.kind} is assumed.")
        return Reach(into, None, shown, tuple(notes))
    if stated.amount < total:
        short = f"{product.capitalize()}s of {stated.amount.exact()} are too short through {board} into {into.kind}: {shown} at least."
        return Reach(into, stated, shown, (short,))
    return Reach(into, stated, shown, ())


def thickness_of(side: Side, layer: Layered, book: Consultation) -> dict[str, str]:
    """What distances apart may be told apart by: how thick the boards are that a fastener goes through, where all are alike."""
    return {key: said for key, said in _told_apart(layer, list(_through(side, layer, book))) if key == "thick"}


def _told_apart(layer: Layered, boards: Sequence[tuple[Amount, Amount] | None]) -> Iterator[tuple[str, str]]:
    """What lengths may be told apart by: how many layers it goes through, and how thick these are where all are alike."""
    if layer.depth.value.denominator == 1:
        yield "layers", f"through {layer.depth.exact()}"
    thick = {board[0].exact() if board is not None else "" for board in boards}
    if len(thick) == 1 and "" not in thick:
        yield "thick", f"{thick.pop()} thick"


def _through(side: Side, layer: Layered, book: Consultation) -> Iterator[tuple[Amount, Amount] | None]:
    """The boards that a fastener goes through: thickness and number of each course, None where the thickness is not known."""
    left = layer.depth
    for course in side.courses:
        if not left:
            return
        many = min(course.many, left)
        thickness = board_of(course, book)[1]
        yield (thickness.amount, many) if thickness else None
        left = left - many


def _count(layers: Amount) -> str:
    return "one layer" if layers.value == 1 else f"{layers.exact()} layers"
