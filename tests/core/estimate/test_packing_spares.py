"""Spare stock and mock-ups as lines of their own: whole packages, one for each sort, with the clause. Worked by plain arithmetic."""

from __future__ import annotations

import pytest

from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.rules.rule import SPECIFICATION, addendum
from darby.text.spans import Source
from desk import estimated, item

WALL = '[[walls]]\nname = "w"\narea = "{}"\n'
ROOM = '[[rooms]]\nname = "Office"\nlength = "20 ft"\nwidth = "10 ft"\nheight = "10 ft"\n'
PAINT = "Primer: 400 sq ft per gallon.\nFinish paint: 400 sq ft per gallon.\nFinish paint comes in 5 gal pails and 1 gal cans.\n"


def spare(made: Estimate, use: str = "spare stock") -> list[tuple[str, str, str, int | None, str]]:
    """Product, look or thickness, need, packages and their name of every line that is left."""
    return sorted(
        (i.product, i.pool.get("sheen", i.pool.get("thickness", "")), str(i.need), i.count, i.container)
        for i in made.items
        if i.pool.get("use") == use
    )


def test_ten_sheets_of_each_type_are_ten_of_each() -> None:
    # walls 600 sq ft of 5/8, ceiling 200 of 1/2: 19 and 7 sheets for the work, 10 more of each
    made = estimated(
        ROOM, "Gypsum board: 5/8 in. thick on walls, 1/2 in. thick on ceilings.\nFurnish 10 extra sheets of each type."
    )
    assert spare(made) == [
        ("gypsum board", "1/2 in", "320 sq ft", 10, "sheet"),
        ("gypsum board", "5/8 in", "320 sq ft", 10, "sheet"),
    ]
    assert [i.count for i in made.items if i.product == "gypsum board" and "use" not in i.pool] == [7, 19]


def test_a_gallon_of_each_color_is_the_can_that_leaves_nothing_over() -> None:
    made = estimated(
        ROOM, f"{PAINT}Walls: two coats eggshell.\nCeilings: one coat flat.\nLeave 1 gallon of each color."
    )
    assert spare(made) == [
        ("finish paint", "eggshell", "1 gal", 1, "can"),
        ("finish paint", "flat", "1 gal", 1, "can"),
    ]
    line = next(i for i in made.items if i.pool.get("use"))
    assert "spec.txt, line 6" in line.notes[0]
    assert [r.span.text for r in line.rules] == ["1 gallon"]


def test_a_paint_in_two_sizes_of_package_is_one_sort() -> None:
    # 2,600 sq ft x 2 / 400 = 13 gal: two pails and three cans; one gallon of it is left
    made = estimated(WALL.format("2600 sq ft"), f"{PAINT}Walls: two coats eggshell.\nLeave 1 gallon of each color.")
    assert spare(made) == [("finish paint", "eggshell", "1 gal", 1, "can")]


def test_a_share_of_each_is_one_of_what_is_ordered() -> None:
    # 2,600 x 2 / 400 = 13 gal; 10 % are 1.3 gal, two cans
    made = estimated(
        WALL.format("2600 sq ft"), f"{PAINT}Walls: two coats eggshell.\nExtra stock: 10 percent of each color."
    )
    assert spare(made) == [("finish paint", "eggshell", "1.3 gal", 2, "can")]


def test_pails_of_compound() -> None:
    made = estimated(
        WALL.format("1000 sq ft"), "Gypsum board: one layer.\nProvide 2 additional pails of joint compound."
    )
    assert spare(made) == [("joint compound", "", "128 lb", 2, "pail")]


def test_a_mock_up_is_built_once_of_what_is_used_most() -> None:
    # 100 sq ft in sheets of 32: 4; walls have more board than the ceiling
    made = estimated(
        ROOM,
        "Gypsum board: 5/8 in. thick on walls, 1/2 in. thick on ceilings.\nMock-up: Build one gypsum board mock-up of at least 100 sq ft.",
    )
    assert spare(made, "mock-up") == [
        ("gypsum board", "5/8 in", "100 sq ft", 4, "sheet"),
        ("screw", "", "100", 100, ""),  # 1,000 to 1,000 sq ft
    ]


def mocked(clause: str, spec: str = "") -> list[tuple[str, str, int | None]]:
    base = "Gypsum board: 5/8 in. thick on walls, 1/2 in. thick on ceilings.\nWalls: two coats eggshell.\nCeilings: one coat flat.\n"
    made = estimated(ROOM, f"{PAINT}{base}{spec}{clause}\n")
    return [(product, need, count) for product, _, need, count, _ in spare(made, "mock-up")]


