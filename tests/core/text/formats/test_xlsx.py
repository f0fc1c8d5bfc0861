"""A spreadsheet's first sheet as the text of a table, made by the library that most programs write them with."""

from __future__ import annotations

import io
import sys
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from darby.cli.shared.jobs import Wanted, estimate_of
from darby.quantities.amounts import Amount
from darby.text.files import decode, open_file
from darby.text.formats.xlsx import text_of


def saved(*rows: list[object], change: Any = None) -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Rooms"
    for row in rows:
        sheet.append(row)
    if change is not None:
        change(book, sheet)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def test_each_row_is_a_line_with_its_cells_as_they_were_typed() -> None:
    data = saved(["Room", "L", "W"], ["Store, back", 12, 10.1], [], ['He said "ho"', "8'-6\"", 0.3], [True, None, 1e21])
    assert text_of(data) == (
        'Room,L,W\n"Store, back",12,10.1\n\n"He said ""ho""","8\'-6""",0.3\nyes,,1000000000000000000000\n', ()
    )  # fmt: skip


def test_a_cell_merged_down_stands_in_each_row_and_one_merged_across_once() -> None:
    def merge(_: Any, sheet: Any) -> None:
        sheet.merge_cells("A1:C1")
        sheet.merge_cells("A3:A4")

    data = saved(["Title"], ["Level", "Room"], ["Level 1", "Office"], [None, "Store"], change=merge)
    assert text_of(data)[0].splitlines() == ["Title", "Level,Room", "Level 1,Office", "Level 1,Store"]


@pytest.mark.parametrize(
    ("form", "said"),
    [('0.0" ft"', "12.5 ft"), ('#,##0.00 "m"', "12.5 m"), ('0.0\\ "mm"', "12.5 mm"), ("0.00", "12.5"), ("General", "12.5"),
     ('0.0" ft";-0.0" ft"', "12.5 ft"), ("0%", "12.5")],
)  # fmt: skip
def test_a_unit_that_the_format_shows_stands_behind_its_number(form: str, said: str) -> None:
    def shape(_: Any, sheet: Any) -> None:
        sheet["A1"].number_format = form

    assert text_of(saved([12.5], change=shape))[0] == f"{said}\n"


def test_other_sheets_and_hidden_rows_are_told_and_hidden_sheets_passed_over() -> None:
    def more(book: Any, sheet: Any) -> None:
        book.create_sheet("Doors")["A1"] = "x"
        book.create_sheet("Empty")
        sheet.row_dimensions[2].hidden = True

    assert text_of(saved(["a"], ["b"], change=more))[1] == (
        "its sheet Rooms was read, and Doors was not", "hidden rows in it were read as all others"
    )  # fmt: skip

    def hide(book: Any, sheet: Any) -> None:
        book.create_sheet("Shown")["A1"] = "seen"
        sheet.sheet_state = "hidden"

    assert text_of(saved(["a"], change=hide)) == ("seen\n", ())


def test_a_formula_that_was_never_worked_out_is_told_at_its_cell() -> None:
    with pytest.raises(ValueError, match="cell B2 of Rooms is a formula that was never worked out"):
        text_of(saved(["a", 1], ["b", "=B1*2"]))


def test_an_empty_one_a_damaged_one_and_one_that_unpacks_to_much_are_told() -> None:
    empty, _ = decode(saved(), "rooms.xlsx", table=True)
    assert empty is None
    data = saved(["a", 1])
    with pytest.raises(ValueError, match="damaged"):
        text_of(data[: len(data) // 2])
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as parts:
        parts.writestr("xl/workbook.xml", b"")
        parts.writestr("xl/worksheets/sheet1.xml", bytes(201_000_000))
    source, (told,) = decode(out.getvalue(), "rooms.xlsx", table=True)
    assert source is None
    assert "it unpacks to more than 200 MB" in told.message


def test_it_is_read_as_a_table_only(tmp_path: Path) -> None:
    (tmp_path / "rooms.xlsx").write_bytes(saved(["a", 1]))
    assert open_file(tmp_path / "rooms.xlsx")[1][0].code == "file-binary"
    source, _ = open_file(tmp_path / "rooms.xlsx", "rooms.xlsx", table=True)
    assert source is not None
    assert source.text == "a,1\n"


def test_without_the_library_the_way_to_install_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    _, (told,) = decode(saved(["a", 1]), "rooms.xlsx", table=True)
    assert told.code == "library-missing"
    assert told.help == "Install it: pip install 'darby[xlsx]'. Or save it as CSV and name that"


def test_a_job_measures_what_its_spreadsheet_says_as_the_same_list_in_text_does(tmp_path: Path) -> None:
    rows: list[list[object]] = [["Maple House"], ["Room No.", "Room Name", "L (ft)", "W (ft)", "Ceiling Height"]]
    rows += [[101, "Office", 12, 10.5, "8'-6\""], [102, "Store", 9, 9, "9 ft"], ["TOTAL", None, 21]]
    (tmp_path / "rooms.xlsx").write_bytes(saved(*rows))
    plain = "name,number,length,width,height\nOffice,101,12 ft,10.5 ft,8.5 ft\nStore,102,9 ft,9 ft,9 ft\n"
    (tmp_path / "rooms.csv").write_text(plain, encoding="utf-8")
    found = {}
    for name in ("rooms.xlsx", "rooms.csv"):
        job = tmp_path / f"{name}.toml"
        job.write_text(f'name = "Maple"\nunits = "us"\nschedules = ["{name}"]\n', encoding="utf-8")
        made = estimate_of(Wanted(str(job))).estimate
        assert made is not None
        found[name] = [(s.name, s.area) for s in made.job.surfaces]
        board = next(i for i in made.items if i.product == "gypsum board").need
        # 45 by 8.5, and 36 by 9 ft of walls; 12 by 10.5 and 9 by 9 ft of ceilings
        assert board == Amount.read("913.5 sq ft")
    assert found["rooms.xlsx"] == found["rooms.csv"]
