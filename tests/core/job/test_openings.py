"""Openings lie in what they name: one surface, or whichever walls of a room have space for them."""

from __future__ import annotations

import pytest

from darby.job.loader import load
from darby.job.model import Job
from darby.quantities.amounts import Amount
from darby.text.spans import Source

HEAD = 'name = "j"\nunits = "us"\n'
HOLE = '[[openings]]\nname = "{name}"\nwall = "{wall}"\nwidth = "{width}"\nheight = "{height}"\ncount = {count}\n'
AROUND = '[[rooms]]\nname = "Hall"\nperimeter = "44 ft"\narea = "120 sq ft"\nheight = "8 ft"\n'
FOUR = '[[rooms]]\nname = "Den"\nlength = "12 ft"\nwidth = "10 ft"\nheight = "8 ft"\n'
SOFFIT = '[[soffits]]\nname = "Beam"\nlength = "12 ft"\nwidth = "2 ft"\ndrop = "1 ft"\n'
COLUMN = '[[columns]]\nname = "Post"\nwidth = "1 ft"\ndepth = "1 ft"\nheight = "8 ft"\ncount = 2\n'
DOOR = '[[doors]]\nname = "Leaf"\nwidth = "3 ft"\nheight = "7 ft"\n'
TRIM = '[[trim]]\nname = "Base"\nlength = "40 ft"\nwidth = "6 in"\n'
CEILING = '[[ceilings]]\nname = "Lid"\nlength = "12 ft"\nwidth = "10 ft"\n'


def hole(wall: str, width: str = "1 ft", height: str = "6 in", count: int = 1, name: str = "hole") -> str:
    return HOLE.format(name=name, wall=wall, width=width, height=height, count=count)


def made(text: str) -> Job:
    job, found = load(Source("job.toml", HEAD + text))
    assert job is not None, found
    return job


def holes(text: str) -> list[tuple[str, str, str]]:
    """Surface, opening and how many, of all there are."""
    found = [(s.name, o.name, str(o.count)) for s in made(text).surfaces for o in s.openings]
    assert all(o.surface == s.name for s in made(text).surfaces for o in s.openings)
    return found


@pytest.mark.parametrize(
    ("shape", "named", "surface"),
    [
        (AROUND, "Hall", "Hall walls"),
        (AROUND, "hall  WALLS", "Hall walls"),
        (AROUND, "Hall ceiling", "Hall ceiling"),
        (FOUR, "Den", "Den wall 1"),
        (FOUR, "Den wall 1", "Den wall 1"),
        (FOUR, "Den wall 4", "Den wall 4"),
        (FOUR, "Den ceiling", "Den ceiling"),
        (SOFFIT, "Beam", "Beam underside"),
        (SOFFIT, "Beam underside", "Beam underside"),
        (SOFFIT, "Beam faces", "Beam faces"),
        (COLUMN, "Post", "Post"),
        (DOOR, "Leaf", "Leaf"),
        (TRIM, "Base", "Base"),
        (CEILING, "Lid", "Lid"),
    ],
)
def test_every_name_that_a_shape_gives_leads_to_the_surface_it_stands_for(shape: str, named: str, surface: str) -> None:
    assert holes(shape + hole(named)) == [(surface, "hole", "1")]
    assert holes(FOUR.replace("Den", "Attic") + shape + hole(named)) == [(surface, "hole", "1")]


def test_what_a_room_has_not_has_no_name() -> None:
    for shape in (AROUND, FOUR):
        job, found = load(Source("job.toml", HEAD + shape + "ceiling = false\n" + hole("Hall ceiling")))
        assert job is None
        assert [d.code for d in found] == ["job-opening-nowhere"]


