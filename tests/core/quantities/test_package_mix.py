"""The mix of package sizes, held against a general solver and against trying everything."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from darby.quantities.package_mix import mix

SIZES = st.lists(st.integers(1, 40), min_size=1, max_size=4, unique=True)


def held(counts: tuple[int, ...], sizes: list[Fraction]) -> Fraction:
    return sum((n * s for n, s in zip(counts, sizes, strict=True)), Fraction(0))


def solved(need: int, sizes: list[int], costs: list[int]) -> int:
    """Least total of `costs` that covers the need, by a mixed-integer solver. Loading it takes longer than collecting many tests, so only who solves does."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    answer = milp(
        np.array(costs),
        constraints=LinearConstraint(np.array([sizes]), lb=need),
        integrality=np.ones(len(sizes)),
        bounds=Bounds(0, need + 1),
    )
    assert answer.success
    return round(answer.fun)


@settings(deadline=None, max_examples=150)
@given(st.integers(1, 400), SIZES)
def test_no_mix_leaves_less_over_than_the_one_found(need: int, sizes: list[int]) -> None:
    exact = [Fraction(size) for size in sizes]
    counts = mix(Fraction(need), exact)
    assert held(counts, exact) == solved(need, sizes, sizes) >= need


@settings(deadline=None, max_examples=150)
@given(st.integers(1, 400), SIZES, st.data())
def test_no_mix_costs_less_than_the_one_found(need: int, sizes: list[int], data: st.DataObject) -> None:
    costs = data.draw(st.lists(st.integers(1, 99), min_size=len(sizes), max_size=len(sizes)))
    exact = [Fraction(size) for size in sizes]
    counts = mix(Fraction(need), exact, [Fraction(c) for c in costs])
    assert held(counts, exact) >= need
    assert sum(n * c for n, c in zip(counts, costs, strict=True)) == solved(need, sizes, costs)


@settings(deadline=None, max_examples=60)
@given(st.integers(1, 30), st.lists(st.integers(1, 8), min_size=1, max_size=3, unique=True))
def test_of_mixes_that_leave_the_same_the_fewest_packages_are_taken(need: int, sizes: list[int]) -> None:
    exact = [Fraction(size) for size in sizes]
    every = [c for c in product(*(range(need // size + 2) for size in sizes)) if held(c, exact) >= need]
    best = min((held(c, exact), sum(c)) for c in every)
    counts = mix(Fraction(need), exact)
    assert (held(counts, exact), sum(counts)) == best


@pytest.mark.parametrize(
    ("need", "counts"), [("6", (1, 1)), ("9.5", (2, 0)), ("12.4", (2, 3)), ("0.1", (0, 1)), ("5", (1, 0))]
)
def test_gallons_in_pails_and_cans(need: str, counts: tuple[int, int]) -> None:
    assert mix(Fraction(need), [Fraction(5), Fraction(1)]) == counts


def test_quarts_fill_up_what_gallons_leave() -> None:
    assert mix(Fraction("3.3"), [Fraction(5), Fraction(1), Fraction(1, 4)]) == (0, 3, 2)


def test_sizes_without_a_common_measure_come_in_one_size() -> None:
    ten_litres, gallon = Fraction(10), Fraction("3.785411784")
    counts = mix(Fraction(900), [ten_litres, gallon])
    assert sum(1 for n in counts if n) == 1
    assert held(counts, [ten_litres, gallon]) >= 900


@pytest.mark.parametrize(
    ("need", "costs", "counts"),
    [
        # 900 L are 90 of 10 L with nothing over; 238 gallons of 3.785411784 L hold 900.93 L
        (900, None, (90, 0)),
        (901, None, (0, 239)),  # 904.71 L, and 91 of 10 L hold 910
        (900, (30, 11), (0, 238)),  # 2,618 and not 2,700
        (900, (30, 12), (90, 0)),  # 2,700 and not 2,856
    ],
)
def test_of_sizes_without_a_common_measure_the_one_that_costs_or_leaves_least_is_taken(
    need: int, costs: tuple[int, int] | None, counts: tuple[int, int]
) -> None:
    sizes = [Fraction(10), Fraction("3.785411784")]
    assert mix(Fraction(need), sizes, [Fraction(c) for c in costs] if costs else None) == counts


def test_a_large_need_takes_no_long_search() -> None:
    assert mix(Fraction(10**9 + 3), [Fraction(5), Fraction(1)]) == (2 * 10**8, 3)
