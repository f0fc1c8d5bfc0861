"""The workbook, recalculated by a real spreadsheet: its orders are Darby's, and go on being when a cell is changed."""

from __future__ import annotations

import csv
import io
import os
import re
import zipfile
from collections.abc import Mapping, Sequence
from fractions import Fraction
from pathlib import Path

import openpyxl
import pytest
from attrs import evolve

import handed
import made
from darby.estimate.model import Estimate
from darby.estimate.working import working
from desk import estimated
from real_readers import calculated
from workbooks import Rows, book, generated, lines


def emptied(data: bytes) -> bytes:
    """The workbook without the values its formulas carry, so that whoever shows one has worked it out."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            text = old.read(name)
            if name.startswith("xl/worksheets/"):
                text = re.sub(rb"</f><v>[^<]*</v>", b"</f>", text)
                assert b"</f><v>" not in text
            new.writestr(name, text)
    return out.getvalue()


def recalculated(data: bytes, folder: Path) -> dict[str, Rows]:
    """What LibreOffice works out, sheet by sheet."""
    (made_of,) = calculated([emptied(data)], "xlsx", folder)
    opened = openpyxl.load_workbook(made_of, data_only=True)
    return {sheet.title: [list(row) for row in sheet.iter_rows(values_only=True)] for sheet in opened}


def order_sheets(books: Sequence[bytes], folder: Path) -> list[Rows]:
    """The first sheet of each book, as LibreOffice works it out."""
    return [
        [[cell or None for cell in row] for row in csv.reader(path.read_text(encoding="utf-8").splitlines())]
        for path in calculated([emptied(b) for b in books], "csv", folder)
    ]


def orders(sheet: Rows) -> list[tuple[str, str, str]]:
    """Product, kind and packages of every line, as the spreadsheet has them."""
    return [(row[1], row[2] or "", str(row[7]).replace(",", "")) for row in lines(sheet)]


def wanted(estimate: Estimate) -> list[tuple[str, str, str]]:
    return [(i.product, str(i.pool), "package not known" if i.count is None else str(i.count)) for i in estimate.items]


def changed(data: bytes, **cells: Fraction) -> bytes:
    """The workbook with other numbers in some named cells."""
    opened = openpyxl.load_workbook(io.BytesIO(data))
    for name, value in cells.items():
        sheet, _, cell = opened.defined_names[name].attr_text.partition("!")
        assert isinstance(opened[sheet][cell.replace("$", "")].value, int | float)
        opened[sheet][cell.replace("$", "")].value = value.numerator / value.denominator
    out = io.BytesIO()
    opened.save(out)
    return out.getvalue()


def written_once(estimate: Estimate) -> list[Fraction]:
    """The values of the working of all lines, what was measured for several of them once."""
    met: set[int] = set()
    found = []
    for line in [line for item in estimate.items for line in working(item, estimate.rules)]:
        if id(line.amount.step) not in met:
            found.append(line.amount.value)
        if line.rule is None:
            met.add(id(line.amount.step))
    return found


def test_libreoffice_gets_the_orders_of_the_demo(tmp_path: Path) -> None:
    demo = handed.demo()
    sheets = recalculated(book(demo), tmp_path)
    items = handed.demo_json()["items"]
    assert orders(sheets["Order"]) == wanted(demo)
    assert [o[2] for o in orders(sheets["Order"])] == [str(i["order"]["count"]) for i in items]
    values = [row[2] for row in sheets["Working"][4:] if isinstance(row[2], int | float)]
    steps = written_once(demo)
    assert len(values) == len(steps)
    for value, step in zip(values, steps, strict=True):
        assert value == pytest.approx(step.numerator / step.denominator, rel=1e-12)
    assert not [row for row in lines(sheets["Order"]) if row[10]]


def together(jobs: Sequence[Estimate]) -> Estimate:
    """Several estimates as one: opening a workbook takes LibreOffice longer than calculating it."""
    first = jobs[0]
    work = evolve(
        first.job,
        surfaces=tuple(s for one in jobs for s in one.job.surfaces),
        corners=tuple(c for one in jobs for c in one.job.corners),
    )
    items = tuple(item for one in jobs for item in one.items)
    return Estimate(work, items, tuple(rule for one in jobs for rule in one.rules))


def hundred() -> list[Estimate]:
    """A hundred jobs in the whole check; in a run at a desk the first twenty, which take a quarter of the time."""
    many = 100 if os.environ.get("DARBY_ALL_READERS") else 20
    jobs = [generated(seed) for seed in range(many)]
    assert sum(len(one.items) for one in jobs) > 5 * many
    assert len({i.product for one in jobs for i in one.items}) >= 7
    return [*jobs[:4], *(together(jobs[at : at + 12]) for at in range(4, many, 12))]


def hostile() -> Estimate:
    return handed.hostile(" ".join(handed.NASTY))


def changed_books() -> list[bytes]:
    """The workbook of a job with one number changed in its cell, for each change; and with all of them."""
    start = book(job_with())
    put = [{cell_named(start, stem): Fraction(next(iter(numbers.values())))} for _, numbers, stem in CHANGES]
    return [changed(start, **cells) for cells in (*put, {k: v for cells in put for k, v in cells.items()})]


Shown = dict[str, tuple[list[Estimate], list[Rows]]]
"""What was opened, by what it is for, and the first sheet of each as LibreOffice works it out."""


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Shown:
    """All books that are tried, opened in one go: starting LibreOffice takes the longest."""
    jobs = hundred()
    books = {"hundred": [book(one) for one in jobs], "changed": changed_books(), "hostile": [book(hostile())]}
    shown = iter(order_sheets([b for some in books.values() for b in some], tmp_path_factory.mktemp("books")))
    return {name: (jobs if name == "hundred" else [], [next(shown) for _ in some]) for name, some in books.items()}


def test_libreoffice_gets_the_orders_of_a_hundred_jobs(sheets: Shown) -> None:
    for one, sheet in zip(*sheets["hundred"], strict=True):
        assert orders(sheet) == wanted(one)


JOB = """
[[walls]]
name = "sea wall"
length = "{length}"
height = "9 ft"
faces = {faces}

