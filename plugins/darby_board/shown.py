"""The layout for the eye: a list of pieces to cut, room by room, and a picture of each face to scale."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from darby.api import (
    AGAIN,
    CUT,
    OPEN,
    UNITS,
    WHOLE,
    Amount,
    Area,
    Attachment,
    Document,
    Drawing,
    Estimate,
    Table,
    csv_of,
    total,
)
from darby_board.checks import BOARD
from darby_board.cutting.faces import Face
from darby_board.cutting.layout import Piece
from darby_board.cutting.sheets import FULL, NEW, OFFCUT
from darby_board.laying import Laid, Named, Part
from darby_board.seams import seams_of

HEADS = ("room", "surface", "piece", "width", "length", "cut from", "sheet", "sheet width", "sheet length")
"""Heads of the cut list."""
JOINTS = ("room", "surface", "along edges", "ends that meet", "at ends")
"""Heads of the joint list."""
_LOOKS = {FULL: WHOLE, NEW: CUT, OFFCUT: AGAIN}
_KEY = "The first number is that of the sheet. Green: full sheets; yellow: cut from a new sheet; blue: offcuts; white: openings."


def attachments(laid: Laid, units: str) -> Iterator[Attachment]:
    """The cut list and the joint list, then the pictures."""
    yield cut_list(laid, units)
    yield joint_list(laid, units)
    before = 0
    for part in laid.parts:
        yield from _drawings(part, laid, units, before)
        before += len(part.layout.sheets)


def cut_list(laid: Laid, units: str) -> Table:
    """A row for each piece, room by room: its size, and the sheet that it is cut from. Sheets are numbered over the job."""
    rows = []
    before = 0
    for part in laid.parts:
        numbers = [0] * len(part.faces)
        for piece in part.layout.pieces:
            numbers[piece.face] += 1
            named = part.faces[piece.face]
            rows.append(
                (
                    named.room or "no room", named.name, numbers[piece.face], _cut(piece.width, laid, units),
                    _cut(piece.length, laid, units), piece.cut.of, before + piece.cut.sheet + 1,
                    _cut(part.layout.width, laid, units), _cut(part.layout.sheets[piece.cut.sheet], laid, units),
                )
            )  # fmt: skip
        before += len(part.layout.sheets)
    rooms = {room: at for at, room in enumerate(dict.fromkeys(row[0] for row in rows))}
    rows.sort(key=lambda row: rooms[row[0]])
    note = "Pieces as they are cut to size. An offcut is what was left of the sheet with that number."
    return Table(f"Cut list, {BOARD}", HEADS, tuple(rows), note)


def joint_list(laid: Laid, units: str) -> Table:
    """A row for each face: how far boards meet along their edges and at their ends, for whoever finishes them."""
    rows: list[tuple[str, str, Amount, int, Amount]] = []
    for part in laid.parts:
        for named, own in zip(part.faces, _by_face(part), strict=True):
            seams = seams_of(own, named.face.holes)
            edges, ends = _length(seams.edges, laid, units), _length(seams.ends, laid, units)
            rows.append((named.room or "no room", named.name, edges, seams.many, ends))
    rooms = {room: at for at, room in enumerate(dict.fromkeys(row[0] for row in rows))}
    rows.sort(key=lambda row: rooms[row[0]])
    along, across = (total([row[n] for row in rows]) for n in (2, 4)) if rows else (Amount.of(0), Amount.of(0))  # type: ignore[misc]
    note = f"In all {along.exact()} along edges and {across.exact()} at ends, every layer counted; angles and corners are not in it."
    return Table(f"Joint list, {BOARD}", JOINTS, tuple(rows), note)


def _by_face(part: Part) -> list[list[Piece]]:
    pieces: list[list[Piece]] = [[] for _ in part.faces]
    for piece in part.layout.pieces:
        pieces[piece.face].append(piece)
    return pieces


def _drawings(part: Part, laid: Laid, units: str, before: int) -> Iterator[Drawing]:
    for named, own in zip(part.faces, _by_face(part), strict=True):
        yield _drawing(named, own, laid, units, before)


def _drawing(named: Named, pieces: list[Piece], laid: Laid, units: str, before: int) -> Drawing:
    """A face as it is seen: boards that stand upright are drawn upright."""
    face = named.face
    unit = _unit(units)

    def area(along: tuple[int, int], across: tuple[int, int], look: str, text: str = "", more: str = "") -> Area:
        (left, over), (foot, up) = (across, along) if face.upright else (along, across)
        x, y, wide, high = (laid.size(side) / unit for side in (left, foot, over - left, up - foot))
        return Area(x, y, wide, high, look, text, more)

    areas = [
        area(p.along, p.across, _LOOKS[p.cut.of], str(before + p.cut.sheet + 1), _length(p.length, laid, units).exact())
        for p in pieces
    ]
    areas += [area(h[:2], h[2:], OPEN) for h in face.holes]
    wide, high = (face.across, face.along) if face.upright else (face.along, face.across)
    outline = tuple((laid.size(x) / unit, laid.size(y) / unit) for x, y in _outline(face, wide, high))
    return Drawing(
        named.name,
        _length(wide, laid, units),
        _length(high, laid, units),
        tuple(areas),
        outline,
        named.surface.room,
        _KEY,
    )


def _outline(face: Face, wide: int, high: int) -> list[tuple[Fraction, Fraction]]:
    """Corners of a face with a raking top."""
    if face.low is None:
        return []
    foot = [(0, 0), (wide, 0)]
    top = [(wide, face.low), (Fraction(wide, 2), high), (0, face.low)] if face.peaked else [(wide, high), (0, face.low)]
    return [(Fraction(x), Fraction(y)) for x, y in (*foot, *top)]


def _unit(units: str) -> Fraction:
    return UNITS["ft" if units == "us" else "m"].factor


def _length(length: int, laid: Laid, units: str) -> Amount:
    return Amount.of(laid.size(length) / _unit(units), "ft" if units == "us" else "m")


def _cut(length: int, laid: Laid, units: str) -> Amount:
    """A side of a piece as it is marked on the board."""
    unit = UNITS["in" if units == "us" else "mm"]
    return Amount.of(laid.size(length) / unit.factor, unit)


def _cuts(estimate: Estimate) -> bytes:
    """The pieces of all lines in one table, each with the line it belongs to."""
    rows = [
        (number, item.pool.get("thickness", ""), item.pool.get("type", ""), *row)
        for number, item in enumerate(estimate.items, 1)
        for one in item.attachments()
        if isinstance(one, Table) and one.heads == HEADS
        for row in one.rows
    ]
    return csv_of(Table("cuts", ("line", "thickness", "type", *HEADS), tuple(rows)))


CUTS = Document("cuts.csv", "the pieces of board to cut, room by room, where it is counted by layout, a table", _cuts)
