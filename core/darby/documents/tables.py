"""Tables as CSV: comma, double quotes, CRLF (RFC 4180), UTF-8 with a byte-order mark, one head, safe in a spreadsheet.

A text that a spreadsheet would run as a formula or turn into a date gets an apostrophe in front, and so does a text that
begins with one; `read_csv` takes it off again. A number is a decimal; one that has no short decimal is rounded to six
places, and the column beside it, its name ending in `exact`, holds it as a fraction.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from fractions import Fraction

from attrs import frozen

from darby.estimate.attachments import Table
from darby.estimate.document_format import Document
from darby.estimate.model import Estimate
from darby.quantities.amounts import Amount

Cell = str | int | Fraction | None

BOM = "\ufeff"
_PLACES = 6
_TAKEN = re.compile(
    r"[\s\u00a0\ufeff]*[=+\-@\uff1d\uff0b\uff0d\uff20]|[\t\r\n]|'|\s*[0-9][0-9 ,.:/\-]*(?:[eE][+\-]?[0-9]+)?\s*$"
)
"""What a spreadsheet takes for a formula, a date, or a number it may round."""
_HIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufffe\uffff\ud800-\udfff]"
)


@frozen
class Column:
    """A column by name; with `exact`, one of numbers that has a column of fractions beside it."""

    name: str
    exact: bool = False


@frozen
class Sheet:
    """A table: what it is called, its columns, its rows."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


def csv_document(name: str, about: str, sheet: Callable[[Estimate], Sheet]) -> Document:
    """A CSV document made of the table that `sheet` gives."""
    return Document(name, about, lambda estimate: to_csv(sheet(estimate)))


def csv_of(table: Table) -> bytes:
    """A table of a trade in the dialect of this module; a column of amounts has the unit of its first in its head."""
    units = [next((c.unit for c in column if isinstance(c, Amount)), None) for column in zip(*table.rows, strict=True)]
    units = units or [None] * len(table.heads)
    columns = tuple(
        Column(head if unit is None else f"{head} ({unit.name})", exact=unit is not None)
        for head, unit in zip(table.heads, units, strict=True)
    )

    def cell(value: str | int | Amount | None, column: int) -> Cell:
        unit = units[column]
        return value.to(unit).value if isinstance(value, Amount) and unit is not None else value  # type: ignore[return-value]

    rows = (tuple(cell(value, column) for column, value in enumerate(row)) for row in table.rows)
    return to_csv(Sheet(table.title, columns, tuple(rows)))


def to_csv(sheet: Sheet) -> bytes:
    """The table in the dialect of this module."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow([name for column in sheet.columns for name in _names(column)])
    for row in sheet.rows:
        pairs = zip(sheet.columns, row, strict=True)
        writer.writerow([text for column, cell in pairs for text in _cells(column, cell)])
    return (BOM + stream.getvalue()).encode("utf-8")


def read_csv(data: bytes) -> list[dict[str, str]]:
    """The rows of a table of this dialect, texts as they were before they were made safe."""
    reader = csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline=""))
    return [{name: text[1:] if text.startswith("'") else text for name, text in row.items()} for row in reader]


def defused(text: str) -> str:
    """A text as a spreadsheet shows it and never runs it. Control and direction marks become a replacement sign each."""
    clean = _HIDDEN.sub("\ufffd", text)
    return f"'{clean}" if _TAKEN.match(clean) else clean


def _names(column: Column) -> list[str]:
    return [column.name, f"{column.name} exact"] if column.exact else [column.name]


def _cells(column: Column, cell: Cell) -> list[str]:
    if cell is None:
        return [""] * (1 + column.exact)
    if isinstance(cell, str):
        return [defused(cell)] + [""] * column.exact
    value = Fraction(cell)
    exact = str(value.numerator) if value.denominator == 1 else f"'{value}"
    return [decimal(value), exact] if column.exact else [decimal(value)]


def decimal(value: Fraction) -> str:
    """A number without grouping, rounded to six places, half to even, the zeros at its end left out."""
    whole = round(value * 10**_PLACES)
    digits = str(abs(whole)).rjust(_PLACES + 1, "0")
    text = f"{digits[:-_PLACES]}.{digits[-_PLACES:]}".rstrip("0").rstrip(".")
    return f"-{text}" if whole < 0 else text
