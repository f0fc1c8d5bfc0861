"""Tables and drawings that go with a line: what is looked over, and that a guest's are made where its errors are its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction

import pytest

from darby.estimate.attachments import Area, Attachment, Drawing, Table, unsound
from darby.estimate.line_item import LineItem
from darby.quantities.amounts import Amount
from little_jobs import gives, provided, run

FEET = Amount.of(10, "ft")
AREA = Area(Fraction(0), Fraction(0), Fraction(1), Fraction(2))
GOOD: tuple[Attachment, ...] = (
    Table("pieces", ("name", "length"), (("one", FEET), ("two", None))),
    Drawing("wall", FEET, FEET, (AREA,)),
)
BAD: dict[str, tuple[object, str]] = {
    "a short row": (Table("pieces", ("name", "length"), (("one",),)), "not as long as its heads"),
    "a float": (Table("pieces", ("length",), ((0.5,),)), "something other than"),  # type: ignore[arg-type]
    "two measures": (Table("p", ("x",), ((FEET,), (Amount.of(1, "lb"),))), "measures different things"),
    "no head": (Table("pieces", (3,), ()), "no text"),  # type: ignore[arg-type]
    "no length": (Drawing("wall", Amount.of(1, "lb"), FEET, ()), "is no length"),
    "a float side": (Drawing("wall", FEET, FEET, (Area(0.5, 0, 1, 1),)), "not exact"),  # type: ignore[arg-type]
    "a look of its own": (Drawing("wall", FEET, FEET, (Area(*[Fraction(1)] * 4, "pink"),)), "unknown look"),
    "a text": ("wall", "a str where"),
}


@pytest.mark.parametrize("name", BAD)
def test_what_is_no_table_or_drawing_is_told(name: str) -> None:
    one, said = BAD[name]
    assert said in unsound(one)
    done = run(provided(gives(LineItem("glue", Amount.of(1), attachments=lambda: [one]))))  # type: ignore[list-item]
    assert not done.complete
    assert said in done.diagnostics[0].message


def test_what_is_one_is_sound() -> None:
    assert [unsound(one) for one in GOOD] == ["", ""]
    (item,) = run(provided(gives(LineItem("glue", Amount.of(1), attachments=lambda: iter(GOOD))))).items
    assert [*item.attachments()] == [*item.attachments()] == [*GOOD]


def raising() -> Iterable[Attachment]:
    raise ValueError("no picture")


def endless() -> Iterable[Attachment]:
    while True:
        yield GOOD[0]


@pytest.mark.parametrize(("made", "said"), [(raising, "no picture"), (lambda: 3, "TypeError")])
def test_a_guest_that_fails_at_it_costs_its_own_lines(made: Callable[[], Iterable[Attachment]], said: str) -> None:
    done = run(provided(gives(LineItem("glue", Amount.of(1), attachments=made))))
    assert not done.complete
    assert said in done.diagnostics[0].message


def test_what_never_ends_is_cut_off() -> None:
    (item,) = run(provided(gives(LineItem("glue", Amount.of(1), attachments=endless)))).items
    assert len([*item.attachments()]) == 10_000


def test_a_line_has_none_unless_its_trade_hands_some_over() -> None:
    assert [*LineItem("glue", Amount.of(1)).attachments()] == []


def test_a_drawing_is_told_in_words() -> None:
    assert GOOD[1].spoken == "wall, 10 ft by 10 ft: 1 whole"  # type: ignore[union-attr]
