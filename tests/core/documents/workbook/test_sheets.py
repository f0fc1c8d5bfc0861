"""The sheets of a workbook: frozen heads, units, hostile text as text."""

from __future__ import annotations

import io
import re
import zipfile

import openpyxl
import pytest

import handed
from desk import estimated
from workbooks import book


def test_the_sheets_are_those_of_the_estimate() -> None:
    opened = openpyxl.load_workbook(io.BytesIO(handed.table("xlsx")), data_only=True)
    assert opened.sheetnames == ["Order", "Working", "Measured", "Rules", "Open_points", "Rooms"]
    data = handed.demo_json()
    job = data["job"]
    rows = [r for r in opened["Measured"].iter_rows(min_row=5, values_only=True) if r[0]]
    assert len(rows) == sum(len(job[part]) for part in ("surfaces", "openings", "corners"))
    assert len([r for r in opened["Rules"].iter_rows(min_row=5, values_only=True) if r[0]]) == len(handed.demo().rules)
    kinds = [r[0] for r in opened["Open_points"].iter_rows(min_row=5, values_only=True) if r[0]]
    for what, part in (
        ("question", "questions"),
        ("assumption", "assumptions"),
        ("not read", "unread"),
        ("caution", "cautions"),
    ):
        assert kinds.count(what) == len(data[part]) > 0


def test_each_sheet_is_frozen_under_its_heads_and_ready_to_print() -> None:
    opened = openpyxl.load_workbook(io.BytesIO(handed.table("xlsx")))
    for sheet in opened:
        assert sheet.freeze_panes == ("C5" if sheet.title in ("Order", "Measured") else "B5")  # with the names
        assert (sheet.auto_filter.ref or "A4").startswith("A4")
        assert bool(sheet.auto_filter.ref) == (sheet.title in ("Order", "Measured", "Rules", "Open_points", "Rooms"))
        assert sheet.print_title_rows == "$4:$4"
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert (sheet.page_setup.orientation, sheet.page_setup.fitToHeight) == ("landscape", 0)  # as many as it takes
        heads = [c for c in sheet[4] if c.value]
        for head in heads:
            assert sheet.column_dimensions[head.column_letter].width >= max(map(len, head.value.split()))


def test_units_stand_in_the_heads_of_what_was_measured() -> None:
    metric = estimated("[[walls]]\nname = 'w'\nlength = '4 m'\nheight = '2.5 m'\nfaces = 1\n", units="metric")
    for estimate, unit in ((handed.demo(), "ft"), (metric, "m")):
        opened = openpyxl.load_workbook(io.BytesIO(book(estimate)))
        assert opened["Measured"]["E4"].value == f"Length or width ({unit})"


def test_there_are_no_macros_and_no_links_to_outside() -> None:
    with zipfile.ZipFile(io.BytesIO(handed.table("xlsx"))) as parts:
        assert not [n for n in parts.namelist() if "vba" in n.lower() or "external" in n.lower() or n.endswith(".bin")]
        for name in parts.namelist():
            assert b'TargetMode="External"' not in parts.read(name)


@pytest.mark.parametrize("nasty", [*handed.NASTY, "x" * 40_000, "&F&A&D", "A1", "R1C1", "é" * 300, ""])
def test_hostile_text_is_text_in_every_cell(nasty: str) -> None:
    data = book(handed.hostile(nasty))
    opened = openpyxl.load_workbook(io.BytesIO(data))
    ours = re.compile(
        r'=(?:[a-z][a-z0-9_]*|SUM|ROUNDUP|ROUND|Working!|\$[A-Z]\$[0-9]+|[0-9]+|[-+*/(),]|IF\(\$H\$[0-9]+=\$J\$[0-9]+,"","was "&'
        r'|IF\(\$H\$[0-9]+=1,"[a-z ]+","[a-z ]+"|SUM\(Measured!|IF\((?:NOT|OR)?|ABS|COUNTIF|"Run Darby again:[ \w.,*]*"|""|(?:Order|Measured|Rules)!\$[A-Z]\$[0-9]+:\$[A-Z]\$[0-9]+|[>.:]|1E-9)+'
    )
    for sheet in opened:
        for cell in (c for row in sheet.iter_rows() for c in row if c.value is not None):
            if cell.data_type == "f":
                assert ours.fullmatch(cell.value), cell.value
            assert cell.hyperlink is None or cell.hyperlink.location
            if cell.data_type == "s":
                assert not [
                    c for c in cell.value if (ord(c) < 32 and c != "\n") or 127 <= ord(c) < 160 or c in "\u202e\u200b"
                ]
    with zipfile.ZipFile(io.BytesIO(data)) as parts:
        for name in parts.namelist():
            assert b"<script" not in parts.read(name)
            assert b'TargetMode="External"' not in parts.read(name)
    assert opened.sheetnames == ["Order", "Working", "Measured", "Rules", "Open_points"]


def test_packages_are_called_as_many_as_they_are_and_pieces_are_whole() -> None:
    sheet = openpyxl.load_workbook(io.BytesIO(handed.table("xlsx")))["Order"]
    rows = {row[1].value: row for row in sheet.iter_rows(min_row=5) if row[0].value}
    assert rows["gypsum board"][8].value.endswith('=1,"sheet","sheets")')
    assert rows["drywall clip"][8].value.endswith('=1,"box","boxes")')
    assert rows["drywall clip"][3].number_format == "#,##0"


def test_the_working_folds_line_by_line() -> None:
    sheet = openpyxl.load_workbook(io.BytesIO(handed.table("xlsx")))["Working"]
    lines = [row for row in range(5, sheet.max_row + 1) if sheet.cell(row, 1).font.size == 12]
    assert lines
    for row in lines:
        assert not sheet.row_dimensions[row].outline_level
        assert sheet.row_dimensions[row + 1].outline_level == 1


def test_the_workbook_says_what_it_was_made_from() -> None:
    opened = openpyxl.load_workbook(io.BytesIO(handed.table("xlsx")))
    told = [str(row[1].value) for row in opened["Order"].iter_rows() if str(row[1].value).startswith("Made from ")]
    assert told[0].startswith("Made from job.toml: ")
    assert any("addendum-1.txt: addendum 1" in one and ", checksum " in one for one in told)
    assert opened.properties.description.startswith("Made from job.toml (")