[[ceilings]]
name = "loft"
length = "31 ft 7 in"
width = "20 ft"

[[corners]]
kind = "inside"
count = {corners}
height = "9 ft"
"""
SPEC = """GYPSUM BOARD

Primer: {spread} sq ft per gallon.
Walls: one coat primer, {coats} coats satin finish paint.
Gypsum board waste: {waste} %.
Joint compound: {compound} lb per 100 sq ft.
Joint compound comes in {pail} lb pails.
Drywall clips at inside corners: {clips} inches on center.
"""
AS_IT_WAS: Mapping[str, int] = {
    "length": 48, "faces": 1, "corners": 4, "spread": 300, "coats": 2, "waste": 5, "compound": 13, "pail": 62, "clips": 16,
}  # fmt: skip
CHANGES: Sequence[tuple[str, dict[str, int], str]] = (
    ("length", {"length": 97}, "sea_wall_length"),
    ("faces", {"faces": 2}, "sea_wall_faces"),
    ("corners", {"corners": 31}, "corner_1_count"),
    ("spread", {"spread": 190}, "primer_coverage"),
    ("coats", {"coats": 5}, "finish_paint_coats_satin_wall"),
    ("waste", {"waste": 25}, "gypsum_board_waste"),
    ("compound", {"compound": 29}, "joint_compound_consumption"),
    ("pail", {"pail": 11}, "joint_compound_package"),
    ("clips", {"clips": 3}, "drywall_clip_spacing_inside_corner"),
)


def job_with(**numbers: int) -> Estimate:
    given = AS_IT_WAS | numbers
    spelled = given | {"coats": {2: "two", 5: "five"}[given["coats"]], "length": f"{given['length']} ft"}
    return estimated(JOB.format(**spelled), SPEC.format(**spelled))


def cell_named(data: bytes, stem: str) -> str:
    names = openpyxl.load_workbook(io.BytesIO(data)).defined_names
    found = [n for n in names if n.startswith(stem) and not n.endswith(("_per", "_by"))]
    assert len(found) == 1, (stem, sorted(names))
    return found[0]


def test_a_changed_cell_gives_what_darby_gives_for_the_changed_job(sheets: Shown) -> None:
    then = [job_with(**numbers) for _, numbers, _ in CHANGES]
    then.append(job_with(**{k: v for _, numbers, _ in CHANGES for k, v in numbers.items()}))
    assert all(wanted(one) != wanted(job_with()) for one in then)
    for (what, *_), one, sheet in zip((*CHANGES, ("all",)), then, sheets["changed"][1], strict=True):
        assert orders(sheet) == wanted(one), what
        moved = [n for n, was in zip(orders(sheet), wanted(job_with()), strict=True) if n != was]
        told = [row for row in lines(sheet) if str(row[10]).startswith("was ")]
        assert len(told) == len(moved) > 0, what


def test_equal_estimates_give_equal_files() -> None:
    assert book(handed.demo()) == book(handed.demo())


def test_goods_without_a_package_show_their_need() -> None:
    opened = openpyxl.load_workbook(io.BytesIO(book(made.estimate())), data_only=True)
    rows = {r[1]: r for r in opened["Order"].iter_rows(min_row=5, values_only=True) if r[0]}
    assert rows["clip"][3] == 6
    assert rows["clip"][7] == "package not known"


def test_libreoffice_opens_a_hostile_workbook_and_runs_nothing(sheets: Shown) -> None:
    (sheet,) = sheets["hostile"][1]
    assert [row[7] for row in lines(sheet)] == [str(hostile().items[0].count), "package not known"]
