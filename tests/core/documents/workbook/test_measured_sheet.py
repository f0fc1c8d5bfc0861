"""What was measured as cells: tables that trades brought too, their measures as numbers that may be changed."""

from __future__ import annotations

import io
from typing import Any

import openpyxl

import decks
from workbooks import book


def rows() -> list[tuple[Any, ...]]:
    sheet = openpyxl.load_workbook(io.BytesIO(book(decks.estimate())))["Measured"]
    found = list(sheet.iter_rows(values_only=True))
    return found[next(n for n, row in enumerate(found) if row[0] == "What") + 1 :]


def test_tables_of_trades_stand_among_what_was_measured() -> None:
    assert [row[:8] for row in rows()] == [
        ("wall", "north", None, None, 12, 8, "=north_length*12*north_height/12", 1),
        ("deck", "roof", "Attic", None, 20, 12, "=roof_length*roof_width*12/12", 1),
        ("opening", "skylight", "Attic", "roof", 2, 3, "=skylight_width*skylight_height*12/12", 1),
        ("outside corner", None, None, None, None, 8, None, 3),
        ("laid", "diagonal", "Attic", "roof", None, None, None, None),
        ("side", None, "Attic", "roof", 1.5, None, None, None),
        ("shade", None, "Attic", "roof", None, None, 9, None),
        ("hatches", None, "Attic", "roof", None, None, None, 2),
        ("heated", "yes", "Attic", "roof", None, None, None, None),
        ("vents", "=V1", None, None, None, None, None, None),
        ("size", None, None, "=V1", 0.5, None, None, None),
        ("maker", "Vale", None, "=V1", None, None, None, None),
    ]


def test_a_name_that_looks_like_a_formula_is_a_text() -> None:
    sheet = openpyxl.load_workbook(io.BytesIO(book(decks.estimate())))["Measured"]
    (cell,) = (row[1] for row in sheet.iter_rows() if row[0].value == "vents")
    assert cell.data_type == "s"
