"""Which steps of a working have a line of their own, and how the others are written into the line that uses them."""

from __future__ import annotations

import pytest
from attrs import evolve

from darby.estimate.line_item import LineItem
from darby.estimate.working import longhand, rules_behind, told, working
from darby.quantities.amounts import Amount, Origin, total
from darby.text.spans import Source
from kit import rule

ROWS = Source("job.toml", "one\ntwo\nthree\n")


def row(text: str, line: int = 1, label: str = "") -> Amount:
    start = [0, 4, 8][line - 1]
    origin = Origin(f"row {line}", text, ROWS.span(start, start + 3), "measured")
    return Amount.of(int(text), "each", origin, label) if text.isdigit() else Amount.read(text, origin, label)


def lines(amount: Amount, *rules: object) -> list[str]:
    return [str(line) for line in longhand(amount, rules)]  # type: ignore[arg-type]


def test_a_sum_without_a_name_has_a_line_of_its_own_and_so_have_its_terms() -> None:
    area = total([row("2 ft") * row("3 ft"), row("4 ft") * row("5 ft")]) * row("2")
    assert lines(area) == [
        "2 ft × 3 ft = 6 sq ft",
        "4 ft × 5 ft = 20 sq ft",
        "6 sq ft + 20 sq ft = 26 sq ft",
        "26 sq ft × 2 = 52 sq ft",
    ]


def test_a_rounding_inside_has_a_line_of_its_own_and_tells_what_was_rounded_unless_it_was_whole() -> None:
    assert lines((row("10 ft") / row("3 ft")).round_up() * row("2")) == [
        "10 ft ÷ 3 ft = 3.33, rounded up = 4",
        "4 × 2 = 8",
    ]
    assert lines((row("9 ft") / row("3 ft")).round_up() * row("2")) == ["9 ft ÷ 3 ft = 3", "3 × 2 = 6"]


def test_what_is_named_has_a_line_and_what_is_not_is_written_out() -> None:
    assert lines((row("2 ft") + row("3 ft")).named("both") * row("4 ft")) == [
        "both: 2 ft + 3 ft = 5 ft",
        "5 ft × 4 ft = 20 sq ft",
    ]
    assert lines((row("2 ft") + row("3 ft")) * row("4 ft")) == ["(2 ft + 3 ft) × 4 ft = 20 sq ft"]


@pytest.mark.parametrize(
    ("amount", "line"),
    [
        (row("8 ft") - (row("3 ft") - row("1 ft")), "8 ft − (3 ft − 1 ft) = 6 ft"),
        (row("8 ft") - row("3 ft") - row("1 ft"), "8 ft − 3 ft − 1 ft = 4 ft"),
        (row("8 ft") + row("3 ft") - row("1 ft"), "8 ft + 3 ft − 1 ft = 10 ft"),
        (row("8 ft") * (row("3") * row("2")), "8 ft × (3 × 2) = 48 ft"),
        (row("8 ft") * row("3") * row("2"), "8 ft × 3 × 2 = 48 ft"),
        (row("8 ft") / (row("3") * row("2")), "8 ft ÷ (3 × 2) = 1 ft 4 in"),
        (row("8 ft") / row("4") * row("3"), "8 ft ÷ 4 × 3 = 6 ft"),
        ((row("8 ft") + row("1 ft")) / row("3"), "(8 ft + 1 ft) ÷ 3 = 3 ft"),
        (row("8 ft") * Amount.of(1), "8 ft"),
        (Amount.of(1) * row("8 ft"), "8 ft"),
        (row("8 ft") / Amount.of(1), "8 ft"),
        (row("8 ft") * row("1"), "8 ft × 1 = 8 ft"),
        (row("8 ft") * Amount.of(1, label="layer"), "8 ft × 1 layer = 8 ft"),
    ],
)
def test_brackets_stand_where_they_are_needed_and_a_bare_one_that_nobody_said_is_left_out(
    amount: Amount, line: str
) -> None:
    assert lines(amount) == [line]


@pytest.mark.parametrize(
    ("label", "one", "two"),
    [
        ("faces", "8 ft × 1 face", "8 ft × 2 faces"),
        ("coats", "8 ft × 1 coat", "8 ft × 2 coats"),
        ("count", "8 ft × 1", "8 ft × 2"),
        ("", "8 ft × 1", "8 ft × 2"),
    ],
)
def test_a_number_that_only_counts_is_told_with_its_word(label: str, one: str, two: str) -> None:
    assert lines(row("8 ft") * row("1", label=label)) == [f"{one} = 8 ft"]
    assert lines(row("8 ft") * row("2", label=label)) == [f"{two} = 16 ft"]


def test_a_count_that_a_rule_states_is_told_in_the_word_of_its_kind() -> None:
    coats = rule("coats", "primer", "2")
    assert lines(row("8 ft") * coats.amount, coats) == ["primer coats: 2 coats", "8 ft × 2 coats = 16 ft"]


def test_a_rate_is_one_line_as_its_rule_says_it_and_stands_so_where_it_is_used() -> None:
    cover = rule("coverage", "primer", "250 sq ft", "1 gal", surface="wall")
    use = rule("consumption", "joint compound", "14 lb", "100 sq ft")
    assert lines(row("100 sq ft") / cover.rate, cover) == [
        "primer coverage, wall: 250 sq ft per gal",
        "100 sq ft ÷ 250 sq ft per gal = 0.4 gal",
    ]
    assert lines(row("100 sq ft") * use.rate, use) == [
        "joint compound consumption: 14 lb per 100 sq ft",
        "100 sq ft × 14 lb per 100 sq ft = 14 lb",
    ]
    first, second = longhand(row("100 sq ft") / cover.rate, [cover])
    assert (first.rule, second.rule) == (cover, None)
    assert [o.text for o in second.origins] == ["100 sq ft"]
    assert [o.place for o in first.origins] == [cover.span]
    assert second.made == "100 sq ft ÷ 250 sq ft per gal = 0.4 gal"


