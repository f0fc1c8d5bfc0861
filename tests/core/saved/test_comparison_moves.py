"""How far a line moved: packages, share of the need, and whether the order moved at all."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.saved.comparison import Moved
from darby.saved.model import Line, Measure


def line(need: str, count: int | None, package: str = "64 lb", container: str = "pail", unit: str = "lb") -> Line:
    value, of = package.split() if package else ("", "")
    held = Measure(Fraction(value), of) if package else None
    return Line("t:p", "t", "p", (), Measure(Fraction(need), unit), count, held, container)


@pytest.mark.parametrize(
    ("before", "after", "ordered", "packages", "share"),
    [
        (line("100", 2), line("300", 5), True, 3, Fraction(2)),
        (line("300", 5), line("100", 2), True, -3, Fraction(-2, 3)),
        (line("100", 2), line("101", 2), False, 0, Fraction(1, 100)),
        (line("100", 2), line("100", 1, "128 lb"), True, None, Fraction(0)),
        (line("100", 2), line("100", 2, container="bag"), True, None, Fraction(0)),
        (line("100", None, ""), line("200", None, ""), False, None, Fraction(1)),
        (line("100", 2), line("200", None, ""), True, None, Fraction(1)),
        (line("0", 0), line("100", 2), True, 2, None),
        (line("100", 2), line("100", 2, unit="kg"), False, 0, None),
        (None, line("100", 2), True, 2, None),
        (line("100", 2), None, True, -2, None),
    ],
)
def test_a_line_that_moved(
    before: Line | None, after: Line | None, ordered: bool, packages: int | None, share: Fraction | None
) -> None:
    moved = Moved(before, after)
    assert (moved.ordered, moved.packages, moved.share) == (ordered, packages, share)
    assert moved.line is (after or before)
    assert moved.id == "t:p"


def test_what_came_or_went_is_largest_then_orders_then_needs_each_by_how_far() -> None:
    gone, new = Moved(line("1", 1), None), Moved(None, line("9", 9))
    far, near = Moved(line("100", 2), line("900", 15)), Moved(line("100", 2), line("150", 3))
    shrunk = Moved(line("100", 2), line("20", 1))
    unknown = Moved(line("0", 0), line("5", 1))
    quiet = Moved(line("100", 2), line("101", 2))
    ranked = sorted([quiet, near, shrunk, far, unknown, gone], key=lambda m: m.size, reverse=True)
    assert ranked == [gone, unknown, far, shrunk, near, quiet]
    assert gone.size == new.size
