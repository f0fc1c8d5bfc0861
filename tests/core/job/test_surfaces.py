"""What rows of a job measure: shapes besides the plain wall, and every mistake in its place."""

from __future__ import annotations

import pytest

from darby.job.loader import load
from darby.job.model import Job, Surface
from darby.quantities.amounts import Amount
from darby.text.diagnostics import Diagnostic, is_error
from darby.text.spans import Source

MARKS = ("board", "color", "paint")
HEAD = 'name = "test"\nunits = "us"\n'


def made(text: str) -> Job:
    job, found = load(Source("job.toml", HEAD + text), MARKS)
    assert job is not None, found
    return job


def mistakes(text: str) -> list[Diagnostic]:
    job, found = load(Source("job.toml", HEAD + text), MARKS)
    assert job is None
    assert is_error(found)
    return list(found)


def surface(job: Job, name: str) -> Surface:
    [found] = [s for s in job.surfaces if s.name == name]
    return found


@pytest.mark.parametrize(
    ("sides", "area"),
    [
        ('length = "24 ft"\nheight = "8 ft"\npeak = "14 ft"', "264 sq ft"),  # 24 x 8 and a triangle of 24 x 6 / 2
        ('length = "24 ft"\npeak = "6 ft"', "72 sq ft"),
        ('length = "12 ft"\nheight = "8 ft"\nend_height = "15 ft"', "138 sq ft"),
        ('length = "12 ft"\nheight = "15 ft"\nend_height = "8 ft"', "138 sq ft"),
    ],
)
def test_a_gable_and_a_raking_wall_have_their_mean_height(sides: str, area: str) -> None:
    wall = surface(made(f'[[walls]]\nname = "w"\nfaces = 1\n{sides}\n'), "w")
    assert (wall.area, wall.level) == (Amount.read(area), False)


@pytest.mark.parametrize(
    ("width", "rise", "along"),
    [
        ("12 ft", "5 ft", "13 ft"),
        ("4 m", "3 m", "5 m"),
        ("1 m", "1 m", "1.415 m"),
        ("3 ft", "3 ft", "4.243489583333333"),
    ],
)
def test_a_slope_is_measured_along_itself_and_a_root_is_rounded_up(width: str, rise: str, along: str) -> None:
    text = f'[[ceilings]]\nname = "c"\nlength = "10 ft"\nwidth = "{width}"\nrise = "{rise}"\n'
    slope = surface(made(text), "c").height
    assert slope is not None
    run, up = Amount.read(width), Amount.read(rise)
    assert slope.size**2 >= run.size**2 + up.size**2
    step = Amount.read("1/64 in") if run.unit.system == "us" else Amount.read("1 mm")
    assert (slope.size - step.size) ** 2 < run.size**2 + up.size**2
    if along[-1].isalpha():
        assert slope == Amount.read(along)


def test_two_faces_that_differ_are_two_surfaces_with_the_same_openings() -> None:
    job = made(
        '[[walls]]\nname = "party"\nroom = "Hall"\nlength = "10 ft"\nheight = "8 ft"\nboard = "5/8 in. thick"\npaint = "two coats"\n'
        'other_face = { room = "Bath", board = "1/2 in. thick, moisture resistant" }\n'
        '[[openings]]\nwall = "party"\nwidth = "3 ft"\nheight = "7 ft"\n'
    )
    face, other = surface(job, "party"), surface(job, "party other face")
    assert (face.faces.value, face.side, face.room) == (1, 1, "Hall")
    assert (other.faces.value, other.side, other.room) == (1, 2, "Bath")
    assert other.marks == {"board": "1/2 in. thick, moisture resistant", "paint": "two coats"}
    assert other.mark_places["board"].text == "1/2 in. thick, moisture resistant"
    assert [len(s.openings) for s in (face, other)] == [1, 1]
    assert other.openings[0].surface == "party other face"


def test_a_room_by_its_perimeter_has_one_wall_all_around_and_counts_its_corners() -> None:
    # An L-shaped room turns outwards once: five inside corners, one outside.
    job = made('[[rooms]]\nname = "L"\nperimeter = "60 ft"\narea = "180 sq ft"\nheight = "8 ft"\noutside_corners = 1\n')
    walls = surface(job, "L walls")
    assert (walls.area, walls.runs) == (Amount.read("480 sq ft"), 6)
    assert surface(job, "L ceiling").area == Amount.read("180 sq ft")
    assert [(c.kind, c.count.value, c.height) for c in job.corners] == [
        ("inside", 5, Amount.read("8 ft")), ("outside", 1, Amount.read("8 ft"))
    ]  # fmt: skip


def test_a_room_may_leave_its_ceiling_out() -> None:
    job = made('[[rooms]]\nname = "R"\nlength = "10 ft"\nwidth = "8 ft"\nheight = "8 ft"\nceiling = false\n')
    assert [s.kind for s in job.surfaces] == ["wall"] * 4


