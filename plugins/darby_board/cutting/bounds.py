"""What no layout can do with less of: by area, and by the pieces that can share no sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from darby_board.cutting.courses import courses, joints
from darby_board.cutting.faces import Face
from darby_board.cutting.layout import NONE, ROOM


def least(faces: Sequence[Face], width: int, length: int, offcuts: str) -> int:
    """The number of sheets of one size that every layout of the faces needs at the least, hung as they are.

    In each room, or in the whole job where offcuts go from room to room: the area over that of a sheet, rounded up; and the
    pieces that are more than half a sheet wide and long and no two of which fit in one. Where no offcut is used again, every
    piece is a sheet.
    """
    if offcuts == NONE:
        return sum(_pieces(face, width, length) for face in faces)
    rooms: dict[int, list[Face]] = {}
    for face in faces:
        rooms.setdefault(face.room if offcuts == ROOM else 0, []).append(face)
    return sum(
        max(_by_area(some, width * length), sum(_large(f, width, length) for f in some)) for some in rooms.values()
    )


def _by_area(faces: Iterable[Face], sheet: int) -> int:
    area = sum((face.area for face in faces), Fraction(0))
    return -(-area.numerator // (area.denominator * sheet))


def _pieces(face: Face, width: int, length: int) -> int:
    return sum(
        len(joints(s, (length,), face.spacing)[0]) + 1 for course in courses(face, width) for s in course.stretches
    )


def _large(face: Face, width: int, length: int) -> int:
    stretches = (
        s.end - s.start for course in courses(face, width) if 2 * course.width > width for s in course.stretches
    )
    return sum(length < 2 * long and long <= length for long in stretches)
