"""What trades hand over beside a line, for the page: tables, and drawings as SVG to one scale."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import groupby
from typing import Any

from darby.documents.words import one_line
from darby.estimate.attachments import Area, Attachment, Drawing, Table
from darby.quantities.amounts import Amount
from darby.quantities.units import UNITS

MOST_DRAWINGS = 400
"""Drawings on a page; the workbook and the tables have all of them."""
MOST_ROWS = 2_000
"""Rows of a table on a page."""
_TO_A_FOOT = 14
"""Pixels of a foot."""
_WIDEST = 640
"""Pixels a drawing may be wide; what is wider is drawn smaller."""
_LETTER, _LINE = 11, 12
"""Half pixels that a letter of the text in an area takes along its line, and pixels that it takes across."""

View = dict[str, Any]


def attached(attachments: Iterable[Attachment]) -> View:
    """Tables and drawings, the drawings by what they belong to, and how many of either were left out."""
    tables: list[View] = []
    drawings: list[Drawing] = []
    left = 0
    for one in attachments:
        if isinstance(one, Table):
            tables.append(_table(one))
        elif len(drawings) < MOST_DRAWINGS:
            drawings.append(one)
        else:
            left += 1
    groups = [
        {"name": one_line(name), "drawings": [_drawing(d) for d in some]}
        for name, some in groupby(drawings, key=lambda d: d.group)
    ]
    notes = list(dict.fromkeys(one_line(d.note) for d in drawings if d.note))
    return {"tables": tables, "groups": groups, "count": len(drawings), "notes": notes, "left": left}


def _table(table: Table) -> View:
    rows = [[_cell(cell) for cell in row] for row in table.rows[:MOST_ROWS]]
    return {
        "title": one_line(table.title), "heads": [one_line(head) for head in table.heads], "rows": rows, "note": one_line(table.note),
        "count": len(table.rows), "left": len(table.rows) - len(rows),
    }  # fmt: skip


def _cell(cell: str | int | Amount | None) -> str:
    if cell is None:
        return ""
    return cell.exact() if isinstance(cell, Amount) else one_line(str(cell))


def _drawing(drawing: Drawing) -> View:
    unit = drawing.width.unit
    pixels = _TO_A_FOOT * unit.factor / UNITS["ft"].factor
    width, height = drawing.width.value, drawing.height.to(unit).value
    pixels = min(pixels, Fraction(_WIDEST) / width) if width > 0 else pixels
    high = _pixel(height * pixels)
    points = [f"{_pixel(x * pixels)},{high - _pixel(y * pixels)}" for x, y in drawing.outline]
    return {
        "title": one_line(drawing.title), "spoken": one_line(drawing.spoken), "size": f"{drawing.width.exact()} × {drawing.height.exact()}",
        "width": max(1, _pixel(width * pixels)), "height": max(1, high),
        "areas": list(_areas(drawing.areas, pixels, high)), "outline": " ".join(points),
    }  # fmt: skip


def _areas(areas: Iterable[Area], pixels: Fraction, high: int) -> Iterator[View]:
    for area in areas:
        x, y = _pixel(area.x * pixels), high - _pixel((area.y + area.height) * pixels)
        wide, tall = _pixel((area.x + area.width) * pixels) - x, high - _pixel(area.y * pixels) - y
        said = text_of(area)
        text, upward = next(
            (
                (text, up)
                for text in (said, one_line(area.text))
                for up in (False, True)
                if _fits(text, *((tall, wide) if up else (wide, tall)))
            ),
            ("", False),
        )
        yield {
            "x": x, "y": y, "width": wide, "height": tall, "look": area.look, "said": said, "text": text, "upward": upward,
            "at": f"{x + wide // 2},{y + tall // 2}",
        }  # fmt: skip


def text_of(area: Area) -> str:
    """All that stands in an area, where there is room."""
    return one_line(f"{area.text}: {area.more}" if area.more else area.text)


def _fits(text: str, along: int, across: int) -> bool:
    return len(text) * _LETTER <= along * 2 and across >= _LINE


def _pixel(length: Fraction) -> int:
    return round(length)
