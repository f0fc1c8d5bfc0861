"""Rooms, soffits and corners: what each row measures, added up by hand."""

from __future__ import annotations

import pytest

from darby.job.loader import load
from darby.job.model import Job
from darby.quantities.amounts import Amount
from darby.text.spans import Source


def made(text: str) -> Job:
    job, found = load(Source("job.toml", f'name = "j"\nunits = "us"\n{text}'), ("paint",))
    assert job is not None, found
    return job


def measured(job: Job) -> list[tuple[str, str, str, str]]:
    return [(s.kind, s.name, s.room, s.gross.exact()) for s in job.surfaces]


def cornered(job: Job) -> list[tuple[str, str, str, str]]:
    return [(c.kind, str(c.count), c.height.exact(), c.room) for c in job.corners]


def test_a_room_of_four_walls() -> None:
    job = made('[[rooms]]\nname = "Den"\nlength = "12 ft"\nwidth = "10 ft"\nheight = "8 ft"\npaint = "satin"\n')
    assert measured(job) == [
        ("wall", "Den wall 1", "Den", "96 sq ft"),
        ("wall", "Den wall 2", "Den", "80 sq ft"),
        ("wall", "Den wall 3", "Den", "96 sq ft"),
        ("wall", "Den wall 4", "Den", "80 sq ft"),
        ("ceiling", "Den ceiling", "Den", "120 sq ft"),
    ]
    assert cornered(job) == [("inside", "4", "8 ft", "Den")]
    assert [(s.length, s.height, s.runs, s.level) for s in job.surfaces[1:5:3]] == [
        (Amount.read("10 ft"), Amount.read("8 ft"), 1, True),
        (Amount.read("12 ft"), Amount.read("10 ft"), 1, True),
    ]
    assert {s.marks["paint"] for s in job.surfaces} == {"satin"}


@pytest.mark.parametrize(
    ("outside", "inside", "runs"), [("", "4", 4), ("outside_corners = 0\n", "4", 4), ("outside_corners = 2\n", "6", 8)]
)
def test_a_room_all_around_has_four_more_inside_corners_than_outside_ones_and_a_run_between_each_two(
    outside: str, inside: str, runs: int
) -> None:
    # An L has 5 inside corners, 1 outside one and 6 walls; a T 6, 2 and 8.
    job = made(f'[[rooms]]\nname = "Hall"\nperimeter = "52 ft"\narea = "120 sq ft"\nheight = "8 ft"\n{outside}')
    assert measured(job) == [
        ("wall", "Hall walls", "Hall", "416 sq ft"),
        ("ceiling", "Hall ceiling", "Hall", "120 sq ft"),
    ]
    told = [("outside", "2", "8 ft", "Hall")] if "2" in outside else []
    assert cornered(job) == [("inside", inside, "8 ft", "Hall"), *told]
    walls, lid = job.surfaces
    assert (walls.length, walls.height, walls.runs) == (Amount.read("52 ft"), Amount.read("8 ft"), runs)
    assert (lid.length, lid.height, lid.runs) == (None, None, 1)


@pytest.mark.parametrize(
    "sides",
    ['length = "12 ft"\nwidth = "10 ft"\n', 'perimeter = "44 ft"\n', 'perimeter = "44 ft"\narea = "120 sq ft"\n'],
)
def test_a_room_whose_ceiling_is_left_out_has_its_walls_alone(sides: str) -> None:
    job = made(f'[[rooms]]\nname = "Den"\n{sides}height = "8 ft"\nceiling = false\n')
    assert {s.kind for s in job.surfaces} == {"wall"}
    assert sum(s.gross.value for s in job.surfaces) == 352
    assert cornered(job) == [("inside", "4", "8 ft", "Den")]


@pytest.mark.parametrize(
    ("more", "faces", "corners", "runs"),
    [
        # 12 ft long, 2 ft wide, 1 ft 6 in deep
        ("", "18 sq ft", [("outside", "1", "12 ft", "Den")], 1),
        ("sides = 2\n", "36 sq ft", [("outside", "2", "12 ft", "Den")], 2),
        (
            "sides = 2\nends = 1\n",
            "39 sq ft",
            [("outside", "2", "12 ft", "Den"), ("outside", "1", "2 ft", "Den"), ("outside", "2", "1 ft 6 in", "Den")],
            3,
        ),
        (
            "ends = 2\n",
            "24 sq ft",
            [("outside", "1", "12 ft", "Den"), ("outside", "2", "2 ft", "Den"), ("outside", "2", "1 ft 6 in", "Den")],
            3,
        ),
        ("ends = 0\n", "18 sq ft", [("outside", "1", "12 ft", "Den")], 1),
    ],
)
def test_a_soffit_has_its_underside_the_faces_that_are_seen_and_the_corners_between_them(
    more: str, faces: str, corners: list[tuple[str, str, str, str]], runs: int
) -> None:
    text = '[[soffits]]\nname = "Beam"\nroom = "Den"\nlength = "12 ft"\nwidth = "2 ft"\ndrop = "1 ft 6 in"\npaint = "flat"\n'
    job = made(text + more)
    assert measured(job) == [("ceiling", "Beam underside", "Den", "24 sq ft"), ("wall", "Beam faces", "Den", faces)]
    assert cornered(job) == corners
    assert job.surfaces[1].runs == runs
    assert {s.marks["paint"] for s in job.surfaces} == {"flat"}


def test_corners_that_are_typed_are_kept_in_their_order_with_their_rooms() -> None:
    text = '[[corners]]\nkind = "{}"\ncount = {}\nheight = "{}"\n{}'
    job = made(text.format("outside", 3, "8 ft", 'room = "Den"\n') + text.format("inside", 1, "2.4 m", ""))
    assert cornered(job) == [("outside", "3", "8 ft", "Den"), ("inside", "1", "2.4 m", "")]
    assert [c.span.text for c in job.corners] == ["outside", "inside"]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("sides = 3", 'sides of soffit "Beam" is 3; it is a whole number from 1 to 2'),
        ("sides = 0", 'sides of soffit "Beam" is 0; it is a whole number from 1 to 2'),
        ("ends = 3", 'ends of soffit "Beam" is 3; it is a whole number from 0 to 2'),
        ("ends = -1", 'ends of soffit "Beam" is -1; it is a whole number from 0 to 2'),
    ],
)
def test_a_soffit_has_two_sides_and_two_ends_at_most(line: str, told: str) -> None:
    text = '[[soffits]]\nname = "Beam"\nlength = "12 ft"\nwidth = "2 ft"\ndrop = "1 ft 6 in"\n'
    _, found = load(Source("job.toml", f'name = "j"\nunits = "us"\n{text}{line}\n'))
    assert [(d.code, d.message) for d in found] == [("job-out-of-range", told)]