@pytest.mark.parametrize(
    ("clause", "takes"),
    [
        ("Mock-up: Build a gypsum board mock-up of 100 sq ft.", []),
        ("Mock-up: Build a gypsum board mock-up of 100 sq ft with joints finished to Level 4.", ["compound", "tape"]),
        ("Mock-up: Build a gypsum board mock-up of 100 sq ft, taped and primed.", ["primer", "compound", "tape"]),
        (
            "Mock-up: Build a gypsum board mock-up of 100 sq ft, joint treatment, primer and finish coats included.",
            ["paint", "primer", "compound", "tape"],
        ),
        ("Mock-up: Build a gypsum board mock-up of 100 sq ft, unpainted.", []),
    ],
)
def test_a_mock_up_takes_the_goods_that_its_clause_names(clause: str, takes: list[str]) -> None:
    """Of 100 sq ft: 4 sheets of 32 with 100 screws; 14 lb at 14 per 100; 35 ft at 35; 100 / 400 gal of primer; eggshell 2 x 100 / 400."""
    worked = {
        "paint": ("finish paint", "0.5 gal", 1),
        "board": ("gypsum board", "100 sq ft", 4),
        "compound": ("joint compound", "14 lb", 1),
        "tape": ("joint tape", "35 ft", 1),
        "primer": ("primer", "0.25 gal", 1),
        "screw": ("screw", "100", 100),
    }
    assert mocked(clause) == sorted(worked[one] for one in ("board", "screw", *takes))


def test_what_a_mock_up_takes_is_the_average_of_its_lines_where_they_differ() -> None:
    """600 sq ft of walls at Level 4, 14 lb per 100; the 200 of the ceiling take a skim of 7 besides: 84 + 42 = 126 lb over 800, 15.75 per 100."""
    found = mocked(
        "Mock-up: Build a gypsum board mock-up of 100 sq ft, joints finished.", "Ceilings: Level 5.\nWalls: Level 4.\n"
    )
    assert ("joint compound", "15.75 lb", 1) in found


def test_paint_in_two_sizes_of_package_is_one_sort_of_a_mock_up_too() -> None:
    """2,600 sq ft of walls: 13 gal in pails and cans, over one area; 100 sq ft of it in two coats are 0.5 gal."""
    made = estimated(
        WALL.format("2600 sq ft"),
        f"{PAINT}Gypsum board: one layer.\nWalls: two coats eggshell.\nMock-up: Build a gypsum board mock-up of 100 sq ft, painted.",
    )
    assert ("finish paint", "eggshell", "0.5 gal", 1, "can") in spare(made, "mock-up")
    line = next(i for i in made.items if i.pool.get("use") == "mock-up" and i.product == "finish paint")
    assert line.notes == (
        "spec.txt, line 6, asks for it: of a mock-up, what its clause names is ordered, and what that is put up with.",
    )


def test_an_addendum_changes_what_is_left() -> None:
    job, _ = load(Source("job.toml", f'name = "j"\nunits = "us"\n{WALL.format("400 sq ft")}'))
    assert job is not None
    spec = "SECTION 09 91 23\nINTERIOR PAINTING\n1.03 MAINTENANCE MATERIAL\nA. Furnish 1 gallon of each color.\n3.01 SCHEDULE\nA. Walls: two coats flat.\n"
    change = 'ADDENDUM NO. 1\n1. SECTION 09 91 23\na. Paragraph 1.03.A: Revise "1 gallon" to read "2 gallons".\n'
    papers = [(Source("spec.txt", spec), SPECIFICATION), (Source("a.txt", change), addendum(1))]
    assert [line[2:4] for line in spare(estimate(job, papers, load_plugins()))] == [("2 gal", 2)]


@pytest.mark.parametrize("said", ["Leave 1 gallon of each color.", "Furnish 10 extra sheets of each type."])
def test_what_is_not_ordered_is_not_left_either(said: str) -> None:
    other = "Walls: two coats eggshell.\n" if "sheets" in said else "Gypsum board: one layer.\n"
    made = estimated(WALL.format("400 sq ft"), other + said)
    assert spare(made) == []
    assert item(made, "finish paint" if "sheets" in said else "gypsum board").count


def test_what_is_left_of_a_thickness_or_a_mark_is_of_that_sort_alone() -> None:
    types = "Type A: 5/8 in. gypsum board.\nType B: 1/2 in. moisture resistant gypsum board.\nWalls: Type A.\nCeilings: Type B.\n"
    (by_mark,) = spare(estimated(ROOM, f"{types}Leave 4 full sheets of Type B board."))
    (by_thickness,) = spare(estimated(ROOM, f"{types}Turn over 3 sheets of 5/8 in. board."))
    assert by_mark == ("gypsum board", "1/2 in", "128 sq ft", 4, "sheet")
    assert by_thickness == ("gypsum board", "5/8 in", "96 sq ft", 3, "sheet")


@pytest.mark.parametrize(
    ("left", "of"),
    [
        ("Leave 1 gallon of each wall paint.", ["eggshell"]),
        (
            "Leave 1 gallon of each ceiling paint.",
            ["eggshell", "flat"],
        ),  # eggshell goes on the ceiling of the store too
        ("Leave 1 gallon of each color of flat and gloss.", ["flat", "gloss"]),
        ("Leave 1 gallon of each color.", ["eggshell", "flat", "gloss"]),
    ],
)
def test_what_is_left_of_one_look_or_kind_of_surface_is_of_no_other(left: str, of: list[str]) -> None:
    job = ROOM + ROOM.replace("Office", "Store") + '[[doors]]\nname = "d"\nwidth = "3 ft"\nheight = "7 ft"\ncount = 4\n'
    paper = "Walls: two coats eggshell.\nCeilings: one coat flat.\nStore ceiling: two coats eggshell.\nDoors: two coats gloss."
    assert [line[1] for line in spare(estimated(job, f"{PAINT}{paper}\n{left}"))] == of
