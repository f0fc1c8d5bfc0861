"""The workbook, recalculated by a real spreadsheet: its orders are Darby's, and go on being when a cell is changed."""

from __future__ import annotations

import csv
import io
import math
import os
import random
import re
import subprocess
import zipfile
from collections.abc import Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from attrs import evolve

import handed
import made
from darby.documents.workbook.formulas import Inputs, Writer
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.working import working
from darby.quantities.amounts import Amount, total, walk
from desk import estimated
from real_readers import LIBREOFFICE, program

ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""
"""LibreOffice's setting to calculate every formula anew when it opens a file."""


def book(estimate: Estimate) -> bytes:
    return handed.table("xlsx", estimate)


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


Rows = list[list[Any]]


def office_makes(books: Sequence[bytes], form: str, folder: Path) -> list[Path]:
    """What LibreOffice makes of some books, all in one go, each calculated anew."""
    office = program(LIBREOFFICE, "LibreOffice Calc")
    (folder / "profile" / "user").mkdir(parents=True, exist_ok=True)
    (folder / "profile" / "user" / "registrymodifications.xcu").write_text(ALWAYS, encoding="utf-8")
    for number, data in enumerate(books):
        (folder / f"{number}.xlsx").write_bytes(emptied(data))
    done = subprocess.run(
        (
            str(office), "--headless", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--convert-to", form,
            "--outdir", str(folder / "out"), *(str(folder / f"{n}.xlsx") for n in range(len(books))),
        ),
        capture_output=True, stdin=subprocess.DEVNULL, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return [folder / "out" / f"{number}.{form}" for number in range(len(books))]


def recalculated(data: bytes, folder: Path) -> dict[str, Rows]:
    """What LibreOffice works out, sheet by sheet."""
    (made_of,) = office_makes([data], "xlsx", folder)
    opened = openpyxl.load_workbook(made_of, data_only=True)
    return {sheet.title: [list(row) for row in sheet.iter_rows(values_only=True)] for sheet in opened}


def order_sheets(books: Sequence[bytes], folder: Path) -> list[Rows]:
    """The first sheet of each book, as LibreOffice works it out."""
    return [
        [[cell or None for cell in row] for row in csv.reader(path.read_text(encoding="utf-8").splitlines())]
        for path in office_makes(books, "csv", folder)
    ]


def orders(sheet: Rows) -> list[tuple[str, str, str]]:
    """Product, kind and packages of every line, as the spreadsheet has them."""
    return [(row[1], row[2] or "", str(row[7]).replace(",", "")) for row in lines(sheet)]


def lines(sheet: Rows) -> Rows:
    head = next(n for n, row in enumerate(sheet) if row[0] == "No.")
    return [row for row in sheet[head + 1 :] if row[0]]


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


# --- the hundred jobs


def number(chance: random.Random, low: int, high: int) -> str:
    return str(chance.randint(low, high))


def length(chance: random.Random, low: int, high: int) -> str:
    """A length of so many feet, spelled one way or another."""
    feet = chance.randint(low, high)
    return chance.choice(
        (
            f"{feet} ft",
            f"{feet} ft {chance.randint(1, 11)} in",
            f"{feet} ft {chance.randint(1, 11)} {chance.choice(('1/2', '1/4', '5/8'))} in",
            f"{feet * 12} in",
            f"{feet * 305} mm",
            f"{feet * 0.3:.2f} m",
        )
    )


def job(chance: random.Random) -> str:
    """A job file of random rooms, walls, ceilings, openings and corners."""
    lines: list[str] = []
    for n in range(chance.randint(1, 5)):
        lines += ["[[walls]]", f"name = 'wall {n}'", f"faces = {chance.randint(1, 2)}"]
        if chance.random() < 0.2:
            lines += [f"area = '{number(chance, 40, 400)} sq ft'"]
        else:
            lines += [f'length = "{length(chance, 6, 60)}"', f'height = "{length(chance, 7, 14)}"']
        if chance.random() < 0.6:
            lines += [
                "[[openings]]",
                f"name = 'hole {n}'",
                f"wall = 'wall {n}'",
                "width = '3 ft'",
                "height = '6 ft 8 in'",
            ]
    for n in range(chance.randint(0, 3)):
        lines += [
            "[[ceilings]]",
            f"name = 'ceiling {n}'",
            f'length = "{length(chance, 8, 40)}"',
            f'width = "{length(chance, 8, 30)}"',
        ]
    for n in range(chance.randint(0, 2)):
        lines += ["[[rooms]]", f"name = 'room {n}'"]
        lines += [f'{side} = "{length(chance, 7, 20)}"' for side in ("length", "width", "height")]
    if chance.random() < 0.7:
        lines += [
            "[[corners]]",
            "kind = 'inside'",
            f"count = {chance.randint(1, 20)}",
            f'height = "{length(chance, 7, 14)}"',
        ]
    return "\n".join(lines) + "\n"


def specification(chance: random.Random) -> str:
    """Some clauses with random numbers; what they leave out, defaults supply."""
    pick = chance.choice
    lines = [
        f"Primer: {number(chance, 180, 420)} square feet per gallon.",
        f"Finish paint: {pick(('9', '11.5', '13'))} m2/L.",
        f"Finish paint: {number(chance, 250, 450)} sq ft per gallon.",
        f"Walls: one coat primer, {pick(('two', 'three', 'one'))} coats satin finish paint.",
        f"Ceilings: one coat primer, {pick(('two', 'one'))} coats flat finish paint.",
        f"Joint compound: {number(chance, 7, 19)} lb per 100 sq ft.",
        f"Joint compound: {pick(('0.5', '0.65', '0.8'))} kg per m2.",
        f"Joint tape: {number(chance, 28, 52)} ft per 100 sq ft.",
        f"Gypsum board waste: {number(chance, 1, 15)} %.",
        f"Walls: {pick(('one layer', 'two layers'))} of gypsum board on each face.",
        f"Gypsum board: {pick(('4 ft x 8 ft', '4 ft x 12 ft', '1200 x 2400 mm'))}.",
        f"Drywall clips at inside corners: {pick(('12', '16', '24'))} inches on center.",
        f"Screws: {number(chance, 90, 140)} per 100 sq ft.",
        f"Primer comes in {pick(('5 gal pails', '1 gal cans', '10 L pails'))}.",
        pick(("Deduct all openings.", "Deduct openings over 10 sq ft.", "Do not deduct openings.")),
    ]
    return "\n".join(line for line in lines if chance.random() < 0.6) + "\n"


def generated(seed: int) -> Estimate:
    chance = random.Random(seed)
    return estimated(job(chance), specification(chance), chance.choice(("us", "us", "metric")))


# --- recalculated


def test_libreoffice_gets_the_orders_of_the_demo(tmp_path: Path) -> None:
    demo = handed.demo()
    sheets = recalculated(book(demo), tmp_path)
    items = handed.demo_json()["items"]
    assert orders(sheets["Order"]) == wanted(demo)
    assert [o[2] for o in orders(sheets["Order"])] == [str(i["order"]["count"]) for i in items]
    values = [row[2] for row in sheets["Working"][4:] if isinstance(row[2], int | float)]
    steps = [Fraction(w["value"]) for i in items for w in i["working"]]
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


def test_libreoffice_gets_the_orders_of_a_hundred_jobs(tmp_path: Path) -> None:
    """A hundred in the whole check; in a run at a desk the first twenty, which take a quarter of the time."""
    many = 100 if os.environ.get("DARBY_ALL_READERS") else 20
    jobs = [generated(seed) for seed in range(many)]
    assert sum(len(one.items) for one in jobs) > 5 * many
    assert len({i.product for one in jobs for i in one.items}) >= 7
    alone, rest = jobs[:4], [together(jobs[at : at + 12]) for at in range(4, many, 12)]
    for one, sheet in zip((*alone, *rest), order_sheets([book(one) for one in (*alone, *rest)], tmp_path), strict=True):
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
SPEC = """Primer: {spread} sq ft per gallon.
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


def test_a_changed_cell_gives_what_darby_gives_for_the_changed_job(tmp_path: Path) -> None:
    start = book(job_with())
    then = [job_with(**numbers) for _, numbers, _ in CHANGES]
    books = [
        changed(start, **{cell_named(start, stem): Fraction(next(iter(numbers.values())))})
        for _, numbers, stem in CHANGES
    ]
    both = {cell_named(start, stem): Fraction(next(iter(numbers.values()))) for _, numbers, stem in CHANGES}
    books.append(changed(start, **both))
    then.append(job_with(**{k: v for _, numbers, _ in CHANGES for k, v in numbers.items()}))
    assert all(wanted(one) != wanted(job_with()) for one in then)
    for (what, *_), one, sheet in zip((*CHANGES, ("all",)), then, order_sheets(books, tmp_path), strict=True):
        assert orders(sheet) == wanted(one), what
        moved = [n for n, was in zip(orders(sheet), wanted(job_with()), strict=True) if n != was]
        told = [row for row in lines(sheet) if str(row[10]).startswith("was ")]
        assert len(told) == len(moved) > 0, what


# --- what needs no spreadsheet


def evaluated(node: Amount) -> Fraction:
    """The value of a formula over constants, worked out exactly."""
    text = Writer(Inputs(), lambda formula, _: f"({formula[1:]})").formula(node)[1:]
    text = re.sub(r"SUM\(", "total_(", text)
    exact = re.sub(r"(?<![\w.])(\d+)", r"Fraction(\1)", text)

    def roundup(value: Fraction, _: Fraction) -> Fraction:
        return Fraction(-(-value.numerator // value.denominator))

    names = {
        "Fraction": Fraction,
        "total_": lambda *terms: sum(terms),
        "ROUNDUP": roundup,
        "ROUND": lambda value, _: value,
    }
    result = eval(exact, {"__builtins__": {}}, names)
    assert isinstance(result, Fraction)
    return result


def in_floats(formula: str, places: int) -> float:
    """The value of a formula over constants in bare binary floating point, its inner rounding to `places`."""

    def add(*terms: float) -> float:
        value = 0.0
        for term in terms:
            value += term
        return value

    names = {"SUM": add, "ROUNDUP": lambda value, _: math.ceil(value), "ROUND": lambda value, _: round(value, places)}
    return float(eval(formula[1:], {"__builtins__": {}}, names))


def test_a_whole_number_of_packages_is_not_rounded_up_to_one_more_by_binary_floats() -> None:
    """Tenths of a pound into packages of three tenths: without the inner rounding, one package too many comes of it."""
    fooled = 0
    for whole in range(1, 100):
        need = total([Amount.of(Fraction(1, 10), "lb").named("a") for _ in range(3 * whole)], "need")
        package = Amount.of(Fraction(3, 10), "lb") / Amount.of(1, "pail")
        item = LineItem("grit", need, {}, package, "x")
        assert (item.count, item.order) != (None, None)
        formula = Writer(Inputs(), lambda text, _: f"({text[1:]})").formula(working(item)[-1].amount)
        assert in_floats(formula, 9) == item.count == whole
        fooled += in_floats(formula, 17) != whole
    assert fooled > 10


@pytest.mark.parametrize("seed", range(8))
def test_every_step_of_a_formula_is_the_step_of_the_amount(seed: int) -> None:
    for item in generated(seed).items:
        for node in walk(working(item)[-1].amount):
            assert evaluated(node) == node.value, node.label


def test_a_sum_of_thousands_stays_within_what_a_cell_takes() -> None:
    rows = [made.measured("24 ft").named(f"row {n}") for n in range(2_500)]
    item = LineItem("twine", total(rows, "length"), {}, Amount.of(50, "ft") / Amount.of(1, "roll"), "x")
    opened = openpyxl.load_workbook(io.BytesIO(book(made.estimate(items=(item,), rules=()))))
    formulas = [
        c.value
        for row in opened["Working"].iter_rows()
        for c in row
        if isinstance(c.value, str) and c.value.startswith("=")
    ]
    assert max(map(len, formulas)) < 8_000
    assert max(f.count(",") for f in formulas) < 250


def test_every_number_said_is_one_named_cell_and_every_formula_is_over_them() -> None:
    opened = openpyxl.load_workbook(io.BytesIO(handed.table("xlsx")))
    names = opened.defined_names
    inputs = {n: d.attr_text for n, d in names.items() if not n.startswith("_xlnm")}
    assert len(set(inputs.values())) == len(inputs) > 40
    for place in inputs.values():
        sheet, _, cell = place.partition("!")
        assert sheet in {"Measured", "Rules"}
        assert isinstance(opened[sheet][cell.replace("$", "")].value, int | float), place
    working_cells = [
        c.value
        for row in opened["Working"].iter_rows(min_row=5, min_col=3, max_col=3)
        for c in row
        if c.value is not None
    ]
    assert all(str(v).startswith("=") for v in working_cells)
    used = {word for v in working_cells for word in re.findall(r"[a-z][a-z0-9]*_[a-z0-9_]+", v)}
    assert used <= set(inputs)
    assert len(used) > 30


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


def test_the_values_formulas_carry_are_darbys() -> None:
    opened = openpyxl.load_workbook(io.BytesIO(handed.table("xlsx")), data_only=True)
    rows = [r for r in opened["Order"].iter_rows(min_row=5, values_only=True) if r[0]]
    assert [(r[1], r[7]) for r in rows] == [(i["product"], i["order"]["count"]) for i in handed.demo_json()["items"]]


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


def test_equal_estimates_give_equal_files() -> None:
    assert book(handed.demo()) == book(handed.demo())


def test_goods_without_a_package_show_their_need() -> None:
    opened = openpyxl.load_workbook(io.BytesIO(book(made.estimate())), data_only=True)
    rows = {r[1]: r for r in opened["Order"].iter_rows(min_row=5, values_only=True) if r[0]}
    assert rows["clip"][3] == 6
    assert rows["clip"][7] == "package not known"


@pytest.mark.parametrize("nasty", [*handed.NASTY, "x" * 40_000, "&F&A&D", "A1", "R1C1", "é" * 300, ""])
def test_hostile_text_is_text_in_every_cell(nasty: str) -> None:
    data = book(handed.hostile(nasty))
    opened = openpyxl.load_workbook(io.BytesIO(data))
    ours = re.compile(
        r'=(?:[a-z][a-z0-9_]*|SUM|ROUNDUP|ROUND|Working!|\$[A-Z]\$[0-9]+|[0-9]+|[-+*/(),]|IF\(\$H\$[0-9]+=\$J\$[0-9]+,"","was "&)+'
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


def test_libreoffice_opens_a_hostile_workbook_and_runs_nothing(tmp_path: Path) -> None:
    estimate = handed.hostile(" ".join(handed.NASTY))
    (sheet,) = order_sheets([book(estimate)], tmp_path)
    assert [row[7] for row in lines(sheet)] == [str(estimate.items[0].count), "package not known"]
