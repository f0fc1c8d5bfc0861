"""A row of a schedule is the row of a job file that says the same, as another reader of CSV reads it."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.job.loader import KINDS as LOADED
from darby.job.loader import load
from darby.job.model import Job
from darby.job.schedules.csv_schedules import columns_of
from darby.saved.row_mixture import rows_of
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source, Span

KEYS = [key for keys in LOADED.values() for key in keys]
HEAD = 'name = "j"\nunits = "us"\n'
KINDS = {
    "wall": ("walls", {"name": "w", "length": "10 ft", "height": "8 ft", "faces": 2, "room": "Den", "paint": "satin, two coats"}),
    "ceiling": ("ceilings", {"name": "c", "length": "10 ft", "width": "8 ft", "rise": "6 ft"}),
    "room": ("rooms", {"name": "101", "length": "12 ft", "width": "10 ft", "height": "8 ft", "ceiling": False}),
    "soffit": ("soffits", {"name": "s", "length": "12 ft", "width": "2 ft", "drop": "1 ft", "sides": 2, "ends": 1}),
    "column": ("columns", {"name": "k", "width": "1 ft", "depth": "2 ft", "height": "8 ft", "count": 3}),
    "corner": ("corners", {"kind": "outside", "count": 2, "height": "8 ft"}),
    "trim": ("trim", {"name": "t", "length": "40 ft", "width": "6 in", "count": 2}),
    "door": ("doors", {"name": "d", "width": "3 ft", "height": "7 ft", "count": 4, "sides": 1}),
    "opening": ("openings", {"name": "o", "wall": "w", "width": "3 ft", "height": "7 ft", "count": 2, "reveal": "5 in", "sill": True}),
}  # fmt: skip
WALL = '[[walls]]\nname = "w"\nlength = "30 ft"\nheight = "8 ft"\nfaces = 2\n'


def read(text: str, more: str = "") -> tuple[Job | None, tuple[Diagnostic, ...]]:
    def opened(name: str, _at: Span) -> tuple[Source, tuple[Diagnostic, ...]]:
        return Source(name, text), ()

    return load(Source("job.toml", f'{HEAD}schedules = ["rows.csv"]\n{more}'), ("paint",), opened)


def written(*rows: dict[str, object], parting: str = ",") -> str:
    """The rows as the standard library writes them."""
    out = io.StringIO()
    keys = list(dict.fromkeys(key for row in rows for key in row))
    writer = csv.DictWriter(out, keys, delimiter=parting, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def told(job: Job) -> list[tuple[object, ...]]:
    """All that a job measures, but for where it was said."""
    found: list[tuple[object, ...]] = [
        (s.kind, s.name, s.room, s.area, s.faces, s.length, s.height, tuple(s.marks.items()), s.runs, s.level,
         tuple((o.name, o.width, o.height, o.count, o.reveal, o.sill) for o in s.openings))
        for s in job.surfaces
    ]  # fmt: skip
    return found + [(c.kind, c.count, c.height, c.room) for c in job.corners]


def toml(value: object) -> str:
    return f'"{value}"' if isinstance(value, str) else str(value).lower()


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("called", ["{}", "{}s", "{}S", "{}".upper()])
def test_a_row_measures_what_the_same_row_of_a_job_file_does(kind: str, called: str) -> None:
    table, row = KINDS[kind]
    under = WALL if kind == "opening" else ""
    in_file, _ = load(
        Source("job.toml", f"{HEAD}{under}[[{table}]]\n" + "".join(f"{k} = {toml(v)}\n" for k, v in row.items())),
        ("paint",),
    )
    assert in_file is not None
    flags = {True: "yes", False: "NO"}
    cells = {k: flags[v] if isinstance(v, bool) else v for k, v in row.items()}
    in_schedule, found = read(written({"what": called.format(kind), **cells}), under)
    assert in_schedule is not None, found
    assert told(in_schedule) == told(in_file)


@pytest.mark.parametrize(
    ("cells", "kind"),
    [
        ({"wall": "w", "width": "3 ft", "height": "7 ft"}, "opening"),
        ({"name": "a", "length": "9 ft", "width": "8 ft", "height": "7 ft"}, "room"),
        ({"name": "a", "perimeter": "40 ft", "height": "7 ft", "area": "96 sq ft"}, "room"),
        ({"name": "a", "length": "9 ft", "height": "7 ft", "faces": "1"}, "wall"),
        ({"name": "a", "length": "9 ft", "width": "8 ft"}, "ceiling"),
    ],
)
def test_what_a_row_is_follows_from_its_filled_cells(cells: dict[str, object], kind: str) -> None:
    every = ("name", "wall", "length", "width", "height", "faces", "perimeter", "area")
    text = written({key: cells.get(key, "") for key in every})
    job, found = read(text, WALL)
    assert job is not None, found
    rows = rows_of(Source("job.toml", HEAD + WALL), [Source("rows.csv", text)])
    assert [row.table for row in rows] == ["walls", f"{kind}s"]


@pytest.mark.parametrize(
    ("cell", "faces"),
    [
        ("1", 1),
        ("2", 2),
        (" 2 ", 2),
        ("two", 2),
        ("Both sides", 2),
        ("1 side", 1),
        ("1.0", None),
        ("²", None),
        ("0000000002", None),
        ("-1", None),
    ],
)
def test_a_count_is_written_in_plain_digits(cell: str, faces: int | None) -> None:
    job, found = read(f"name,length,height,faces\nw,10 ft,8 ft,{cell}\n")
    assert (job.surfaces[0].faces.value if job else None) == faces
    assert [d.code for d in found] == ([] if faces else ["job-faces"])


@pytest.mark.parametrize(("cell", "ceilings"), [("x", 1), ("TRUE", 1), ("yes", 1), ("", 1), ("no", 0), ("False", 0)])
def test_a_flag_is_written_in_any_usual_way(cell: str, ceilings: int) -> None:
    job, _ = read(f"name,length,width,height,ceiling\nr,12 ft,10 ft,8 ft,{cell}\n")
    assert job is not None
    assert len(job.of_kind("ceiling")) == ceilings
    assert read("name,length,width,height,ceiling\nr,12 ft,10 ft,8 ft,perhaps\n")[0] is None


CELL = st.text(st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp"]), max_size=8).map(str.strip)


@given(
    st.lists(st.tuples(CELL.filter(bool), CELL, CELL), min_size=1, max_size=4), st.sampled_from(",;\t"), st.booleans()
)
def test_cells_are_those_that_another_reader_finds(
    rows: list[tuple[str, str, str]], parting: str, blank_lines: bool
) -> None:
    out = io.StringIO()
    writer = csv.writer(out, delimiter=parting, lineterminator="\n")
    writer.writerow(["what", "name", "length", "paint"])
    for row in rows:
        writer.writerow(["wall", *row])
        out.write("\n" * blank_lines)
    text = out.getvalue()
    wanted = list(csv.DictReader(io.StringIO(text), delimiter=parting))
    found = rows_of(Source("job.toml", HEAD), [Source("rows.csv", text)])
    clean = [{key: value.strip() for key, value in row.items() if value.strip() and key != "what"} for row in wanted]
    assert [dict(row.data) for row in found] == clean


def test_columns_are_those_of_the_first_line_that_says_something_in_any_spelling() -> None:
    assert columns_of(Source("rows.csv", '\n\n Name ;"Outside  Corners";;paint\n1;2;3\n'), KEYS) == [
        "name",
        "outside_corners",
        "paint",
    ]
    assert columns_of(Source("rows.csv", "\n ,,\n"), KEYS) == []
    assert columns_of(Source("rows.csv", "name\tlength,x\theight\n"), KEYS) == ["name", "length,x", "height"]


@pytest.mark.parametrize("end", ["\n", "\r\n", ""])
def test_the_last_row_counts_whatever_it_ends_with_and_rows_of_blanks_and_commas_do_not(end: str) -> None:
    job, found = read(f"name,length,height,faces\n,,,\n  \nw,10 ft,8 ft,1\n;;\nv,10 ft,8 ft,1{end}")
    assert job is not None, found
    assert [(s.name, str(s.span)) for s in job.surfaces] == [("w", "rows.csv:4:1"), ("v", "rows.csv:6:1")]


def test_what_is_wrong_with_a_row_calls_it_by_its_name_or_its_number() -> None:
    _, found = read("name,length,height,faces\nw,10,8 ft,1\n,10,8 ft,1\n")
    assert [d.message for d in found if d.code == "job-no-unit"] == [
        'length of wall "w" is 10 without a unit',
        "length of wall in row 2 is 10 without a unit",
    ]


def test_more_cells_than_columns_are_told_unless_they_are_empty() -> None:
    assert read("name,length,height,faces\nw,10 ft,8 ft,1,,\n")[0] is not None
    _, found = read("name,length,height,faces\nw,10 ft,8 ft,1,,x\n")
    assert [d.message for d in found] == ["a row has more cells than rows.csv has columns"]


def test_what_is_said_of_a_schedule_s_head_and_rows() -> None:
    _, found = read("nme,height,length,faces\nw,8 ft,10 ft,1\n")
    assert [(d.code, d.message) for d in found] == [("job-unknown-key", 'rows.csv has no use for a column "nme"')]
    assert found[0].help.startswith("Did you mean name? What may stand here: what, name, length, height, faces,")
    assert found[0].help.endswith(", condition.")
    _, found = read("what,name\nwal,w\n")
    assert [(d.message, d.help) for d in found] == [
        (
            'a row is a "wal", and nothing is called so',
            "Did you mean wall? It is one of: wall, ceiling, soffit, column, room, corner, trim, door, opening.",
        )
    ]
