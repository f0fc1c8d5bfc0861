"""Hours: which rate holds, over bands of heights too, and what nobody gave a rate for."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from bids import rates
from darby.labor.hours import Hours, by_trade, hours_of, idle
from darby.labor.task import Operation, Task
from darby.quantities.amounts import Amount, leaves

HANG = Operation("hang gypsum board", ("surface", "thickness", "layer", "height"))
PAINT = Operation("apply primer", ("surface", "method"))


def work(
    area: str = "1000 sq ft", height: str = "", *, rising: bool = True, name: str = "hang gypsum board", **about: str
) -> Task:
    return Task(
        name,
        (Amount.read(area),),
        {"surface": "wall", **about},
        Amount.read(height) if height else None,
        rising,
        trade="board",
    )


def timed(one: Task, *lines: str) -> Hours:
    found, told = rates("\n".join(lines), HANG, PAINT)
    assert not told, [d.message for d in told]
    (hours,) = hours_of([one], found)
    return hours


def value(hours: Hours) -> Fraction | None:
    return hours.hours.value if hours.hours is not None else None


def test_a_rate_over_an_area() -> None:
    """1,000 sq ft at 1.8 hours per 100 sq ft: 18 hours."""
    found = timed(work(), "Hang gypsum board: 1.8 hours per 100 sq ft. [our jobs]")
    assert value(found) == 18
    assert not found.missing
    assert str(found.hours) == "18 hours"


def test_a_rate_in_another_unit_than_the_work() -> None:
    """92.90304 m2 are 1,000 sq ft; 0.2 hours per m2 make 18.580608."""
    assert value(timed(work(), "Hang gypsum board: 0.2 hours per m2")) == Fraction("18.580608")


def test_the_narrower_rate_holds() -> None:
    lines = (
        "Hang gypsum board: 1 hour per 100 sq ft",
        "Hang gypsum board: 2 hours per 100 sq ft on walls",
        "Hang gypsum board: 9 hours per 100 sq ft on ceilings",
    )
    assert value(timed(work(), *lines)) == 20
    assert (
        value(
            timed(work(thickness="5/8 in"), *lines, "Hang gypsum board: 3 hours per 100 sq ft on walls, 5/8 in. thick")
        )
        == 30
    )


def test_a_rate_that_asks_for_more_than_the_work_says_does_not_hold() -> None:
    found = timed(work(), "Hang gypsum board: 3 hours per 100 sq ft, 5/8 in. thick")
    assert value(found) is None
    assert found.missing.startswith(
        "How many hours does it take: hang gypsum board, wall (1,000 sq ft)? No rate is one for it."
    )
    assert "There are rates for “Hang gypsum board: 3 hours per 100 sq ft, 5/8 in. thick”" in found.missing


def test_of_equals_the_slower_is_used_and_the_other_told() -> None:
    found = timed(work(), "Hang gypsum board: 1 hour per 100 sq ft", "Hang gypsum board: 2 hours per 100 sq ft")
    assert value(found) == 20
    assert [rate.text for part in found.parts for rate in part.others] == ["Hang gypsum board: 1 hour per 100 sq ft"]
    same = timed(work(), "Hang gypsum board: 1 hour per 100 sq ft", "Hang gypsum board: 100 sq ft per hour")
    assert not [rate for part in same.parts for rate in part.others]


BANDS = (
    "Hang gypsum board: 1 hour per 100 sq ft",
    "Hang gypsum board: 2 hours per 100 sq ft above 10 ft",
    "Hang gypsum board: 3 hours per 100 sq ft above 14 ft",
)


def test_a_wall_is_parted_at_the_ends_of_the_bands() -> None:
    """A wall 16 ft high of 1,600 sq ft: 1,000 up to 10 ft, 400 up to 14 ft, 200 above. 10 + 8 + 6 hours."""
    found = timed(work("1600 sq ft", "16 ft"), *BANDS)
    assert [(str(part.amount), part.band) for part in found.parts] == [
        ("1,000 sq ft", "up to 10 ft"), ("400 sq ft", "from 10 ft to 14 ft"), ("200 sq ft", "from 14 ft to 16 ft"),
    ]  # fmt: skip
    assert value(found) == 24


def test_a_ceiling_lies_in_one_band() -> None:
    assert value(timed(work("100 sq ft", "16 ft", rising=False), *BANDS)) == 3
    assert value(timed(work("100 sq ft", "14 ft", rising=False), *BANDS)) == 2
    assert value(timed(work("100 sq ft", "10 ft", rising=False), *BANDS)) == 1


def test_a_low_wall_is_not_parted() -> None:
    found = timed(work("1600 sq ft", "10 ft"), *BANDS)
    assert value(found) == 16
    assert [part.band for part in found.parts] == [""]


def test_a_height_that_nobody_knows_takes_rates_without_a_band_only() -> None:
    assert value(timed(work(), *BANDS)) == 10
    missing = timed(work(), BANDS[1]).missing
    assert "Nobody knows how high it is." in missing


def test_a_band_without_a_rate_is_a_question_and_the_rest_counts() -> None:
    found = timed(work("1600 sq ft", "16 ft"), BANDS[1])
    assert value(found) == 12
    assert "(1,000 sq ft up to 10 ft)" in found.missing


def test_a_method_that_the_documents_leave_open_is_that_of_the_rate() -> None:
    spray, roller = "Apply primer: 0.3 hours per 100 sq ft by spray", "Apply primer: 0.5 hours per 100 sq ft by roller"
    assert value(timed(work(name="apply primer"), roller)) == 5
    both = timed(work(name="apply primer"), spray, roller)
    assert value(both) == 5
    assert len(both.parts[0].others) == 1
    assert value(timed(work(name="apply primer", method="spray"), spray, roller)) == 3


def test_work_of_another_height_is_one_line_where_no_rate_is_told_apart_by_height() -> None:
    found, _ = rates(BANDS[0], HANG)
    (one,) = hours_of([work("100 sq ft", "8 ft"), work("300 sq ft", "12 ft")], found)
    assert str(one.work.amounts[0]) == "400 sq ft"
    assert value(one) == 4


def test_hours_trace_to_the_line_and_the_measure() -> None:
    found = timed(work(), "Hang gypsum board: 1.8 hours per 100 sq ft. [our jobs]")
    assert found.hours is not None
    assert [str(leaf) for leaf in leaves(found.hours)] == ["1,000 sq ft", "1.8 hours", "100 sq ft"]


def test_what_nothing_has_a_use_for() -> None:
    found, _ = rates("\n".join((*BANDS, "Apply primer: 1 hour per 100 sq ft")), HANG, PAINT)
    done = hours_of([work("100 sq ft", "8 ft")], found)
    assert [rate.text.partition(":")[0] for rate in idle(found, done)] == [
        "Hang gypsum board",
        "Hang gypsum board",
        "Apply primer",
    ]


def test_hours_by_trade() -> None:
    found, _ = rates(BANDS[0], HANG)
    done = hours_of([work(), work(layer="base")], found)
    assert {trade: str(hours) for trade, hours in by_trade(done).items()} == {"board": "20 hours"}


@settings(max_examples=40, deadline=None)
@given(st.permutations(BANDS), st.integers(1, 30))
def test_the_order_of_lines_changes_nothing(lines: Sequence[str], height: int) -> None:
    found = timed(work("1200 sq ft", f"{height} ft"), *lines)
    assert value(found) == value(timed(work("1200 sq ft", f"{height} ft"), *BANDS))


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 40), st.lists(st.integers(1, 40), max_size=4, unique=True))
def test_the_parts_of_a_wall_make_up_the_wall(height: int, ends: list[int]) -> None:
    lines = [
        "Hang gypsum board: 1 hour per 100 sq ft",
        *(f"Hang gypsum board: 1 hour per 100 sq ft above {end} ft" for end in ends),
    ]
    found = timed(work("777 sq ft", f"{height} ft"), *lines)
    assert sum(part.amount.value for part in found.parts) == 777
    assert value(found) == Fraction("7.77")
