"""Schedules that a spreadsheet saved: what their rows become, and every mistake at its cell."""

from __future__ import annotations

import tracemalloc
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.cli.shared.jobs import Wanted, estimate_of
from darby.job.loader import load
from darby.job.model import Job
from darby.job.schedules.grid import Grid
from darby.quantities.amounts import Amount
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source, Span

HEAD = 'name = "test"\nunits = "us"\nschedules = ["rooms.csv"]\n'


def read(csv: str, job: str = "") -> tuple[Job | None, tuple[Diagnostic, ...]]:
    def opened(name: str, _at: Span) -> tuple[Source, tuple[Diagnostic, ...]]:
        return Source(name, csv), ()

    return load(Source("job.toml", HEAD + job), ("board", "paint"), opened)


def made(csv: str, job: str = "") -> Job:
    found, told = read(csv, job)
    assert found is not None, told
    return found


def test_a_row_is_what_its_cells_say() -> None:
    job = made(
        "name,length,width,height,faces,perimeter,area\n"
        "Office,12 ft,10 ft,8 ft,,,\n"
        "north wall,20 ft,,9 ft,2,,\n"
        "porch ceiling,20 ft,6 ft,,,,\n"
        "Loft,,,8 ft,,60 ft,180 sq ft\n"
    )
    assert [s.name for s in job.surfaces] == [
        "Office wall 1", "Office wall 2", "Office wall 3", "Office wall 4", "Office ceiling", "north wall", "porch ceiling",
        "Loft walls", "Loft ceiling",
    ]  # fmt: skip
    assert job.surfaces[5].gross == Amount.read("360 sq ft")


def test_a_column_may_say_what_a_row_is() -> None:
    job = made(
        "what,name,length,width,height,count,wall,faces\n"
        "trim,base,100 ft,6 in,,,,\n"
        "Doors,inner,,3 ft,7 ft,4,,\n"
        "wall,w,20 ft,,8 ft,,,1\n"
        "opening,window,,4 ft,5 ft,2,w,\n"
    )
    assert [s.kind for s in job.surfaces] == ["trim", "door", "wall"]
    assert job.surfaces[2].openings[0].count.value == 2


def test_a_row_says_what_its_trades_read_and_where() -> None:
    job = made('name,length,height,faces,paint\nw,20 ft,8 ft,1,"three coats, satin"\n')
    assert job.surfaces[0].marks == {"paint": "three coats, satin"}
    place = job.surfaces[0].mark_places["paint"]
    assert (place.text, str(place)) == ("three coats, satin", "rooms.csv:2:17")


def test_measured_rows_point_at_their_cells() -> None:
    job = made("name,length,height,faces\n\nw,20 ft,8 ft,1\n")
    length = job.surfaces[0].length
    assert length is not None
    place = length.step.origin.place
    assert place is not None
    assert (place.text, str(place)) == ("20 ft", "rooms.csv:3:3")


