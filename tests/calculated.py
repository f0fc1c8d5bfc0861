"""Workbooks of bids as a real spreadsheet calculates them anew."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

import openpyxl

from real_readers import calculated


def recalculated(books: Sequence[bytes], folder: Path) -> list[openpyxl.Workbook]:
    """Workbooks with every formula calculated anew; in one run, since starting the spreadsheet is dear."""
    return [openpyxl.load_workbook(path, data_only=True) for path in calculated(books, "xlsx", folder)]


def sums(book: openpyxl.Workbook) -> dict[str, Decimal]:
    """The lines of the first sheet that have a sum."""
    found = {str(row[0]): row[4] for row in book["Bid"].iter_rows(min_row=5, values_only=True) if row[4] is not None}
    return {name: Decimal(str(round(value, 6))) for name, value in found.items()}
