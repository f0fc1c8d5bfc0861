"""Where formulas cannot follow a changed cell, a cell beside it says so once a real spreadsheet has calculated, and only then."""

from __future__ import annotations

import io
import zipfile
from fractions import Fraction
from pathlib import Path

import openpyxl
import pytest

from core.documents.workbook.test_to_xlsx import cell_named, changed, order_sheets, orders, wanted
from darby.documents.workbook.follows import AGAIN, Fixed
from darby.documents.workbook.formulas import Input
from darby.documents.workbook.measured_sheet import Rows as Held
from darby.estimate.model import Estimate
from darby.quantities.units import UNITS
from desk import estimated, item
from workbooks import Rows, book, lines

JOB = """
[[walls]]
name = "sea wall"
length = "48 ft"
height = "9 ft"
faces = 1

[[openings]]
name = "hatch"
wall = "sea wall"
width = "{hatch} ft"
height = "5 ft"

[[corners]]
kind = "outside"
count = 4
height = "{corner} ft"
"""
SPEC = """GYPSUM BOARD

Walls: {layers} of gypsum board, 4 ft x {sheet} ft sheets.
Walls: one coat primer, two coats satin finish paint.
Primer: 300 sq ft per gallon.
Deduct openings over 16 sq ft.
"""
AS_IT_WAS = {"hatch": "3", "corner": "9", "layers": "one layer", "sheet": "8"}


def job_with(**other: str) -> Estimate:
    given = AS_IT_WAS | other
    return estimated(JOB.format(**given), SPEC.format(**given))


CHANGES = {
    "an opening over the limit": ("hatch_width", 8, {"hatch": "8"}, "deducted above 16 sq ft"),
    "an opening still below it": ("hatch_width", Fraction(25, 8), {"hatch": "3.125"}, ""),
    "a sheet of another length": ("gypsum_board_sheet_wall_by", 12, {"sheet": "12"}, "its kind names the sheet"),
    "layers that take screws and compound too": (
        "gypsum_board_layers",
        2,
        {"layers": "two layers"},
        "also behind line",
    ),
    "a corner higher than half a stick": ("corner_1_height", 4, {"corner": "4"}, "cutting and packing"),
    "a spreading rate": ("primer_coverage", 100, {}, ""),
}


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Rows]:
    start = book(job_with())
    books = [start]
    for stem, value, _, _ in CHANGES.values():
        names = openpyxl.load_workbook(io.BytesIO(start)).defined_names
        name = stem if stem in names else cell_named(start, stem)
        books.append(changed(start, **{name: Fraction(value)}))
    shown = order_sheets(books, tmp_path_factory.mktemp("books"))
    return dict(zip(("as it was", *CHANGES), shown, strict=True))


def says(sheet: Rows) -> bool:
    """Whether the first sheet says at its top, below what it always says, that not all follows."""
    return any(str(cell).startswith(AGAIN) for row in sheet[1:4] for cell in row)


def test_nothing_is_said_while_nothing_is_changed(sheets: dict[str, Rows]) -> None:
    assert not says(sheets["as it was"])
    assert not any(row[11] for row in lines(sheets["as it was"]))


@pytest.mark.parametrize("what", CHANGES)
def test_a_change_is_followed_or_the_workbook_says_that_it_is_not(what: str, sheets: dict[str, Rows]) -> None:
    _, _, then, why = CHANGES[what]
    assert says(sheets[what]) == bool(why)
    if then and not why:
        assert orders(sheets[what]) == wanted(job_with(**then))
    if then and why:
        assert wanted(job_with(**then)) != wanted(job_with())


def test_what_a_line_holds_fixed_is_told_in_a_few_words() -> None:
    made = job_with()
    fixed = Fixed(made)
    assert fixed.of_line(item(made, "gypsum board")) == ("its kind names the sheet", False)
    assert fixed.of_line(item(made, "corner bead")) == ("cutting and packing", True)
    assert fixed.of_line(item(made, "primer")) == ("", False)
    assert [str(limit) for limit in fixed.limits()] == ["16 sq ft"]


def test_a_cell_takes_no_number_below_zero_and_red_is_a_rule_of_each_sheet() -> None:
    with zipfile.ZipFile(io.BytesIO(book(job_with()))) as opened:
        order, measured, rules = (opened.read(f"xl/worksheets/sheet{n}.xml").decode() for n in (1, 3, 4))
    for sheet in (measured, rules):
        assert 'operator="greaterThanOrEqual"' in sheet
        assert "<dataValidation " in sheet
    for sheet in (order, measured, rules):
        assert 'type="beginsWith"' in sheet


def test_the_texts_of_a_workbook_are_counted_at_its_top(tmp_path: Path) -> None:
    opened = openpyxl.load_workbook(io.BytesIO(book(job_with())))
    assert str(opened["Order"]["A3"].value).startswith("=IF(COUNTIF(")


def test_lengths_that_change_and_add_up_to_the_same_are_noticed() -> None:
    def told(*lengths: int) -> list[Fraction]:
        held, made = Held(), [Input(f"corner_{n}", UNITS["ft"]) for n, _ in enumerate(lengths)]
        for row, (one, length) in enumerate(zip(made, lengths, strict=True)):
            held.put(one, row, Fraction(length))
        return [value for _, value in held.around(made)]

    assert told(8, 10) == [18, 164]
    assert told(9, 9) == [18, 162]
