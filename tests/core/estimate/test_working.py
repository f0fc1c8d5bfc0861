"""The working as lines: what comes first, what is said once, where each number is said to come from."""

from __future__ import annotations

import pytest

import made
from darby.estimate.line_item import LineItem
from darby.estimate.working import longhand, rules_behind, told, working
from darby.quantities.amounts import Amount, Origin, total


@pytest.fixture
def estimate():
    return made.estimate()


def texts(item, estimate) -> list[str]:
    return [str(line) for line in working(item, estimate.rules)]


def test_measured_rows_come_first_and_the_one_rounding_last(estimate):
    assert texts(estimate.items[0], estimate) == [
        "north wall: 24 ft × 8 ft × 1 face = 192 sq ft",
        "partition: 12 ft 6 in × 8 ft × 2 faces = 200 sq ft",
        "area of walls: 192 sq ft + 200 sq ft = 392 sq ft",
        "joint compound consumption: 14 lb per 100 sq ft",
        "need: 392 sq ft × 14 lb per 100 sq ft = 54.88 lb",
        "joint compound package: 64 lb per pail",
        "order: 54.88 lb ÷ 64 lb per pail = 0.86 pails, rounded up = 1 pail",
    ]


def test_every_measured_line_names_the_rows_of_its_numbers(estimate):
    wall = working(estimate.items[0], estimate.rules)[0]
    assert {(o.place.source.name, o.place.line) for o in wall.origins} == {
        ("job.toml", 5),
        ("job.toml", 6),
        ("job.toml", 7),
    }


def test_a_rate_names_its_clause_and_its_rule(estimate):
    line = next(x for x in working(estimate.items[1], estimate.rules) if x.label == "primer coverage")
    assert (str(line.origins[0].place), line.rule.layer.name) == ("addendum-1.txt:1:1", "addendum 1")
    assert line.text == "200 sq ft per gal"


def test_a_line_that_only_counts_says_so_once(estimate):
    assert texts(estimate.items[2], estimate) == ["need: 6"]


def test_the_values_of_the_lines_are_those_of_the_amounts(estimate):
    lines = working(estimate.items[1], estimate.rules)
    assert [line.amount for line in lines][-1] == estimate.items[1].order
    assert next(line.amount for line in lines if line.label == "need") == estimate.items[1].need


def test_a_conversion_is_shown_beside_what_was_said():
    wall = Amount.read("24 ft", made.measured("24 ft").step.origin)
    other = Amount.read("3 m", Origin("job", "3 m", made.JOB.span(0, 4), "measured"))
    [line] = longhand(total((wall, other), "length"))
    assert str(line) == "length: 24 ft + 9.84 ft (3 m) = 33.84 ft"


def test_a_long_sum_lists_its_terms_above_and_not_again():
    rows = [made.measured("24 ft").named(f"row {n}") for n in range(12)]
    lines = longhand(total(rows, "length"))
    assert len(lines) == 13
    assert str(lines[-1]) == "length: the 12 above added up = 288 ft"


def test_what_is_taken_off_inside_a_product_stands_in_brackets():
    area = (made.measured("24 ft") - made.measured("8 ft")) * Amount.of(3)
    assert str(longhand(area)[-1]) == "(24 ft − 8 ft) × 3 = 48 ft"


def test_a_difference_taken_from_another_stands_in_brackets():
    left = made.measured("24 ft")
    assert str(longhand(left - (left - made.measured("8 ft")))[-1]).startswith("24 ft − (24 ft − 8 ft)")


def test_a_step_used_twice_is_worked_out_once():
    side = made.measured("24 ft") + made.measured("8 ft")
    assert [str(line) for line in longhand(side * side)] == ["24 ft + 8 ft = 32 ft", "32 ft × 32 ft = 1,024 sq ft"]


def test_a_sheet_is_told_as_its_rule_says_it():
    sheet = made.said(made.SPEC, "2.01 PRIMER", "sheet", "gypsum board", "4 ft", by="8 ft")
    package = (sheet.amount * sheet.by).named("area of a sheet") / Amount.of(1, "sheet")
    item = LineItem("gypsum board", made.measured("24 ft") * made.measured("8 ft"), {}, package, "board", (sheet,))
    lines = working(item)
    assert [str(line) for line in lines] == [
        "need: 24 ft × 8 ft = 192 sq ft",
        "area of a sheet: 4 ft × 8 ft = 32 sq ft",
        "order: 192 sq ft ÷ 32 sq ft per sheet = 6 sheets",
    ]
    assert lines[1].rule is sheet


def test_a_whole_number_is_not_rounded_and_not_told_twice():
    item = LineItem("clip", made.measured("24 ft") / made.measured("8 ft"), {}, Amount.of(1), "x")
    assert [str(line) for line in working(item)] == ["need: 24 ft ÷ 8 ft = 3", "order: 3"]


def test_goods_counted_singly_have_no_package_line():
    item = LineItem("clip", made.measured("8 ft") / made.measured("24 ft"), {}, Amount.of(1), "x")
    assert [str(line) for line in working(item)] == [
        "need: 8 ft ÷ 24 ft = 0.33",
        "order: 0.33, rounded up = 1",
    ]


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("12 ft 6 in", "12 ft 6 in"),
        ("5/8 in", "5/8 in"),
        ("1/3 gal", "0.33 gal"),
        ("0.45 gal", "0.45 gal"),
        ("54.8765 lb", "54.88 lb"),
    ],
)
def test_amounts_are_told_exactly_where_they_fit(text, shown):
    assert told(Amount.read(text)) == shown


def test_the_rules_behind_an_item_are_told_once_in_order_of_use(estimate):
    assert [r.kind.name for r in rules_behind(estimate.items[1], estimate.rules)] == ["coats", "coverage", "package"]