def test_a_soffit_has_an_underside_faces_and_outside_corners() -> None:
    job = made(
        '[[soffits]]\nname = "s"\nlength = "10 ft"\nwidth = "2 ft"\ndrop = "1 ft"\nsides = 1\nends = 1\nroom = "K"\n'
    )
    assert surface(job, "s underside").kind == "ceiling"
    assert surface(job, "s underside").area == Amount.read("20 sq ft")
    assert surface(job, "s faces").area == Amount.read("12 sq ft")
    assert [(c.count.value, c.height) for c in job.corners] == [
        (1, Amount.read("10 ft")), (1, Amount.read("2 ft")), (1, Amount.read("1 ft"))
    ]  # fmt: skip


def test_columns_are_finished_all_around_and_have_four_corners_each() -> None:
    job = made('[[columns]]\nname = "c"\nwidth = "1 ft"\ndepth = "2 ft"\nheight = "9 ft"\ncount = 3\n')
    assert surface(job, "c").gross == Amount.read("162 sq ft")
    assert [(c.kind, c.count.value) for c in job.corners] == [("outside", 12)]


def test_doors_and_trim_are_surfaces_of_their_own_kinds() -> None:
    job = made(
        '[[doors]]\nname = "d"\nwidth = "3 ft"\nheight = "7 ft"\ncount = 4\n'
        '[[doors]]\nname = "closet"\nwidth = "3 ft"\nheight = "7 ft"\nsides = 1\n'
        '[[trim]]\nname = "base"\nlength = "100 ft"\nwidth = "6 in"\ncount = 2\n'
    )
    assert [(s.kind, s.gross) for s in job.surfaces] == [
        ("door", Amount.read("168 sq ft")), ("door", Amount.read("21 sq ft")), ("trim", Amount.read("100 sq ft"))
    ]  # fmt: skip


def test_reveals_and_prices_are_kept_exact() -> None:
    job = made(
        '[[walls]]\nname = "w"\nlength = "10 ft"\nheight = "8 ft"\nfaces = 1\n'
        '[[openings]]\nwall = "w"\nwidth = "3 ft"\nheight = "4 ft"\nreveal = "5 in"\nsill = true\n'
        '[[prices]]\nproduct = "finish paint"\npackage = "5 gal"\nprice = "149.90"\n'
    )
    [opening] = surface(job, "w").openings
    assert opening.edges == Amount.read("14 ft")
    [price] = job.prices
    assert (price.package, str(price.price.value)) == (Amount.read("5 gal"), "1499/10")


WALL = '[[walls]]\nname = "w"\nlength = "10 ft"\nheight = "8 ft"\n'
_WRONG = [
    ("a peak no higher than the eaves", WALL + 'faces = 1\npeak = "8 ft"\n', "job-out-of-range", "8 ft"),
    ("a peak and an end height", WALL + 'faces = 1\npeak = "9 ft"\nend_height = "9 ft"\n', "job-area-and-sides", "9 ft"),
    ("another face and one face", WALL + 'faces = 1\nother_face = { paint = "x" }\n', "job-faces", "1"),
    ("an unknown key of the other face", WALL + 'other_face = { panit = "x" }\n', "job-unknown-key", "panit"),
    ("a rise without sides", '[[ceilings]]\nname = "c"\narea = "9 sq ft"\nrise = "1 ft"\n', "job-area-and-sides", "1 ft"),
    ("a room by two ways", '[[rooms]]\nname = "r"\nperimeter = "40 ft"\narea = "90 sq ft"\nheight = "8 ft"\nlength = "9 ft"\n',
     "job-area-and-sides", "9 ft"),
    ("a room around without an area", '[[rooms]]\nname = "r"\nperimeter = "40 ft"\nheight = "8 ft"\n', "job-missing-key", "[[rooms]]"),
    ("three sides of a soffit", '[[soffits]]\nname = "s"\nlength = "9 ft"\nwidth = "1 ft"\ndrop = "1 ft"\nsides = 3\n',
     "job-out-of-range", "3"),
    ("a column without a depth", '[[columns]]\nname = "c"\nwidth = "1 ft"\nheight = "8 ft"\n', "job-missing-key", "[[columns]]"),
    ("a sill in words", WALL + 'faces = 1\n[[openings]]\nwall = "w"\nwidth = "1 ft"\nheight = "1 ft"\nsill = "yes"\n',
     "job-wrong-type", "yes"),
    ("a price as a binary fraction", '[[prices]]\nproduct = "p"\npackage = "1 gal"\nprice = 9.99\n', "job-wrong-type", "9.99"),
    ("a price of nothing", '[[prices]]\nproduct = "p"\npackage = "1 gal"\nprice = 0\n', "job-out-of-range", "0"),
    ("a package nobody can read", '[[prices]]\nproduct = "p"\npackage = "large"\nprice = 9\n', "job-unreadable-amount", "large"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "code", "place"), [w[1:] for w in _WRONG], ids=[w[0] for w in _WRONG])
def test_a_mistake_is_told_in_its_place_with_a_way_out(text: str, code: str, place: str) -> None:
    found = mistakes(text)
    assert [d.code for d in found] == [code], [d.message for d in found]
    assert found[0].span is not None
    assert found[0].span.text.strip("\"'") == place
    assert found[0].help
