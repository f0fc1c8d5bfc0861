"""The workbook of a bid, calculated anew by a real spreadsheet to the cent, and after a price has changed."""

from __future__ import annotations

import io
from decimal import Decimal
from pathlib import Path

import openpyxl
from attrs import evolve

from bids import JOB, LABOR, PRICES, TERMS, bid_of, made
from calculated import recalculated, sums
from darby.bid.model import Bid, WayPrice
from darby.bid.sheet.to_xlsx import make

FULL = TERMS.replace("10 %", "9.37 %").replace('"30"', '"31.47"') + 'minimum = 9999\nsupplier = "Harbor"\n'


def wanted(bid: Bid) -> dict[str, Decimal]:
    direct = {name.capitalize(): sum_ for name, sum_ in bid.direct.items()}
    return direct | {one.label: one.sum for one in bid.added} | {"Price": bid.total}


def test_a_spreadsheet_gets_every_sum_to_the_cent(tmp_path: Path) -> None:
    bids = (made(), bid_of(FULL, JOB, prices=PRICES, labor=LABOR))
    shown = recalculated([make(bid) for bid in bids], tmp_path)
    assert [sums(book) for book in shown] == [wanted(bid) for bid in bids]


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
    (shown,) = recalculated([out.getvalue()], tmp_path)
    assert sums(shown) == wanted(changed)


def test_it_carries_its_values_for_who_does_not_calculate() -> None:
    assert sums(openpyxl.load_workbook(io.BytesIO(make(made())), data_only=True)) == wanted(made())


def test_equal_bids_give_equal_files() -> None:
    assert make(bid_of(TERMS, JOB, prices=PRICES, labor=LABOR)) == make(made())


def test_what_is_priced_beside_the_bid_has_a_sheet_where_there_is_any() -> None:
    way = WayPrice("sprayed", made().estimate.job.source.span(0, 1), made(), ())
    book = openpyxl.load_workbook(io.BytesIO(make(evolve(made(), ways=(way,)))), data_only=True)
    rows = [row[:4] for row in book["Beside the bid"].iter_rows(min_row=4, values_only=True)]
    assert ("another way", "sprayed", "the whole price", float(made().total)) in rows
    assert "Beside the bid" not in openpyxl.load_workbook(io.BytesIO(make(made()))).sheetnames