@pytest.mark.parametrize("sign", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_any_usual_separator_and_line_end_will_do(sign: str, end: str) -> None:
    csv = (
        end.join(sign.join(row) for row in (["Name", "Length", "Height", "Faces"], ["w", "20 ft", "8'-6\"", "1"])) + end
    )
    assert made(csv).surfaces[0].height == Amount.read("8 ft 6 in")


def test_a_tab_beside_a_quoted_cell_parts_it_from_an_empty_one() -> None:
    job = made('name\troom\tlength\theight\tfaces\nw\t\t"20 ft"\t"8\'-6"""\t1\n')
    assert (job.surfaces[0].room, job.surfaces[0].length) == ("", Amount.read("20 ft"))


def test_openings_of_the_job_file_lie_in_walls_of_the_schedule() -> None:
    job = made(
        "name,length,height,faces\nw,20 ft,8 ft,1\n", '[[openings]]\nwall = "w"\nwidth = "3 ft"\nheight = "7 ft"\n'
    )
    assert len(job.surfaces[0].openings) == 1


def test_the_schedules_are_kept_with_the_job() -> None:
    assert [s.name for s in made("name,length,height,faces\nw,20 ft,8 ft,1\n").schedules] == ["rooms.csv"]


WALLS = "name,length,height,faces\n"
_WRONG = [
    ("an unreadable length", WALLS + "w,long,8 ft,1\n", "job-unreadable-amount", "rooms.csv:2:3"),
    ("a length without a unit", WALLS + "w,20,8 ft,1\n", "job-no-unit", "rooms.csv:2:3"),
    ("three faces", WALLS + "w,20 ft,8 ft,3\n", "job-faces", "rooms.csv:2:14"),
    ("a name used twice", WALLS + "w,20 ft,8 ft,1\nw,9 ft,8 ft,1\n", "job-duplicate-name", "rooms.csv:3:1"),
    ("a misspelt column", "name,lenght,height,faces\nw,20 ft,8 ft,1\n", "job-unknown-key", "rooms.csv:1:6"),
    ("two columns of one name", "name,length,length,height,faces\nw,20 ft,,8 ft,1\n", "job-schedule", "rooms.csv:1:13"),
    ("nothing that tells what it is", "name,length,width,height\nw,20 ft,,\n", "job-schedule", "rooms.csv:2:1"),
    ("a wall without its height", WALLS + "w,20 ft,,1\n", "job-missing-key", "rooms.csv:2:1"),
    ("nothing known by that name", "what," + WALLS + "wal,w,20 ft,8 ft,1\n", "job-schedule", "rooms.csv:2:1"),
    ("more cells than columns", WALLS + "w,20 ft,8 ft,1,9 ft\n", "job-schedule", "rooms.csv:2:1"),
    ("an empty schedule", "", "job-schedule", "rooms.csv:1:1"),
    ("an opening nowhere", "wall,width,height\nzz,3 ft,7 ft\n", "job-opening-nowhere", "rooms.csv:2:1"),
]


@pytest.mark.parametrize(("csv", "code", "place"), [w[1:] for w in _WRONG], ids=[w[0] for w in _WRONG])
def test_a_mistake_is_told_at_its_cell_with_a_way_out(csv: str, code: str, place: str) -> None:
    job, found = read(csv)
    assert job is None
    assert [(d.code, str(d.span)) for d in found] == [(code, place)], [d.message for d in found]
    assert found[0].help


def test_all_mistakes_come_in_one_run_the_job_file_first() -> None:
    _, found = read(WALLS + "w,20,8 ft,1\nv,20 ft,-8 ft,1\n", "zzz = 1\n")
    assert [d.code for d in found] == ["job-unknown-key", "job-no-unit", "job-out-of-range"]


def test_a_schedule_that_nobody_opens_is_an_error_and_not_a_smaller_job() -> None:
    job, found = load(Source("job.toml", HEAD))
    assert job is None
    assert [d.code for d in found] == ["job-schedule-unopened"]


cells = st.text(st.characters(exclude_categories=["Cs", "Cc"], exclude_characters='"'), max_size=12).map(str.strip)


@given(st.lists(st.tuples(cells, st.booleans()), min_size=1, max_size=8), st.sampled_from(",;\t"))
def test_every_cell_is_found_where_it_stands(quoted: list[tuple[str, bool]], parting: str) -> None:
    row = [cell for cell, _ in quoted]
    text = parting.join(f'"{c}"' if in_quotes or parting in c else c for c, in_quotes in quoted)
    grid = Grid(Source("x", text), parting, {str(n): n for n in range(len(row))}, [0])
    assert [grid.at((0, str(n))).value.text for n in range(len(row))] == row


@given(st.text(max_size=200))
def test_no_text_breaks_a_schedule(text: str) -> None:
    job, found = read("name,length,height\n" + text)
    assert job is not None or found


def test_memory_grows_with_the_rows_and_no_faster() -> None:
    def used(rows: int) -> float:
        csv = WALLS + "".join(f"wall {n},{n % 40 + 1} ft,8 ft,1\n" for n in range(rows))
        tracemalloc.start()
        job = made(csv)
        assert len(job.surfaces) == rows
        size, _ = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        return size / rows

    made(WALLS + "w,1 ft,8 ft,1\n")
    few, many = used(100), used(400)
    assert many < few * 1.2


def test_the_command_opens_schedules_beside_the_job_and_says_where_one_is_missing(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(HEAD, encoding="utf-8")
    missing = estimate_of(Wanted(str(job)))
    assert missing.estimate is None
    assert [(d.code, d.span.line if d.span else 0) for d in missing.problems] == [("file-missing", 3)]
    (tmp_path / "rooms.csv").write_text("name,length,width,height\nOffice,12 ft,8 ft,8 ft\n", encoding="utf-8")
    made = estimate_of(Wanted(str(job))).estimate
    assert made is not None
    assert next(i for i in made.items if i.product == "gypsum board").need == Amount.read("416 sq ft")
