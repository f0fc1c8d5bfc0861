"""Live formulas: every step of an amount, within what a cell takes, without binary floats."""

from __future__ import annotations

import io
import math
import re
from fractions import Fraction

import openpyxl
import pytest

import handed
import made
from darby.documents.workbook.formulas import Inputs, Writer, stretches
from darby.estimate.line_item import LineItem
from darby.estimate.working import working
from darby.quantities.amounts import Amount, total, walk
from workbooks import book, generated


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


def test_rows_that_several_lines_add_up_stand_once_and_are_named_by_the_others() -> None:
    rows = [(made.measured("24 ft") * 2).named(f"row {n}") for n in range(12)]
    items = [LineItem(name, total(rows, "length"), {}, Amount.of(50, "ft") / Amount.of(1, "roll"), "x") for name in ("twine", "tape")]  # fmt: skip
    sheet = openpyxl.load_workbook(io.BytesIO(book(made.estimate(items=tuple(items), rules=()))))["Working"]
    found = [row for row in sheet.iter_rows(min_row=5, values_only=True) if row[0]]
    assert [row[0] for row in found if str(row[0]).startswith("row ")] == [row.label for row in rows]
    sums = [row for row in found if row[0] == "length"]
    assert [(row[2], row[4]) for row in sums] == [("=SUM($C$7:$C$18)", None), ("=SUM($C$7:$C$18)", "rows 7 to 18")]


@pytest.mark.parametrize(
    ("terms", "said"),
    [
        (["$C$7", "$C$8"], ["$C$7,$C$8"]),
        (["$C$7", "$C$8", "$C$9", "a", "$C$10", "$D$11", "$C$12"], ["$C$7:$C$9", "a", "$C$10", "$D$11", "$C$12"]),
        (["a", "2*$C$3", "$C$4"], ["a", "2*$C$3", "$C$4"]),
        ([], []),
    ],
)
def test_cells_below_one_another_are_a_stretch(terms: list[str], said: list[str]) -> None:
    assert stretches(terms) == said


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


def test_the_values_formulas_carry_are_darbys() -> None:
    opened = openpyxl.load_workbook(io.BytesIO(handed.table("xlsx")), data_only=True)
    rows = [r for r in opened["Order"].iter_rows(min_row=5, values_only=True) if r[0]]
    assert [(r[1], r[7]) for r in rows] == [(i["product"], i["order"]["count"]) for i in handed.demo_json()["items"]]
