"""How dear a layout is beside the same estimate by area, and how it grows: `pytest -m slow tests/benchmarks -s`.

Ratios only, printed beside their goals; what is asserted is the layout and not the clock.
"""

from __future__ import annotations

import math
import random
import time

import pytest

from darby.estimate.model import Estimate
from desk import estimated

pytestmark = pytest.mark.slow

ROOMS = 3_000


def job(rooms: int) -> str:
    chance = random.Random(5)
    return "".join(
        f'[[rooms]]\nname = "room {n}"\nlength = "{chance.randrange(60, 360)} in"\n'
        f'width = "{chance.randrange(60, 300)} in"\nheight = "{chance.choice([96, 108, 102, 120])} in"\n'
        for n in range(rooms)
    )


def timed(text: str, *lines: str) -> tuple[float, Estimate]:
    rules = ", ".join(f'"{line}"' for line in lines)
    begun = time.process_time()
    made = estimated(f"rules = [{rules}]\n{text}")
    return time.process_time() - begun, made


def count(made: Estimate) -> int:
    (found,) = (i for i in made.items if i.product == "gypsum board")
    assert found.count is not None
    return found.count


@pytest.mark.parametrize("mode", ["in the same room", "anywhere in the job"])
def test_a_large_job_laid_out_beside_the_same_by_area(mode: str) -> None:
    text = job(ROOMS)
    area, by_area = timed(text, "Board by area.")
    layout, by_layout = timed(text, "Board by layout.", f"Offcuts: used again {mode}.")
    assert count(by_area) <= count(by_layout)
    print(
        f"\n{ROOMS:,} rooms, offcuts used again {mode}: {layout:.1f} s laid out against {area:.1f} s by area = "
        f"{layout / area:.2f} (goal: 10 or less); {count(by_layout):,} sheets against {count(by_area):,}"
    )


def test_a_layout_grows_with_the_job() -> None:
    times = []
    for rooms in (500, 1_000, 2_000):
        spent, made = timed(job(rooms), "Board by layout.", "Offcuts: used again anywhere in the job.")
        assert count(made) > 0
        times.append((rooms, spent))
    (small, least), (large, most) = times[0], times[-1]
    exponent = math.log(most / least) / math.log(large / small)
    told = ", ".join(f"{rooms:,} rooms {spent:.1f} s" for rooms, spent in times)
    print(f"\n{told}: exponent {exponent:.2f} (goal: 1.2 or less)")
