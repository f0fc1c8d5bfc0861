"""What trades hand over beside their lines: their tables a sheet each, their drawings to scale on a sheet of their own."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from darby.documents.words import one_line
from darby.documents.workbook.sheets import Page, clean
from darby.estimate.attachments import AGAIN, CUT, OPEN, WHOLE, Area, Drawing, Table
from darby.estimate.model import Estimate
from darby.quantities.amounts import Amount
from darby.quantities.units import UNITS

MOST_DRAWINGS = 1_000
"""Drawings in a workbook: a spreadsheet slows down with many shapes. The tables have every piece."""
_TO_A_FOOT = 16
_WIDEST = 520
_ROW = 20
"""Pixels of a foot, of the widest drawing, and of a row."""
_FILLS = {WHOLE: "#D5EBE4", CUT: "#FBE6BF", AGAIN: "#CFE0F3", OPEN: "#FFFFFF"}
_LETTER, _LINE = 6, 14
"""Pixels that a letter and a line of text take."""


def attached(estimate: Estimate) -> tuple[list[tuple[str, Table]], list[tuple[str, Drawing]]]:
    """The tables and drawings of all lines, each with the number and the kind of its line."""
    tables: list[tuple[str, Table]] = []
    drawings: list[tuple[str, Drawing]] = []
    for number, item in enumerate(estimate.items, 1):
        for one in item.attachments():
            if isinstance(one, Table):
                tables.append((str(number), one))
            else:
                drawings.append((str(number), one))
    return tables, drawings


def write_table(page: Page, table: Table, line: str, *, us: bool) -> None:
    """A table of one line."""
    heads = [one_line(head) for head in heads_of(table)]
    numbers = [column for column, cell in enumerate(table.rows[0])] if table.rows else []
    right = [c for c in numbers if not isinstance(table.rows[0][c], str | None)]
    page.start(one_line(table.title), one_line(f"Line {line} of the order. {table.note}"), heads, us=us, right=right)
    units = _units(table)
    for row in table.rows:
        for column, cell in enumerate(row):
            if isinstance(cell, str):
                page.text(column, one_line(cell))
            elif isinstance(cell, Amount):
                page.number(column, cell.to(units[column] or cell.unit).value, "plain")
            else:
                page.number(column, cell)
        page.row += 1
    if table.rows:
        page.sheet.autofilter(3, 0, page.row - 1, len(heads) - 1)


def heads_of(table: Table) -> tuple[str, ...]:
    """The heads of a table, amounts with their unit."""
    return tuple(f"{head}, {unit}" if unit else head for head, unit in zip(table.heads, _units(table), strict=True))


def _units(table: Table) -> list[str]:
    first = table.rows[0] if table.rows else (None,) * len(table.heads)
    return [cell.unit.name if isinstance(cell, Amount) else "" for cell in first]


DRAWINGS = ("Line", "Drawing", "Size")
"""The heads of the sheet Drawings."""


def write_drawings(page: Page, drawings: list[tuple[str, Drawing]], *, us: bool) -> None:
    """Each drawing to one scale, below its name."""
    notes = list(dict.fromkeys(one_line(d.note) for _, d in drawings if d.note))
    left = len(drawings) - MOST_DRAWINGS
    says = " ".join([*notes, *([f"{left} more are not drawn here; the tables have all of them."] if left > 0 else [])])
    page.start("Drawings", says, DRAWINGS, us=us)
    page.widths[1] = 60
    for line, drawing in drawings[:MOST_DRAWINGS]:
        name = f"{drawing.group}: {drawing.title}" if drawing.group else drawing.title
        page.texts((line, one_line(name), f"{drawing.width.exact()} × {drawing.height.exact()}"))
        for x, y, wide, tall, area in _boxes(drawing):
            page.sheet.insert_textbox(
                page.row, 1, clean(_text(area, wide, tall)),
                {
                    "x_offset": x + 6, "y_offset": y + 6, "width": wide, "height": tall, "object_position": 1,
                    "fill": {"color": _FILLS.get(area.look, "#FFFFFF")}, "line": {"color": "#26241F", "width": 0.75},
                    "font": {"size": 7}, "align": {"vertical": "middle", "horizontal": "center"},
                    "description": one_line(f"{area.text} {area.more}".strip() or area.look),
                },
            )  # fmt: skip
        page.row += _pixel(drawing.height.to(drawing.width.unit).value * _scale(drawing)) // _ROW + 2


def _scale(drawing: Drawing) -> Fraction:
    pixels = _TO_A_FOOT * drawing.width.unit.factor / UNITS["ft"].factor
    return min(pixels, Fraction(_WIDEST) / drawing.width.value) if drawing.width else pixels


def _boxes(drawing: Drawing) -> Iterator[tuple[int, int, int, int, Area]]:
    """Left, top, width and height of each area in pixels, from the top of the drawing."""
    pixels = _scale(drawing)
    high = _pixel(drawing.height.to(drawing.width.unit).value * pixels)
    for area in drawing.areas:
        x, y = _pixel(area.x * pixels), high - _pixel((area.y + area.height) * pixels)
        wide, tall = _pixel((area.x + area.width) * pixels) - x, high - _pixel(area.y * pixels) - y
        if wide > 0 and tall > 0:
            yield x, y, wide, tall, area


def _text(area: Area, wide: int, tall: int) -> str:
    whole = f"{area.text}: {area.more}" if area.more else area.text
    fitting = (text for text in (whole, area.text) if len(text) * _LETTER + _LETTER <= wide and tall >= _LINE)
    return one_line(next(fitting, ""))


def _pixel(length: Fraction) -> int:
    return round(length)
