"""Schedules as people have them give the job that the plain schedule gives, and say what was taken for what."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.job.checks.all import checks_of
from darby.job.loader import load
from darby.job.model import Job
from darby.quantities.amounts import Amount
from darby.saved.row_mixture import Mixture, rows_of
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Source, Span

HEAD = 'name = "j"\nunits = "us"\nschedules = ["rooms.csv"]\n'
PLAIN = "name,number,length,width,height\nOffice,101,12 ft,10.5 ft,8 ft\nStore,102,1200 ft,9 ft,9 ft\nLobby,103,20 ft,14 ft,9 ft\n"
HEADS = {
    "name": ["name", "Name", "Room Name", "SPACE", "Room"],
    "number": ["number", "No.", "Room No.", "Rm #"],
    "length": ["length", "L", "Length (ft)", '"L, ft"', "Room length"],
    "width": ["width", "W", "W (ft)", "Breadth"],
    "height": ["height", "Ceiling Height", "H (ft)", "Clg Ht"],
}
ROWS = [("Office", "101", "12", "10.5", "8"), ("Store", "102", "1200", "9", "9"), ("Lobby", "103", "20", "14", "9")]


def read(csv: str) -> tuple[Job | None, tuple[Diagnostic, ...]]:
    def opened(name: str, _at: Span) -> tuple[Source, tuple[Diagnostic, ...]]:
        return Source(name, csv), ()

    return load(Source("job.toml", HEAD), ("color", "board"), opened)


def measures(csv: str) -> list[tuple[object, ...]]:
    job, found = read(csv)
    assert job is not None, [d.message for d in found]
    return [(s.kind, s.name, s.room, s.area, s.length, s.height) for s in job.surfaces]


@given(st.permutations(list(HEADS)), st.integers(0, 10**6), st.booleans(), st.booleans(), st.booleans(), st.booleans())
def test_columns_in_any_order_and_under_any_usual_name_give_the_same_job(
    order: list[str], seed: int, titled: bool, total: bool, notes: bool, marks: bool
) -> None:
    chance = random.Random(seed)
    heads = {key: chance.choice(names) for key, names in HEADS.items()}
    lines = ["Maple House,,,,", "Room schedule"] if titled else []
    lines.append(",".join(heads[key] for key in order) + (",Remarks" if notes else ""))
    for row in ROWS:
        cells = dict(zip(HEADS, row, strict=True))
        if marks and cells["length"] == "1200":
            cells["length"] = '"1,200"'
        for key in ("length", "width", "height"):
            if "ft" not in heads[key]:
                cells[key] = cells[key][:-1] + ' ft"' if cells[key].endswith('"') else f"{cells[key]} ft"
        lines.append(",".join(cells[key] for key in order) + (",by Ann" if notes else ""))
    if total:
        first = next(iter(order))
        lines.append(",".join("TOTAL" if key == first else "99 ft" for key in order))
    assert measures("\n".join(lines) + "\n") == measures(PLAIN)


def test_units_may_stand_in_a_line_below_the_heads() -> None:
    csv = "Room,L,W,H\n,(ft),ft,ft\nOffice,12,10.5,8\nStore,1200,9,9 ft\nLobby,20,14,9\n"
    assert measures(csv) == measures(PLAIN)


def test_what_was_taken_for_what_is_told_once_and_nothing_where_all_is_plain() -> None:
    assert read(PLAIN)[1] == ()
    csv = "Maple House\nRoom No.,Room Name,L (ft),W (ft),Ceiling Height,Remarks\n101,Office,12,10,9 ft,x\nTOTAL,,12\n"
    _, (note,) = read(csv)
    assert (note.code, note.severity, str(note.span)) == ("schedule-read", Severity.NOTE, "rooms.csv:2:1")
    assert note.message == (
        "rooms.csv was read as 1 room: “Room No.” is number, “Room Name” is name, “L (ft)” is length in ft, “W (ft)” is width in ft, "
        "“Ceiling Height” is height; not used: “Remarks”; lines 1, 4 left out as titles and totals"
    )


def test_a_column_that_nobody_knows_is_told_and_the_job_stands() -> None:
    job, found = read("name,length,width,height,Fire rating\nOffice,12 ft,10 ft,9 ft,1 hour\n")
    assert job is not None
    assert [(d.code, d.severity, str(d.span)) for d in found] == [
        ("schedule-column", Severity.WARNING, "rooms.csv:1:26")
    ]


@pytest.mark.parametrize(
    ("csv", "code", "message"),
    [
        ("name,length,width,height\n" + "".join(f"R{n},{n + 9},9 ft,8 ft\n" for n in range(60)), "job-no-unit",
         'length of room "R0" is 9 without a unit; so it is with 59 more rows'),
        ("name,faces,length,height\n" + "".join(f"w{n},3,9 ft,8 ft\n" for n in range(60)), "job-faces",
         'faces of wall "w0" is 3; it is 1 or 2; so it is with 59 more rows'),
        ("name,colour\n" + "".join(f"R{n},red\n" for n in range(60)), "job-schedule",
         "nothing tells what this row is; so it is with 59 more rows"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_whole_column_is_one_error(csv: str, code: str, message: str) -> None:
    job, found = read(csv)
    assert job is None
    wrong = [d for d in found if d.severity is Severity.ERROR]
    assert [(d.code, d.message) for d in wrong] == [(code, message)]
    assert len(wrong[0].labels) == 4


def test_two_things_wrong_are_two_errors() -> None:
    csv = "name,length,width,height\n" + "".join(f"R{n},{n + 9},9 in ch,8 ft\n" for n in range(9))
    _, found = read(csv)
    assert [d.code for d in found] == ["job-no-unit", "job-unreadable-amount"]


def test_a_room_whose_height_is_missing_is_no_ceiling_without_a_word() -> None:
    job, _ = read("name,length,width,height\nOffice,12 ft,10 ft,9 ft\nPantry,8 ft,6 ft,\n")
    assert job is not None
    (doubt,) = checks_of(job)
    assert (doubt.code, str(doubt.span)) == ("schedule-no-height", "rooms.csv:3:1")
    job, found = read("name,number,length,width,height\nOffice,1,12 ft,10 ft,9 ft\nPantry,2,8 ft,6 ft,\n")
    assert job is None
    assert [d.message for d in found] == ['room "Pantry" has no height']
    job, _ = read("name,length,width,height\nOffice,12 ft,10 ft,9 ft\nPorch ceiling,8 ft,6 ft,\n")
    assert job is not None
    assert not checks_of(job)


def test_a_comma_is_the_point_of_a_number_where_semicolons_part_cells() -> None:
    job, found = read("name;length;width;height\nOffice;12,500 m;3 m;2,5 m\n")
    assert job is not None
    assert (job.surfaces[0].length, job.surfaces[0].height) == (Amount.read("12.5 m"), Amount.read("2.5 m"))
    assert [d.message for d in found] == [
        "rooms.csv was read as 1 room: a comma in a number is its point, since semicolons part the cells"
    ]


def test_a_list_of_numbers_alone_has_its_rooms_by_their_numbers() -> None:
    assert measures("No.,L (ft),W (ft),H (ft)\n101,12,10,8\n")[0][1] == "101 wall 1"


def test_the_saved_rows_of_such_a_schedule_make_the_same_job() -> None:
    csv = "Maple House\nRoom No.,Room Name,L (ft),W (ft),Ceiling Height,Remarks,Fire rating\n101,Office,12,10,9 ft,x,1 h\nTOTAL,,12\n"
    job, _ = read(csv)
    assert job is not None
    rows = rows_of(Source("job.toml", HEAD), [Source("rooms.csv", csv)])
    mixed = Mixture.of(Source("job.toml", HEAD), rows).job("j", ("color", "board"))
    assert mixed is not None
    assert [(s.name, s.area) for s in mixed.surfaces] == [(s.name, s.area) for s in job.surfaces]


@given(
    st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=120),
    st.sampled_from(["Room,L (ft),W,H\n", "", "a,b\n"]),
)
def test_any_text_under_any_heads_gives_a_job_or_a_mistake_with_a_place(text: str, head: str) -> None:
    job, found = read(head + text)
    assert job is not None or any(d.severity is Severity.ERROR for d in found)
    for one in found:
        assert one.span is not None
        assert 0 <= one.span.start <= one.span.end <= len(one.span.source.text)
