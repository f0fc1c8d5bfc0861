"""Sides, heights and openings outside of what is ordinary; the figures and their sources are in `ordinary.toml`."""

from __future__ import annotations

import tomllib

import pytest

from darby.job.checks.ordinary import far_larger, ranges
from darby.quantities.amounts import Amount
from measures import checks, room, told, wall

DOOR = '[[openings]]\nname = "door"\nwall = "a"\nwidth = "{}"\nheight = "{}"\ncount = 1\n'
HALL = wall("a", "400 ft", "40 ft")


@pytest.mark.parametrize(
    ("rows", "at"),
    [
        (room("Cell", "10 in"), "10 in"),
        (room("Cell", height="800 ft"), "800 ft"),
        (room("Cell", height="9.6 in"), "9.6 in"),
        (room("Cell", height="5 ft"), "5 ft"),
        (room("Cell", "1200 ft"), "1200 ft"),
        (wall("a", "2 in"), "2 in"),
        (wall("a", "10 ft", "96 ft"), "96 ft"),
        (HALL + DOOR.format("30 ft", "7 ft"), "30 ft"),
        (HALL + DOOR.format("3 ft", "2 in"), "2 in"),
        ('[[columns]]\nname = "post"\nwidth = "8 ft"\ndepth = "8 in"\nheight = "8 ft"\n', "8 ft"),
        ('[[soffits]]\nname = "s"\nlength = "9 ft"\nwidth = "14 ft"\ndrop = "1 ft"\n', "14 ft"),
        ('[[doors]]\nname = "d"\nwidth = "28 ft"\nheight = "6 ft 8 in"\n', "28 ft"),
        ('[[trim]]\nname = "t"\nlength = "200 ft"\nwidth = "6 ft"\n', "6 ft"),
        ('[[corners]]\nkind = "inside"\ncount = 2\nheight = "80 ft"\n', "80 ft"),
        (wall("gable", "24 ft", "8 ft", 'peak = "140 ft"\nfaces = 1'), "140 ft"),
    ],
)
def test_a_measure_out_of_the_ordinary_is_shown_at_its_place(rows: str, at: str) -> None:
    assert told(rows) == [("measure-unusual", at)]


@pytest.mark.parametrize(
    "rows",
    [
        room("Closet", "2 ft", "4 ft"), room("Plant", "200 ft", "90 ft", "38 ft"), room("Hut", "3 m", "2.4 m", "2.1 m"),
        wall("return", "6 in", "8 ft"), wall("knee wall", "20 ft", "3 ft 6 in"), HALL + DOOR.format("12 ft", "14 ft"),
        '[[trim]]\nname = "t"\nlength = "90000 ft"\nwidth = "5 in"\n',
    ],
)  # fmt: skip
def test_what_is_ordinary_is_not_asked_about(rows: str) -> None:
    assert told(rows) == []


def test_many_of_one_kind_are_one_check_with_a_few_places() -> None:
    (one,) = checks("".join(room(f"Cell {n}", height="80 ft") for n in range(60)))
    assert one.message == (
        "Cell 0 height is 80 ft, and so are 59 more: height of a room is ordinarily 6 ft 4 in to 40 ft"
    )
    assert len(one.labels) == 4


def test_the_ordinary_is_told_in_the_units_of_the_job() -> None:
    assert checks(room("Cell", height="30 m"), units="metric")[0].message.endswith("ordinarily 1.9 m to 12 m")


def test_a_name_under_checked_settles_it_and_no_other() -> None:
    rows = room("Nave", height="50 ft") + room("Apse", height="60 ft")
    (one,) = checks(rows, 'checked = ["nave"]')
    assert one.message.startswith("Apse height is 60 ft: ")
    assert not checks(rows, 'checked = ["Nave", "Apse"]')


def test_one_surface_far_larger_than_the_rest_is_shown() -> None:
    rows = "".join(wall(f"w{n}", f"{9 + n} ft") for n in range(4))
    assert told(rows) == []
    (one,) = checks(rows + wall("slip", "120 ft"))  # 960 sq ft; eight times 12 ft by 8 ft is 768
    assert (one.code, one.labels[1].span.text) == ("measure-far-larger", "w3")
    assert "slip is 960 sq ft, more than 8 times the next largest wall (w3, 96 sq ft)" in one.message
    assert told(rows + wall("wide", "96 ft")) == []  # eight times, and no more
    assert told(wall("a", "2 ft") + wall("b", "200 ft")) == []  # of two none stands out


def test_every_figure_has_a_source_and_both_systems_say_nearly_the_same() -> None:
    from importlib.resources import files

    text = (files("darby.job.checks") / "ordinary.toml").read_text("utf-8")
    rows = tomllib.loads(text)["ordinary"]
    assert far_larger() == 8
    assert len(ranges()) == sum(len(row["keys"]) for row in rows)
    for row in rows:
        assert len(row["source"]) > 10
        for us, metric in zip(row["us"], row["metric"], strict=True):
            ratio = Amount.read(us).size / Amount.read(metric).size
            assert 4 <= ratio * 5 <= 6, (us, metric)
