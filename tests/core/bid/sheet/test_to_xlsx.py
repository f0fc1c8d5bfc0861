"""The workbook of a bid, calculated anew by a real spreadsheet to the cent, and after a price has changed."""

from __future__ import annotations

import io
import subprocess
from decimal import Decimal
from pathlib import Path

import openpyxl

from bids import JOB, LABOR, PRICES, TERMS, bid_of, made
from darby.bid.model import Bid
from darby.bid.sheet.to_xlsx import make
from real_readers import LIBREOFFICE, program

ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""
"""LibreOffice's setting to calculate every formula anew when it opens a file."""

FULL = TERMS.replace("10 %", "9.37 %").replace('"30"', '"31.47"') + 'minimum = 9999\nsupplier = "Harbor"\n'


def recalculated(data: bytes, folder: Path) -> openpyxl.Workbook:
    office = program(LIBREOFFICE, "LibreOffice Calc")
    (folder / "profile" / "user").mkdir(parents=True)
    (folder / "profile" / "user" / "registrymodifications.xcu").write_text(ALWAYS, encoding="utf-8")
    (folder / "bid.xlsx").write_bytes(data)
    done = subprocess.run(
        (str(office), "--headless", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--convert-to", "xlsx",
         "--outdir", str(folder / "out"), str(folder / "bid.xlsx")),
        capture_output=True, stdin=subprocess.DEVNULL, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return openpyxl.load_workbook(folder / "out" / "bid.xlsx", data_only=True)


def sums(book: openpyxl.Workbook) -> dict[str, Decimal]:
    """The lines of the first sheet that have a sum."""
    found = {str(row[0]): row[4] for row in book["Bid"].iter_rows(min_row=5, values_only=True) if row[4] is not None}
    return {name: Decimal(str(round(value, 6))) for name, value in found.items()}


def wanted(bid: Bid) -> dict[str, Decimal]:
    direct = {name.capitalize(): sum_ for name, sum_ in bid.direct.items()}
    return direct | {one.label: one.sum for one in bid.added} | {"Price": bid.total}


def test_a_spreadsheet_gets_every_sum_to_the_cent(tmp_path: Path) -> None:
    for number, bid in enumerate((made(), bid_of(FULL, JOB, prices=PRICES, labor=LABOR))):
        folder = tmp_path / str(number)
        folder.mkdir()
        assert sums(recalculated(make(bid), folder)) == wanted(bid)


def test_a_price_that_is_changed_moves_the_price_of_the_bid(tmp_path: Path) -> None:
    """35 sheets at 13.37 instead of 12.50, and the hour at 33 instead of 30."""
    book = openpyxl.load_workbook(io.BytesIO(make(made())))
    material, wages = book["Material"], book["Wages"]
    (row,) = (r for r in material.iter_rows(min_row=5) if str(r[0].value).startswith("gypsum board"))
    row[3].value = 13.37
    wages.cell(5, 2).value = 33
    out = io.BytesIO()
    book.save(out)
    changed = bid_of(TERMS.replace('"30"', "33"), JOB, prices=PRICES.replace("12.50", "13.37"), labor=LABOR)
    assert changed.total != made().total
    assert sums(recalculated(out.getvalue(), tmp_path)) == wanted(changed)


def test_it_carries_its_values_for_who_does_not_calculate() -> None:
    assert sums(openpyxl.load_workbook(io.BytesIO(make(made())), data_only=True)) == wanted(made())


def test_equal_bids_give_equal_files() -> None:
    assert make(bid_of(TERMS, JOB, prices=PRICES, labor=LABOR)) == make(made())
