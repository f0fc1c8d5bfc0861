"""A spreadsheet (.xlsx) to the text of a table: the lines of its first sheet that holds any, its cells parted by commas.

Line numbers are the row numbers of the sheet. A cell that was merged down stands in each of its rows; numbers are written out as
they were typed, with the unit that their format shows behind them.
"""

from __future__ import annotations

import datetime
import io
import re
import zipfile
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

LARGEST = 200_000_000
"""Bytes that a file may unpack to."""
_MOST_CELLS = 5_000_000
_UNIT = re.compile(r'[0#?](?:\\ |\s|\\)*(?:"\s*([^"\d]{1,12}?)\s*"|\\?([\'"m])$)')
_FORMULA = re.compile(rb"<(?:\w+:)?f[ >/]")


def text_of(data: bytes) -> tuple[str, tuple[str, ...]]:
    """The text in the bytes of a file, and what its reader should know of how it was taken.

    Raises ImportError without openpyxl, ValueError for what is no such file, too large, or was never worked out.
    """
    import openpyxl  # noqa: PLC0415 - an extra, loaded when such a file is met

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parts:
            if sum(part.file_size for part in parts.infolist()) > LARGEST:
                raise ValueError(f"it unpacks to more than {LARGEST // 1_000_000} MB")
            formulas = any(
                _FORMULA.search(parts.read(part)) for part in parts.namelist() if part.startswith("xl/worksheets/")
            )
        book = openpyxl.load_workbook(io.BytesIO(data), data_only=True, keep_links=False)
        written = openpyxl.load_workbook(io.BytesIO(data), keep_links=False) if formulas else None
        sheets = [sheet for sheet in book.worksheets if sheet.sheet_state == "visible"] or book.worksheets
        filled = [sheet for sheet in sheets if sheet.calculate_dimension() != "A1:A1" or sheet["A1"].value is not None]
        if not filled:
            return "", ()
        sheet = filled[0]
        if sheet.max_row * sheet.max_column > _MOST_CELLS:
            raise ValueError(f"its sheet {sheet.title} has more than {_MOST_CELLS:,} cells")
        if written is not None and (cell := _never_worked_out(sheet, written[sheet.title])):
            raise ValueError(
                f"cell {cell} of {sheet.title} is a formula that was never worked out; open it in its own program and save it"
            )
        lines = list(_lines(sheet))
    except (ValueError, RecursionError, MemoryError):
        raise
    except Exception as error:  # whatever a damaged file makes the library raise
        raise ValueError("it is damaged, or no such file") from error
    notes = []
    if others := [other.title for other in filled[1:]]:
        notes.append(
            f"its sheet {sheet.title} was read, and {', '.join(others)} {'was' if len(others) == 1 else 'were'} not"
        )
    if any(row.hidden for row in sheet.row_dimensions.values()):
        notes.append("hidden rows in it were read as all others")
    return "\n".join(lines) + "\n", tuple(notes)


def _never_worked_out(sheet: Any, written: Any) -> str:
    """The first cell that holds a formula and no value, or nothing."""
    for row in written.iter_rows():
        for cell in row:
            if cell.data_type == "f" and sheet.cell(cell.row, cell.column).value is None:
                return str(cell.coordinate)
    return ""


def _lines(sheet: Any) -> Iterator[str]:
    """The rows as lines of a table."""
    down = {
        (row, area.min_col): (area.min_row, area.min_col)
        for area in sheet.merged_cells.ranges
        for row in range(area.min_row + 1, area.max_row + 1)
    }
    for number, row in enumerate(sheet.iter_rows(), 1):
        cells = []
        for at, one in enumerate(row, 1):
            cell = sheet.cell(*down[number, at]) if (number, at) in down else one
            cells.append(_quoted(_said(cell.value, cell.number_format or "")))
        while cells and not cells[-1]:
            cells.pop()
        yield ",".join(cells)


def _said(value: object, form: str) -> str:
    """A value as its cell shows it, exactly."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime.datetime | datetime.date | datetime.time):
        return value.isoformat()
    if isinstance(value, int | float | Decimal):
        number = f"{Decimal(repr(value)) if not isinstance(value, Decimal) else value:f}"
        number = number.rstrip("0").rstrip(".") if "." in number else number
        found = _UNIT.search(form.split(";", maxsplit=1)[0])
        unit = (found[1] or found[2]) if found else ""
        return f"{number} {unit}" if unit and any(c.isalpha() or c in "'\"" for c in unit) else number
    return " ".join(str(value).split())


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"' if any(c in text for c in ',;"\t') else text
