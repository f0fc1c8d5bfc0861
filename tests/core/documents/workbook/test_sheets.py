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
        assert sheet.freeze_panes == "A5"
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
        r'|SUM\(Measured!|IF\((?:NOT|OR)?|ABS|COUNTIF|"Run Darby again:[ \w.,*]*"|""|(?:Order|Measured|Rules)!\$[A-Z]\$[0-9]+:\$[A-Z]\$[0-9]+|[>.:]|1E-9)+'
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
