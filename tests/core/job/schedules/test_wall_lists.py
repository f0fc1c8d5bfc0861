"""Lists of walls alone give the job that the same walls give in the job file, and ask where a row leaves something open."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from darby.cli.shared.jobs import Wanted, estimate_of
from darby.job.checks.all import checks_of
from darby.job.loader import load
from darby.job.model import Job
from darby.job.schedules.wall_lists import lists_walls, two_of
from darby.quantities.amounts import Amount, total
from darby.saved.row_mixture import Mixture, rows_of
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Source, Span

HEAD = 'name = "j"\nunits = "us"\nschedules = ["walls.csv"]\n'
IN_FILE = """name = "j"
units = "us"
[[walls]]
name = "P1"
type = "W3"
length = "24.5 ft"
height = "9 ft"
between = ["Corridor", "Office 2"]
[[walls]]
name = "P2"
type = "W1"
length = "1,000 ft"
height = "8 ft 6 in"
room = "Corridor"
""".replace("1,000", "1000")


def read(csv: str, more: str = "") -> tuple[Job | None, tuple[Diagnostic, ...]]:
    def opened(name: str, _at: Span) -> tuple[Source, tuple[Diagnostic, ...]]:
        return Source(name, csv), ()

    return load(Source("job.toml", HEAD + more), ("paint", "color"), opened)


def told(job: Job | None) -> list[tuple[object, ...]]:
    assert job is not None
    return [(s.name, s.room, s.area, s.length, s.height, s.faces, s.systems, s.side, s.faced) for s in job.surfaces]


def errors(csv: str) -> list[tuple[str, str, str]]:
    job, found = read(csv)
    assert job is None
    return [(d.code, str(d.span), d.message) for d in found if d.severity is Severity.ERROR]


@pytest.mark.parametrize(
    "csv",
    [
        "name,type,length,height,between,room\nP1,W3,24.5 ft,9 ft,Corridor; Office 2,\nP2,W1,1000 ft,8 ft 6 in,,Corridor\n",
        "Mark,Wall Type,Length,Height,From room,To room\nP1,W3,24.5 ft,9 ft,Corridor,Office 2\nP2,W1,1000 ft,8'-6\",Corridor,outside\n",
        'Maple House\nWall No.,Partition type,L (ft),H (ft),Room A,Room B,Sides,Remarks\nP1,W3,24.5,9,Corridor,Office 2,2,x\n'
        'P2,W1,"1,000",8.5,Corridor,,1,\nTOTAL,,"1,024.5",,,,,\n',
        "No.;Wall;Type;Length;Ht;Between;Faces\n1;P1;W3;24,5 ft;9 ft;Corridor / Office 2;both\n2;P2;W1;1000 ft;8,5 ft;Corridor - Exterior;one side\n",
        "Wall,Type,Length,Height,Room,Adjoining room\nP1,W3,24.5 ft,9 ft,Corridor,Office 2\nP2,W1,1000 ft,8.5 ft,Corridor,none\n",
        "Tag\tType\tLength\tHeight\tBetween rooms\nP1\tW3\t24.5 ft\t9 ft\tCorridor and Office 2\nP2\tW1\t1000 ft\t8.5 ft\tExterior | Corridor\n",
    ],
    ids=["as the job file", "two columns of rooms", "titles, units and totals", "one cell, semicolons", "a room and its neighbor", "words between rooms"],
)  # fmt: skip
def test_a_list_of_walls_as_people_have_it_is_the_job_with_these_walls(csv: str) -> None:
    in_file, found = load(Source("job.toml", IN_FILE))
    assert in_file is not None, found
    assert told(read(csv)[0]) == told(in_file)


def test_what_was_taken_for_what_is_told() -> None:
    _, (note,) = read(
        "Tag,Wall type,Length,Height,Room 1,Room 2\nP1,W3,9 ft,8 ft,Hall,Den\nP2,W3,9 ft,8 ft,Exterior,Den\n"
    )
    assert (note.code, note.severity) == ("schedule-read", Severity.NOTE)
    assert note.message == (
        "walls.csv was read as 2 walls: “Tag” is name, “Wall type” is type, “Room 1” is the room on one side, "
        "“Room 2” is the room on the other; 1 wall has one face, the other being in no room"
    )


WALL = "Wall,Type,Length,Height,From room,To room,Sides,Qty\n"


@pytest.mark.parametrize(
    ("csv", "code", "place", "message"),
    [
        (WALL + "P1,W3,9 ft,8 ft,Hall,,,\n", "job-missing-key", "walls.csv:2:1", 'wall "P1" has no faces'),
        (WALL + "P1,W3,9 ft,8 ft,Hall,,2,\n", "job-between", "walls.csv:2:23",
         'wall "P1" has two finished faces, and only one of them is in a room'),
        (WALL + "P1,W3,9 ft,8 ft,Hall,exterior,2,\n", "job-between", "walls.csv:2:31",
         'wall "P1" has two finished faces, and only one of them is in a room'),
        (WALL + "P1,W3,9 ft,8 ft,Hall,Den,1,\n", "job-between", "walls.csv:2:26", 'wall "P1" is between two rooms and also has faces'),
        (WALL + "P1,W3,9 ft,8 ft,,,,\n", "job-missing-key", "walls.csv:2:1", 'wall "P1" has no faces'),
        (WALL + "P1,W3,9 ft,8 ft,,,3,\n", "job-faces", "walls.csv:2:19", 'faces of wall "P1" is 3; it is 1 or 2'),
        (WALL + "P1,W3,9 ft,,Hall,Den,,\n", "job-missing-key", "walls.csv:2:1", 'wall "P1" has no height'),
        (WALL + "P1,W3,9,8 ft,Hall,Den,,\n", "job-no-unit", "walls.csv:2:7", 'length of wall "P1" is 9 without a unit'),
        ("Mark,Length,Height,Faces\nW3,9 ft,8 ft,2\n", "job-schedule", "walls.csv:1:1",
         "“Mark” may be the name of each wall or its type"),
        ("Wall,Length,Height,Between\nP1,9 ft,8 ft,Hall\n", "job-between", "walls.csv:2:14",
         'wall "P1" is between 1 room; it is between two'),
    ],
)  # fmt: skip
def test_what_a_row_leaves_open_is_an_error_at_its_cell(csv: str, code: str, place: str, message: str) -> None:
    assert errors(csv) == [(code, place, message)]


def test_a_row_may_stand_for_several_walls_that_are_alike() -> None:
    job, _ = read(WALL + "P1,W3,9 ft,8 ft,Hall,Den,,3\n")
    assert [(s.name, s.room) for s in job.surfaces][:3] == [
        ("P1", "Hall"),
        ("P1 other face", "Den"),
        ("P1 (2 of 3)", "Hall"),
    ]
    assert len(job.surfaces) == 6


def test_many_rows_with_one_thing_wrong_are_one_error() -> None:
    rows = "".join(f"P{n},W3,9 ft,8 ft,Hall,,,\n" for n in range(60))
    assert [m for _, _, m in errors(WALL + rows)] == ['wall "P0" has no faces; so it is with 59 more rows']


def test_walls_of_one_name_in_two_rooms_are_called_by_their_rooms_too() -> None:
    job, (note,) = read("Room No.,Wall,Length,Height\n101,North,9 ft,8 ft\n101,South,9 ft,8 ft\n102,North,9 ft,8 ft\n")
    assert [(name, room) for name, room, *_ in told(job)] == [
        ("101 North", "101"),
        ("101 South", "101"),
        ("102 North", "102"),
    ]
    assert "walls are called by where they are, as “101 North”" in note.message
    job, _ = read("Room,Wall,Length,Height\nHall,North,9 ft,8 ft\nDen,South,9 ft,8 ft\n")
    assert [name for name, *_ in told(job)] == ["North", "South"]
    assert errors("Room,Wall,Length,Height\nHall,North,9 ft,8 ft\nHall,North,9 ft,8 ft\n")[0][0] == "job-duplicate-name"


def test_walls_without_a_column_of_names_are_numbered_where_their_faces_are_told() -> None:
    job, _ = read("Type,Length,Height,Faces\nW3,9 ft,8 ft,2\nW3,7 ft,8 ft,1\nW1,7 ft,8 ft,1\n")
    assert [name for name, *_ in told(job)] == ["W3 wall 1", "W3 wall 2", "W1 wall 1"]
    # where nothing tells them, `Room` may as well be over a list of rooms whose width was left out
    assert errors("Room,Length,Height\nHall,9 ft,8 ft\n")[0][2] == 'wall "Hall" has no faces'


def test_a_room_is_met_by_its_number_and_a_slip_is_told() -> None:
    rooms = '[[rooms]]\nname = "Corridor"\nnumber = 101\n[[rooms]]\nname = "Office"\nnumber = 102\nwalls = "PT-1"\n'
    job, _ = read("Wall,Type,Length,Height,Room 1,Room 2\nP1,W3,9 ft,8 ft,101,102\n", rooms)
    assert [(s.room, s.systems) for s in (job.surfaces if job else ())] == [
        ("Corridor", (("W3",),)), ("Office", (("W3",), ("PT-1",))),
    ]  # fmt: skip
    _, found = read("Wall,Length,Height,Between\nP1,9 ft,8 ft,Corridor / Offise\n", rooms)
    assert [(d.code, str(d.span)) for d in found if d.severity is Severity.WARNING] == [
        ("job-room-unknown", "walls.csv:2:14")
    ]
    alone, found = read(
        "name,length,height,between\nP1,9 ft,8 ft,Hall / Office\nP2,9 ft,8 ft,Hall / Offise\nP3,9 ft,8 ft,Hall / Office\n"
    )
    assert not found
    assert alone is not None
    assert [c.code for c in checks_of(alone)] == ["measure-name"]


def test_a_list_with_anything_else_in_it_is_as_ever() -> None:
    assert not lists_walls({"name", "length", "width", "height"})
    assert not lists_walls({"what", "name", "length", "height"})
    assert not lists_walls({"name", "perimeter", "height"})
    assert lists_walls({"name", "area", "faces"})
    assert not lists_walls({"name", "length", "widht", "height"})
    assert errors("name,length,widht,height\nHall,9 ft,9 ft,8 ft\n")[0][:2] == ("job-unknown-key", "walls.csv:1:13")


@pytest.mark.parametrize(
    ("cell", "rooms"),
    [
        ("Living/Dining and Hall", ["Living/Dining", "Hall"]),
        ("Toilet and shower / Hall", ["Toilet and shower", "Hall"]),
        ("Bed 1 and Bed 2 and Hall", ["Bed 1 and Bed 2 and Hall"]),
        ("A - B / C", ["A - B", "C"]),
        ("Lobby /", ["Lobby /"]),
        ("Lobby", ["Lobby"]),
        ("", [""]),
    ],
)
def test_a_cell_is_parted_where_it_surely_parts(cell: str, rooms: list[str]) -> None:
    assert two_of(cell) == rooms


def test_rows_are_put_together_anew_as_they_were_read() -> None:
    csv = Source(
        "walls.csv",
        "Mark,Wall Type,Length,Height,From room,To room\nP1,W3,9 ft,8 ft,Hall,Den\nP2,W3,9 ft,8 ft,Hall,outside\n",
    )
    main = Source("job.toml", HEAD)
    rows = rows_of(main, [csv])
    assert [row.name for row in rows] == ["P1", "P2"]
    assert rows[0].span.text == "P1"
    assert told(Mixture.of(main, rows).job("j", ())) == told(read(csv.text)[0])


def test_the_list_may_be_a_spreadsheet_and_is_ordered_as_worked_by_hand(tmp_path: Path) -> None:
    # by hand, 4 ft x 8 ft sheets by area: P1 two faces of 24 x 9 = 432 sq ft in two layers = 864; P2 one face of 10 x 9 in one = 90
    openpyxl = pytest.importorskip("openpyxl")
    book = openpyxl.Workbook()
    for row in (
        ["Maple House", None, None, None, None, None],
        ["Wall", "Wall type", "Length (ft)", "Height (ft)", "From room", "To room"],
        ["P1", "W2", 24, 9, "Corridor", "Office"],
        ["P2", "W1", 10, 9, "Office", "Exterior"],
    ):
        book.active.append(row)
    out = io.BytesIO()
    book.save(out)
    (tmp_path / "walls.xlsx").write_bytes(out.getvalue())
    job = tmp_path / "job.toml"
    job.write_text(
        'name = "j"\nunits = "us"\nschedules = ["walls.xlsx"]\n[[types]]\nname = "W1"\nlines = ["One layer of gypsum board."]\n'
        '[[types]]\nname = "W2"\nlines = ["Two layers of gypsum board."]\n', encoding="utf-8",
    )  # fmt: skip
    made = estimate_of(Wanted(str(job)))
    assert made.estimate is not None, made.problems
    board = [i for i in made.estimate.items if i.product == "gypsum board"]
    assert total(i.need for i in board) == Amount.read("954 sq ft")
    assert sum(i.count or 0 for i in board) == 30  # 954 / 32, rounded up once
