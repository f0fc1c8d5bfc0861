"""What trades hand over, in the workbook: tables with numbers that are numbers, drawings of shapes to one scale."""

from __future__ import annotations

import io
import re
import zipfile
from fractions import Fraction

import openpyxl
import pytest
from attrs import evolve

import handed
from darby.documents.workbook.attached_sheet import MOST_DRAWINGS
from darby.estimate.attachments import Area, Attachment, Drawing, Table
from darby.estimate.model import Estimate
from darby.quantities.amounts import Amount
from workbooks import book

TABLE = Table(
    "Pieces", ("room", "length", "number"),
    (("hall", Amount.read("7 ft 6 in"), 3), ("=1+1", Amount.read("24 in"), None)), "Cut to size.",
)  # fmt: skip


def drawing(*areas: Area) -> Drawing:
    return Drawing("wall", Amount.read("20 ft"), Amount.read("8 ft"), areas, group="hall", note="A note.")


def with_attached(*some: Attachment) -> Estimate:
    made = handed.demo()
    first, *others = made.items
    return evolve(made, items=(evolve(first, attachments=lambda: some), *others))


def shapes(data: bytes) -> list[tuple[int, int]]:
    """Width and height of every shape, in pixels."""
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        parts = [packed.read(n).decode() for n in packed.namelist() if n.startswith("xl/drawings/drawing")]
    sizes = [m for part in parts for m in re.findall(r'<a:ext cx="(\d+)" cy="(\d+)"', part)]
    return [(int(x) // 9525, int(y) // 9525) for x, y in sizes]


def test_a_table_has_a_sheet_of_its_own_with_numbers_in_one_unit() -> None:
    sheet = openpyxl.load_workbook(io.BytesIO(book(with_attached(TABLE))))["Table_1"]
    rows = [list(row) for row in sheet.iter_rows(values_only=True)]
    assert rows[0][0] == "Pieces"
    assert rows[1][0] == "Line 1 of the order. Cut to size."
    assert rows[3] == ["room", "length, ft", "number"]
    assert rows[4:6] == [["hall", 7.5, 3], ["=1+1", 2, None]]
    assert sheet["A6"].data_type == "s"


def test_drawings_are_shapes_to_scale() -> None:
    one = drawing(*(Area(*map(Fraction, sides)) for sides in ((0, 0, 8, 4), (8, 0, 12, 4))))
    assert shapes(book(with_attached(one))) == [(128, 64), (192, 64)]


def test_more_drawings_than_a_spreadsheet_bears_are_left_out_and_told() -> None:
    one = drawing(Area(*map(Fraction, (0, 0, 8, 4))))
    data = book(with_attached(*[one] * (MOST_DRAWINGS + 2)))
    assert len(shapes(data)) == MOST_DRAWINGS
    assert "2 more are not drawn here" in openpyxl.load_workbook(io.BytesIO(data))["Drawings"]["A2"].value


def test_without_any_there_are_no_such_sheets() -> None:
    names = openpyxl.load_workbook(io.BytesIO(book(handed.demo()))).sheetnames
    assert not [n for n in names if n.startswith(("Table", "Drawings"))]


@pytest.mark.parametrize("nasty", handed.NASTY)
def test_a_text_of_a_trade_is_never_a_formula(nasty: str) -> None:
    data = book(
        with_attached(Table(nasty, (nasty or "x",), ((nasty,),)), drawing(Area(*[Fraction(1)] * 4, text=nasty)))
    )
    sheet = openpyxl.load_workbook(io.BytesIO(data))["Table_1"]
    assert all(cell.data_type != "f" for row in sheet.iter_rows() for cell in row)
