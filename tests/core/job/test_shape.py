"""Rows of every shape: what each measures in full, and that a row with anything wrong in it is told and measures nothing."""

from __future__ import annotations

from itertools import combinations

import pytest

from darby.job.loader import load
from darby.job.model import Job
from darby.quantities.amounts import Amount
from darby.text.diagnostics import is_error
from darby.text.spans import Source

HEAD = 'name = "j"\nunits = "us"\n'

SHAPES: dict[str, dict[str, str]] = {
    "walls": {"name": '"w"', "length": '"10 ft"', "height": '"8 ft"', "faces": "2"},
    "walls by area": {"name": '"w"', "area": '"80 sq ft"', "faces": "2"},
    "walls gabled": {"name": '"w"', "length": '"10 ft"', "height": '"8 ft"', "peak": '"12 ft"', "faces": "1"},
    "walls raking": {"name": '"w"', "length": '"10 ft"', "height": '"8 ft"', "end_height": '"7 ft"', "faces": "1"},
    "walls of two faces": {"name": '"w"', "length": '"10 ft"', "height": '"8 ft"', "other_face": '{room = "r"}'},
    "ceilings": {"name": '"c"', "length": '"10 ft"', "width": '"8 ft"'},
    "ceilings sloped": {"name": '"c"', "length": '"10 ft"', "width": '"8 ft"', "rise": '"6 ft"'},
    "rooms": {"name": '"r"', "length": '"12 ft"', "width": '"10 ft"', "height": '"8 ft"', "ceiling": "true"},
    "rooms around": {"name": '"r"', "perimeter": '"44 ft"', "area": '"120 sq ft"', "height": '"8 ft"', "outside_corners": "2"},
    "soffits": {"name": '"s"', "length": '"12 ft"', "width": '"2 ft"', "drop": '"1 ft"', "sides": "2", "ends": "1"},
    "columns": {"name": '"k"', "width": '"1 ft"', "depth": '"2 ft"', "height": '"8 ft"', "count": "3"},
    "doors": {"name": '"d"', "width": '"3 ft"', "height": '"7 ft"', "count": "4", "sides": "2"},
    "trim": {"name": '"t"', "length": '"40 ft"', "width": '"6 in"', "count": "2"},
    "corners": {"kind": '"outside"', "count": "2", "height": '"8 ft"'},
    "openings": {"name": '"o"', "wall": '"w"', "width": '"3 ft"', "height": '"7 ft"', "count": "2", "reveal": '"5 in"', "sill": "true"},
    "prices": {"product": '"p"', "package": '"1 gal"', "price": '"24.50"'},
}  # fmt: skip
WRONG = ("4.5", '""', '"0 ft"', '"0 sq ft"', '"9 elephants"', "true", "[1]", "-3")


def text(shape: str, row: dict[str, str]) -> str:
    table = shape.split(maxsplit=1)[0]
    under = f"[[walls]]\n{written(SHAPES['walls'])}" if table == "openings" else ""
    return f"{HEAD}{under}[[{table}]]\n{written(row)}"


def written(row: dict[str, str]) -> str:
    return "".join(f"{key} = {value}\n" for key, value in row.items())


def loaded(shape: str, row: dict[str, str]) -> tuple[Job | None, bool]:
    job, found = load(Source("job.toml", text(shape, row)), ("paint",))
    assert (job is None) is is_error(found)
    return job, is_error(found)


@pytest.mark.parametrize("shape", SHAPES)
def test_a_row_with_any_two_values_wrong_or_left_out_is_told_and_makes_no_job_and_nothing_raises(shape: str) -> None:
    right = SHAPES[shape]
    assert loaded(shape, right)[1] is False
    told = 0
    for keys in (*((key,) for key in right), *combinations(right, 2)):
        for wrong in ("", *WRONG):
            row = {
                key: wrong if key in keys else value for key, value in right.items() if not (key in keys and not wrong)
            }
            _, error = loaded(shape, row)
            told += error
    assert told > 5 * len(right)


@pytest.mark.parametrize("shape", [s for s in SHAPES if s not in ("corners", "openings", "prices")])
def test_every_shape_bears_its_room_and_the_marks_of_trades_with_their_places(shape: str) -> None:
    room = {} if shape.startswith("rooms") else {"room": '"Vault"'}
    job, _ = loaded(shape, {**SHAPES[shape], **room, "paint": '"satin"'})
    assert job is not None
    assert job.surfaces
    here = SHAPES[shape]["name"].strip('"') if shape.startswith("rooms") else "Vault"
    for surface in job.surfaces:
        assert surface.room == ("r" if surface.side == 2 else here)
        assert dict(surface.marks) == {"paint": "satin"}
        assert surface.mark_places["paint"].text == "satin"
        assert surface.span.text in (SHAPES[shape]["name"].strip('"'), '{room = "r"}')
    assert {c.room for c in job.corners} <= {here}
    if "other_face" not in SHAPES[shape]:
        plain, _ = loaded(shape, SHAPES[shape])
        assert plain is not None
        assert all(dict(s.marks) == {} for s in plain.surfaces)