def test_openings_fill_one_wall_after_the_other_and_leave_what_others_took() -> None:
    # Walls of 96, 80, 96 and 80 sq ft. Doors of 21 sq ft: four go into 96, three into 80. Two leave 54 of the first wall,
    # which holds two windows of 24 sq ft; the second wall has all of its 80 and holds three.
    doors, windows = hole("Den", "3 ft", "7 ft", 2, "door"), hole("Den", "6 ft", "4 ft", 5, "window")
    assert holes(FOUR + doors + windows) == [
        ("Den wall 1", "door", "2"),
        ("Den wall 1", "window", "2"),
        ("Den wall 2", "window", "3"),
    ]
    assert holes(FOUR + windows + doors) == [
        ("Den wall 1", "window", "4"),
        ("Den wall 2", "window", "1"),
        ("Den wall 2", "door", "2"),
    ]
    # 14 doors are all that fit: 4 + 3 + 4 + 3
    assert [count for *_, count in holes(FOUR + hole("Den", "3 ft", "7 ft", 14))] == ["4", "3", "4", "3"]
    assert load(Source("job.toml", HEAD + FOUR + hole("Den", "3 ft", "7 ft", 15)))[0] is None


def test_an_opening_that_fits_only_the_longer_walls_goes_there() -> None:
    assert holes(FOUR + hole("Den", "11 ft", "7 ft", 2)) == [("Den wall 1", "hole", "1"), ("Den wall 3", "hole", "1")]


def test_an_opening_in_other_units_is_fitted_by_its_size() -> None:
    # 0.9 x 2.1 m are 20.34 sq ft: four into 96, three into 80.
    assert [count for *_, count in holes(FOUR + hole("Den", "0.9 m", "2.1 m", 7))] == ["4", "3"]


def test_both_faces_of_a_wall_have_its_openings_under_their_own_names() -> None:
    wall = '[[walls]]\nname = "w"\nlength = "10 ft"\nheight = "8 ft"\nother_face = { room = "Bath" }\n'
    assert holes(wall + hole("w", count=2)) == [("w", "hole", "2"), ("w other face", "hole", "2")]


def test_in_a_ceiling_an_opening_lies_the_way_round_in_which_it_fits_and_in_a_wall_it_stands() -> None:
    for width, height in (("11 ft", "9 ft"), ("9 ft", "11 ft"), ("10 ft", "12 ft")):
        assert holes(CEILING + hole("Lid", width, height)) == [("Lid", "hole", "1")]
    wall = '[[walls]]\nname = "w"\nlength = "12 ft"\nheight = "10 ft"\nfaces = 1\n'
    assert holes(wall + hole("w", "11 ft", "9 ft")) == [("w", "hole", "1")]
    assert load(Source("job.toml", HEAD + wall + hole("w", "9 ft", "11 ft")))[0] is None
    assert load(Source("job.toml", HEAD + CEILING + hole("Lid", "11 ft", "11 ft")))[0] is None


def test_what_lies_in_a_measured_area_alone_may_be_as_large_as_that_area() -> None:
    area = '[[walls]]\nname = "w"\narea = "{}"\n'
    assert holes(area.format("21 sq ft") + hole("w", "3 ft", "7 ft")) == [("w", "hole", "1")]
    assert load(Source("job.toml", HEAD + area.format("20 sq ft") + hole("w", "3 ft", "7 ft")))[0] is None


def test_an_opening_without_a_name_is_called_by_its_number_and_counts_once() -> None:
    plain = '[[openings]]\nwall = "Den"\nwidth = "3 ft"\nheight = "7 ft"\n'
    job = made(FOUR + plain + plain.replace("Den", "Den wall 2") + hole("Den"))
    found = [o for s in job.surfaces for o in s.openings]
    assert [(o.name, o.count, o.count.label) for o in found] == [
        ("opening 1", Amount.of(1), "count"),
        ("hole", Amount.of(1), "count"),
        ("opening 2", Amount.of(1), "count"),
    ]
    assert found[0].count.step.origin.key == "opening 1 count"
    assert (found[0].reveal, found[0].sill) == (None, False)


def test_a_square_opening_that_fits_neither_way_is_told_at_its_width() -> None:
    _, found = load(Source("job.toml", HEAD + CEILING + hole("Lid", "11 ft", "11 ft")))
    assert found[0].span is not None
    assert found[0].span.source.line_text(found[0].span.line) == 'width = "11 ft"'
