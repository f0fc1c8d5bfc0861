"""Work as trades tell it: pieces of surfaces put together."""

from __future__ import annotations

from darby.job.model import Job
from darby.labor.task import Piece, tasks_on
from darby.quantities.amounts import Amount
from darby.quantities.units import AREA, NUMBER_ONLY
from darby.text.spans import Source
from jobs import ceiling, wall

SURFACES = (
    wall("10 ft", "8 ft", name="a", room="Hall"),
    wall("20 ft", "8 ft", name="b", room="Hall"),
    wall("10 ft", "12 ft", name="c"),
    ceiling("10 ft", "20 ft", name="d", room="Hall"),
    ceiling("10 ft", "20 ft", name="e"),
)
JOB = Job("test", "us", SURFACES, source=Source("job.toml", ""))


def pieces(**about: str) -> list[Piece]:
    return [Piece(s, (s.gross,), {"surface": s.kind, **about}) for s in SURFACES]


def test_pieces_alike_are_put_together_and_those_of_another_height_are_not() -> None:
    found = tasks_on("lay underlay", pieces(), JOB)
    assert [(w.about["surface"], str(w.amounts[0]), str(w.height), w.rising) for w in found] == [
        ("wall", "240 sq ft", "8 ft", True),
        ("wall", "120 sq ft", "12 ft", True),
        ("ceiling", "200 sq ft", "8 ft", False),
        ("ceiling", "200 sq ft", "None", False),
    ]


def test_a_ceiling_is_as_high_as_the_highest_wall_of_its_room() -> None:
    raised = Job("test", "us", (*SURFACES, wall("1 ft", "9 ft", name="f", room="Hall")), source=Source("job.toml", ""))
    found = tasks_on("lay underlay", pieces(), raised)
    assert [str(w.height) for w in found if w.about["surface"] == "ceiling"] == ["9 ft", "None"]


def test_work_is_told_in_the_units_of_the_job() -> None:
    (first, *_) = tasks_on("lay underlay", pieces(), Job("test", "metric", SURFACES, source=Source("job.toml", "")))
    assert str(first.amounts[0]) == "22.3 m2"
    assert first.amounts[0] == Amount.read("240 sq ft")


def test_a_measure_by_its_dimension() -> None:
    area, count = Amount.read("40 sq ft"), Amount.of(2)
    (work,) = tasks_on("hang doors", [Piece(SURFACES[0], (area, count), {})], JOB)
    assert work.measured_in(AREA) == area
    assert work.measured_in(NUMBER_ONLY) == count
    assert work.measured_in((("mass", 1),)) is None
