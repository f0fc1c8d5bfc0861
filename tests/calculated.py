"""Workbooks of bids as a real spreadsheet calculates them anew."""

from __future__ import annotations

import subprocess
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

import openpyxl

from real_readers import LIBREOFFICE, program

ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""
"""LibreOffice's setting to calculate every formula anew when it opens a file."""


def recalculated(folder: Path, names: Sequence[str]) -> list[openpyxl.Workbook]:
    """The workbooks of these names in a folder, with every formula calculated anew; in one run, since starting it is dear."""
    office = program(LIBREOFFICE, "LibreOffice Calc")
    (folder / "profile" / "user").mkdir(parents=True)
    (folder / "profile" / "user" / "registrymodifications.xcu").write_text(ALWAYS, encoding="utf-8")
    done = subprocess.run(
        (str(office), "--headless", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--convert-to", "xlsx",
         "--outdir", str(folder / "out"), *(str(folder / name) for name in names)),
        capture_output=True, stdin=subprocess.DEVNULL, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return [openpyxl.load_workbook(folder / "out" / name, data_only=True) for name in names]


def sums(book: openpyxl.Workbook) -> dict[str, Decimal]:
    """The lines of the first sheet that have a sum."""
    found = {str(row[0]): row[4] for row in book["Bid"].iter_rows(min_row=5, values_only=True) if row[4] is not None}
    return {name: Decimal(str(round(value, 6))) for name, value in found.items()}