def test_of_a_rule_s_numbers_the_one_that_is_used_names_it() -> None:
    sheet = rule("sheet", "gypsum board", "4 ft", by="8 ft")
    assert sheet.by is not None
    assert lines(row("96 ft") / sheet.by, sheet) == ["gypsum board sheet: 8 ft", "96 ft ÷ 8 ft = 12"]
    found = longhand(sheet.amount * sheet.by, [sheet])
    assert [(str(line), line.rule) for line in found] == [("gypsum board sheet: 4 ft × 8 ft = 32 sq ft", sheet)]


def test_of_two_rules_in_one_clause_each_number_has_its_own() -> None:
    one, two = rule("coats", "primer", "2"), rule("coats", "primer", "3")
    origin = one.amount.step.origin
    three = Amount.of(3, "each", origin)
    two = evolve(two, amount=three)
    found = longhand(row("8 ft") * three, [one, two])
    assert found[0].rule is two


def test_conversions_are_told_beside_what_was_said_or_on_a_line_of_their_own() -> None:
    assert lines(row("10 ft") * row("3 m").to("ft")) == ["10 ft × 9.84 ft (3 m) = 98.43 sq ft"]
    assert lines((row("2 ft") * row("3 ft")).to("m2") * row("2")) == ["2 ft × 3 ft = 0.56 m2", "0.56 m2 × 2 = 1.11 m2"]
    assert lines(row("3 m").to("ft").named("wall") * row("2")) == ["wall: 3 m = 9.84 ft", "9.84 ft × 2 = 19.69 ft"]


@pytest.mark.parametrize(("many", "told_"), [(8, " + ".join(["2 ft"] * 8)), (9, "the 9 above added up")])
def test_a_sum_of_up_to_eight_is_written_out_and_a_longer_one_points_at_the_lines_above(many: int, told_: str) -> None:
    found = lines(total([row("2 ft") for _ in range(many)], "all"))
    assert found[-1] == f"all: {told_} = {2 * many} ft"
    assert len(found) == (1 if many == 8 else 10)


def test_places_of_measured_numbers_are_told_once_a_line_of_their_file() -> None:
    area = row("8 ft") * row("2 ft", 2) * row("3", 2)
    (line,) = longhand(area)
    assert [str(o.place) for o in line.origins] == ["job.toml:1:1", "job.toml:2:1"]
    assert line.rule is None
    assert not line.said
    (leaf,) = longhand(row("8 ft", label="length"))
    assert (str(leaf), leaf.said, leaf.made) == ("length: 8 ft", True, "8 ft")


def test_the_working_of_an_item_ends_in_its_need_or_its_order() -> None:
    tape = rule("package", "joint tape", "250 ft", "1 roll")
    item = LineItem("joint tape", row("300 ft"), {}, tape.rate, "joints", (tape,))
    assert [str(line) for line in working(item)] == [
        "joint tape package: 250 ft per roll",
        "order: 300 ft ÷ 250 ft per roll = 1.2 rolls, rounded up = 2 rolls",
    ]
    assert [str(line) for line in working(LineItem("x", row("300 ft").named("length"), {}))] == ["length: 300 ft"]
    double = LineItem("x", row("300 ft"), {}, (Amount.read("2 ft") * row("5")) / Amount.of(1, "roll"))
    assert [str(line) for line in working(double)] == [
        "order: 300 ft ÷ (2 ft × 5 ÷ 1 roll) = 30 rolls",
    ]


def test_the_rules_behind_an_item_are_those_of_its_working_then_those_that_shaped_it() -> None:
    use, tape, shape = (
        rule("consumption", "joint tape", "35 ft", "100 sq ft", file="a.txt"),
        rule("package", "joint tape", "250 ft", "1 roll", file="b.txt"),
        rule("layers", "gypsum board", "1", file="c.txt"),
    )
    item = LineItem("joint tape", (row("200 sq ft") * use.rate).to("ft"), {}, tape.rate, "joints", (shape, tape))
    assert rules_behind(item, [use]) == (use, tape, shape)
    assert rules_behind(item) == (tape, shape)


@pytest.mark.parametrize(
    ("amount", "text"),
    [
        (Amount.of(1, "ft") / 3, "4 in"),
        (Amount.of(5, "ft") / 7, "0.71 ft"),
        (Amount.of(1, "ft") / 768, "1/64 in"),
        (Amount.of(1, "in") / 64, "1/64 in"),
        (Amount.read("2.5 gal"), "2.5 gal"),
        (Amount.read("250 sq ft") / Amount.read("1 gal"), "250 sq ft per gal"),
        (Amount.of(1234567, "lb"), "1,234,567 lb"),
    ],
)
def test_an_amount_is_told_exactly_where_that_is_short(amount: Amount, text: str) -> None:
    assert told(amount) == text


def test_a_working_of_very_many_steps_in_one_another_is_cut_into_lines() -> None:
    amount = row("1")
    for _ in range(3_000):
        amount = (amount + row("1")) * 1
    found = longhand(amount)
    assert 3_000 // 40 <= len(found) <= 3_000
    assert found[-1].amount.value == 3_001
    assert found[-1].made.endswith("3,001")
