"""All checks together: in the order of the job, settled by name, never an error and never slow."""

from __future__ import annotations

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.job.checks.all import checks_of
from darby.text.diagnostics import Severity
from measures import checks, job_of, room, told, wall


def test_checks_stand_in_the_order_of_the_job() -> None:
    rows = wall("a", "2 in") + room("Cell", height="90 ft") + wall("b", "3 ft", "90 ft")
    assert [at for _, at in told(rows)] == ["2 in", "90 ft", "90 ft"]


def test_a_name_that_is_nowhere_settles_nothing_and_is_told() -> None:
    (one,) = checks(room("Nave"), 'checked = ["Nav"]')
    assert (one.code, one.span.text if one.span else "") == ("measure-settled", "Nav")
    assert one.help.startswith("Did you mean Nave? ")
    assert not checks(room("Nave"), 'checked = ["Nave"]')


@given(
    st.lists(
        st.tuples(st.sampled_from(["1 in", "7 ft", "12 ft", "900 ft"]), st.sampled_from(["8 ft", "70 ft", "3 m"])),
        max_size=9,
    )
)
def test_a_check_is_a_warning_with_a_place_in_the_job_and_a_way_out(sides: list[tuple[str, str]]) -> None:
    job = job_of("".join(wall(f"w{n}", *pair) for n, pair in enumerate(sides)))
    for one in checks_of(job):
        assert one.severity is Severity.WARNING
        assert one.help
        assert one.span is not None
        assert one.span.source is job.source


@pytest.mark.slow
def test_what_it_takes_grows_with_the_rows_and_no_faster() -> None:
    def seconds(rows: int) -> float:
        text = "".join(
            room(f"Room {n}", f"{9 + n % 9} ft", more=f'color = "{"abcdefghij"[n % 10] * 5}"') for n in range(rows)
        )
        job = job_of(text)
        begun = time.process_time()
        checks_of(job)
        return time.process_time() - begun

    assert seconds(2_000) < 20 * max(seconds(250), 0.005)
