"""A firm's own rates: medians and spreads by hand, and lines that the firm's own reader understands."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from darby.bid.history.own_rates import figure, shortened
from finished import hung, rate


def test_the_median_of_jobs_and_not_of_rows() -> None:
    """Two rows of one job are 3,000 sq ft in 36 hours, 1.2; with 1.5 and 1.6 the median is 1.5."""
    one = rate(
        hung(15, 16)
        + "pier,hang gypsum board,1000 sq ft,,20,,wall,,,,,\nPier,hang gypsum board,2000 sq ft,,16,,wall,,,,,\n"
    )
    assert [str(f.value) for f in one.figures] == ["6/5", "3/2", "8/5"]
    assert one.median == Fraction(3, 2)
    assert one.line == "Hang gypsum board: 1.5 hours per 100 sq ft on walls. [median of our 3 finished jobs]"


def test_spread_and_jobs_far_from_the_others() -> None:
    """1.0, 1.2, 1.4, 1.6, 1.8 and 9: quartiles 1.25 and 1.75 (inclusive), fences 0.5 and 2.5, so 9 is far; the median 1.5 keeps it."""
    one = rate(hung(10, 12, 14, 16, 18, 90))
    assert one.middle == (Fraction(5, 4), Fraction(7, 4))
    assert [f.job for f in one.far] == ["job 5"]
    assert one.median == Fraction(3, 2)


def test_of_few_jobs_none_is_far_and_of_fewer_none_is_proposed() -> None:
    assert rate(hung(10, 11, 12, 90)).far == ()
    two = rate(hung(10, 90))
    assert (two.line, two.why_not) == ("", "3 jobs are wanted for a line of one's own, and there are 2.")


def test_what_is_left_out_does_not_count() -> None:
    one = rate(hung(10, 11, 12) + "mill,hang gypsum board,1000 sq ft,,900,,wall,,,,flooded,\n")
    assert (one.jobs, one.median, [row.job for row in one.left_out]) == (3, Fraction(11, 10), ["mill"])
    assert rate("mill,hang gypsum board,1000 sq ft,,900,,wall,,,,flooded,\n").jobs == 0


LINES = {
    # a row of a job, as often as a line wants: the line that is proposed of it
    "joint compound,1000 sq ft,131 lb,,,,,,,,": "Joint compound: 13.1 lb per 100 sq ft.",
    "joint compound,100 m2,64 kg,,,,,,,,": "Joint compound: 0.64 kg per m2.",
    "joint tape,1000 sq ft,380 ft,,,,,,,,": "Joint tape: 38 ft per 100 sq ft.",
    "screws,1000 sq ft,1020 each,,,,,,,,": "Screw: 102 per 100 sq ft.",
    "primer,1100 sq ft,4 gal,,,,,,,,": "Primer: 275 sq ft per gal.",
    "primer,95 m2,10 L,,,wall,,,,,": "Primer: 9.5 m2 per L on walls.",
    "satin paint,1000 sq ft,5 gal,,2,wall,,,,,": "Finish paint, satin: 400 sq ft per gal on walls.",
    "gypsum board,1000 sq ft,1084 sq ft,,,ceiling,,,,,": "Gypsum board waste on ceilings: 8.4 %.",
    "hang drywall,100 m2,,16,,wall,,,,,": "Hang gypsum board: 0.16 hours per m2 on walls.",
    "hang drywall,1000 sq ft,,16,,wall,,,5/8 in,,": "Hang gypsum board: 1.6 hours per 100 sq ft on walls, 5/8 in.",
    "finish joints,1000 sq ft,,21,,ceiling,5,,,,": "Finish joints: 2.1 hours per 100 sq ft on ceilings, level 5.",
    "apply paint,1000 sq ft,,10,2,wall,,spray,,,": "Apply finish paint: 0.5 hours per 100 sq ft on walls by spray.",
    "apply paint,12 each,,6,,door,,,,,": "Apply finish paint: 0.5 hours each on doors.",
    "set corner bead,200 ft,,9,,,,,,,": "Set corner bead: 4.5 hours per 100 ft.",
}


@pytest.mark.parametrize("row", LINES)
def test_the_line_is_one_that_the_firm_could_have_written(row: str) -> None:
    one = rate("".join(f"job {n},{row}\n" for n in range(3)))
    assert one.line.partition(" [")[0] == LINES[row]
    assert not one.why_not


def test_what_no_line_can_say_is_told_and_not_proposed() -> None:
    one = rate("".join(f"job {n},joint compound,1000 sq ft,131 lb,,,,5,,,,\n" for n in range(3)))
    assert not one.line
    assert "is not understood as a line of the firm's own" in one.why_not


def test_rows_in_another_measure_are_told() -> None:
    text = "".join(f"job {n},joint compound,1000 sq ft,131 lb,,,,,,,,\n" for n in range(3))
    one = rate(text + "mill,joint compound,1000 sq ft,9 gal,,,,,,,,\n")
    assert (one.jobs, one.line) == (3, "")
    assert one.why_not.startswith("1 rows are in another measure")


def test_the_days_of_the_jobs_stand_in_the_source() -> None:
    text = "".join(f"job {n},hang gypsum board,1000 sq ft,,15,,wall,,,,,2024-0{n + 1}-01\n" for n in range(3))
    assert rate(text).line.endswith("[median of our 3 finished jobs, 2024-01-01 to 2024-03-01]")


@settings(max_examples=10, deadline=None)
@given(st.permutations(hung(10, 12, 14, 16, 18, 90).strip().split("\n")))
def test_the_order_of_rows_changes_nothing(lines: Sequence[str]) -> None:
    one, same = rate("\n".join(lines) + "\n"), rate(hung(10, 12, 14, 16, 18, 90))
    assert (one.line, one.median, one.middle) == (same.line, same.median, same.middle)
    assert sorted(f.job for f in one.figures) == sorted(f.job for f in same.figures)


@given(st.fractions(min_value=Fraction(1, 10**6), max_value=10**6))
def test_a_figure_keeps_three_digits_and_is_no_further_off_than_half_of_the_last(value: Fraction) -> None:
    short = shortened(value)
    assert abs(short - value) <= value / 200
    assert Fraction(figure(value).replace(",", "")) == short
    assert len(figure(value).replace(",", "").replace(".", "").strip("0")) <= 3
