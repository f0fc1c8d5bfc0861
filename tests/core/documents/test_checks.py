"""Measures to check stand above the order in every form of the estimate, and the order is the same without them."""

from __future__ import annotations

import io
import json
from pathlib import Path

import openpyxl
from attrs import evolve

from commands import JOB, SECTION, checked, darby
from darby.documents.catalogue import document_named
from darby.documents.checks import SETTLE, lines, places_of, told
from darby.documents.terminal.estimate import tally
from desk import estimated
from measures import room

NAVE = room("Nave", height="800 ft") + room("Aisle")
SAYS = "Nave height is 800 ft: height of a room is ordinarily 6 ft 4 in to 40 ft"


def document(name: str, text: str = NAVE) -> str | bytes:
    found = document_named(name)
    assert found is not None
    return found.make(estimated(text))


def test_a_check_is_told_as_a_sentence_with_every_place() -> None:
    made = estimated(room("Office 1") + room("Office", more="number = 1"))
    ((said, way_out, where),) = lines(made)
    assert said == "Office and Office 1 may be one room counted twice: both go by “Office 1”."
    assert where == "job.toml, lines 4 and 10"
    assert way_out.startswith("If they are one, take a row out.")
    assert (told(made.checks[0]), places_of(made.checks[0])) == (said, where)


def test_the_order_is_the_same_without_the_checks() -> None:
    made = estimated(NAVE)
    assert len(made.checks) == 1
    settled = estimated(f'checked = ["Nave"]\n{NAVE}')
    assert not settled.checks
    assert [(i.id, i.need, i.count) for i in made.items] == [(i.id, i.need, i.count) for i in settled.items]


def test_terminal_page_and_json_have_it_above_the_order() -> None:
    text = document("terminal")
    assert isinstance(text, str)
    assert text.index("Check these measures") < text.index(SAYS[:40]) < text.index("To order")
    assert " ".join(SETTLE.split()[:6]) in text
    assert tally(estimated(NAVE)).split(", ")[1] == "1 measure to check"
    page = document("html")
    assert isinstance(page, str)
    assert page.index('id="h-check"') < page.index(SAYS) < page.index('id="h-order"')
    data = checked("estimate", str(document("json")))
    assert [d["message"] for d in data["checks"]] == [SAYS]
    assert list(data).index("checks") < list(data).index("items")


def test_a_job_without_any_has_no_such_block() -> None:
    plain = room("Aisle")
    for name in ("terminal", "html"):
        assert "Check these measures" not in str(document(name, plain))
    assert json.loads(str(document("json", plain)))["checks"] == []
    assert "measure" not in tally(estimated(plain))


def test_the_workbook_says_it_above_the_order_and_among_the_open_points() -> None:
    data = document("xlsx")
    assert isinstance(data, bytes)
    book = openpyxl.load_workbook(io.BytesIO(data))
    assert str(book["Order"]["A2"].value).startswith(f"CHECK THESE MEASURES: {SAYS}. (job.toml, line 7)")
    first = [cell.value for cell in book["Open_points"][5]]
    assert first[0] == "measure to check"
    assert str(first[2]).startswith(SAYS)
    table = document("open.csv")
    rows = (table.decode("utf-8") if isinstance(table, bytes) else table).splitlines()
    assert [row for row in rows if row.startswith("measure to check,")] == [rows[1]]


def test_an_incomplete_workbook_still_says_what_to_check() -> None:
    found = document_named("xlsx")
    assert found is not None
    data = found.make(evolve(estimated(NAVE), missing=("varnish",)))
    assert isinstance(data, bytes)
    said = str(openpyxl.load_workbook(io.BytesIO(data))["Order"]["A2"].value)
    assert said.startswith("INCOMPLETE: the lines of varnish are missing. CHECK THESE MEASURES: ")


def test_a_strict_run_fails_on_it_and_the_rooms_show_it(tmp_path: Path) -> None:
    (tmp_path / "section.txt").write_text(SECTION, encoding="utf-8")
    job = tmp_path / "job.toml"
    job.write_text(JOB.replace('height = "8 ft"', 'height = "96 ft"'), encoding="utf-8")
    assert darby("estimate", str(job)).returncode == 0
    assert darby("estimate", str(job), "--strict").returncode == 1
    for name, stream in (("terminal", "stdout"), ("csv", "stderr")):
        done = darby("rooms", str(job), "--format", name)
        assert "north wall height is 96 ft" in " ".join(getattr(done, stream).split())
    assert (
        checked("rooms", darby("rooms", str(job), "--format", "json").stdout)["checks"][0]["code"] == "measure-unusual"
    )


def test_the_rooms_show_what_is_said_of_the_job(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text('name = "j"\n' + room("Den"), encoding="utf-8")
    assert "the job does not say its units; us is used" in darby("rooms", str(job)).stdout
    assert "the job does not say its units; us is used" in darby("rooms", str(job), "--format", "csv").stderr