@pytest.mark.parametrize(
    ("shape", "surfaces"),
    [
        # kind, name, gross, length, height, runs, level
        ("walls", [("wall", "w", "160 sq ft", "10 ft", "8 ft", 1, True)]),
        ("walls by area", [("wall", "w", "160 sq ft", "", "", 1, True)]),
        ("walls gabled", [("wall", "w", "100 sq ft", "10 ft", "12 ft", 1, False)]),  # 10 x (8 + 12) / 2
        ("walls raking", [("wall", "w", "75 sq ft", "10 ft", "8 ft", 1, False)]),  # 10 x (8 + 7) / 2
        (
            "walls of two faces",
            [("wall", "w", "80 sq ft", "10 ft", "8 ft", 1, True), ("wall", "w other face", "80 sq ft", "10 ft", "8 ft", 1, True)],
        ),
        ("ceilings", [("ceiling", "c", "80 sq ft", "10 ft", "8 ft", 1, True)]),
        ("ceilings sloped", [("ceiling", "c", "100 sq ft", "10 ft", "10 ft", 1, True)]),  # 6, 8 and 10 ft
        ("columns", [("wall", "k", "144 sq ft", "", "", 1, False)]),  # girth 6 ft, 8 ft, 3 of them
        ("doors", [("door", "d", "168 sq ft", "", "", 1, False)]),  # 21 sq ft, 4 of them, 2 sides
        ("trim", [("trim", "t", "40 sq ft", "", "", 1, False)]),
    ],
)  # fmt: skip
def test_what_each_shape_measures(shape: str, surfaces: list[tuple[object, ...]]) -> None:
    job, _ = loaded(shape, SHAPES[shape])
    assert job is not None
    assert [
        (
            s.kind,
            s.name,
            s.gross.exact(),
            *("" if a is None else a.exact() for a in (s.length, s.height)),
            s.runs,
            s.level,
        )
        for s in job.surfaces
    ] == surfaces
    assert [s.side for s in job.surfaces] == [1, 2][: len(surfaces)]


def test_what_is_left_out_is_one_and_of_a_door_both_sides() -> None:
    for shape, left, gross in (
        ("columns", "count", 48),
        ("doors", "count", 42),
        ("doors", "sides", 168),
        ("trim", "count", 20),
    ):
        job, _ = loaded(shape, {key: value for key, value in SHAPES[shape].items() if key != left})
        assert job is not None
        assert job.surfaces[0].gross.value == gross
    job, _ = loaded("doors", {**SHAPES["doors"], "sides": "1"})
    assert job is not None
    assert job.surfaces[0].gross.value == 84


def test_columns_have_four_outside_corners_each() -> None:
    job, _ = loaded("columns", SHAPES["columns"])
    assert job is not None
    assert [(c.kind, c.count, c.height.exact()) for c in job.corners] == [("outside", Amount.of(12), "8 ft")]


def test_a_gable_without_eaves_is_a_triangle() -> None:
    job, _ = loaded("walls gabled", {key: value for key, value in SHAPES["walls gabled"].items() if key != "height"})
    assert job is not None
    assert job.surfaces[0].area == Amount.read("60 sq ft")  # 10 x 12 / 2
    assert job.surfaces[0].height == Amount.read("12 ft")


def test_a_raking_wall_is_as_high_as_its_higher_end_whichever_that_is() -> None:
    for end, high in (("7 ft", "8 ft"), ("9 ft", "9 ft"), ("8 ft", "8 ft")):
        job, _ = loaded("walls raking", {**SHAPES["walls raking"], "end_height": f'"{end}"'})
        assert job is not None
        assert job.surfaces[0].height == Amount.read(high)


@pytest.mark.parametrize("faces", ["faces = 1\n", 'room = "r"\n', 'area = "80 sq ft"\n', "other_face = {}\n", ""])
def test_the_faces_of_a_wall_are_asked_for_where_nothing_tells_them(faces: str) -> None:
    sides = "" if "area" in faces else 'length = "10 ft"\nheight = "8 ft"\n'
    job, found = load(Source("job.toml", f'{HEAD}[[walls]]\nname = "w"\n{sides}{faces}'))
    assert [d.code for d in found] == ([] if faces else ["job-missing-key"])
    if job is not None:
        assert [s.faces for s in job.surfaces] == [Amount.of(1)] * (2 if "other" in faces else 1)


def test_marks_of_the_other_face_beat_those_of_the_wall_and_its_room_is_the_wall_s_where_it_has_none() -> None:
    row = {**SHAPES["walls"], "room": '"Den"', "paint": '"flat"', "other_face": '{paint = "gloss"}'}
    job, _ = loaded("walls", row)
    assert job is not None
    assert [(s.room, s.marks["paint"], s.mark_places["paint"].text) for s in job.surfaces] == [
        ("Den", "flat", "flat"),
        ("Den", "gloss", "gloss"),
    ]
    job, _ = loaded("walls", {**row, "other_face": "{}"})
    assert job is not None
    assert [(s.room, s.marks["paint"], s.span.text) for s in job.surfaces] == [("Den", "flat", "w")] * 2
