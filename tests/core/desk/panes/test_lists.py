"""A pasted list is looked at before it is written: each column, the rows, and the mistakes that the job would tell of."""

from __future__ import annotations

import tomllib
from html import unescape
from pathlib import Path

import pytest

from darby.desk.files.pasted import as_list
from darby.job.loader import load
from darby.text.diagnostics import Severity
from darby.text.spans import Source
from desks import HOME, Visitor, loft

LIST = "Finish areas\nRm\tL (ft)\tW (ft)\tClg ht\tRemarks\nOil store\t12\t9\t8'\tlocked\nNet room 2\t14\t9\t8'\t\nTotal\t26\t18\t\t\n"


@pytest.fixture
def visitor(tmp_path: Path) -> Visitor:
    return Visitor(loft(tmp_path))


def preview(visitor: Visitor, text: str, *, script: bool = True, key: str = "") -> str:
    heads = {"origin": HOME, "sec-fetch-site": "same-origin", **({"x-panes": "1"} if script else {})}
    answer = visitor.ask("POST", "/preview", data={"key": key or visitor.keys.form, "text": text}, headers=heads)
    assert answer.status_code == (200 if not key else 403)
    return unescape(answer.text)


def test_each_column_is_told_with_what_it_is_taken_for_and_nothing_is_written(visitor: Visitor) -> None:
    files = {one.name: one.read_bytes() for one in visitor.bench.folder.root.iterdir()}
    told = preview(visitor, LIST)
    assert "Taken for 2 rooms." in told
    assert "2 lines are left out as titles and totals" in told
    for said, means, first in (
        ("Rm", "name", "Oil store"), ("L (ft)", "length, in ft", "12 ft"), ("W (ft)", "width, in ft", "9 ft"), ("Clg ht", "height", "8'"),
    ):  # fmt: skip
        assert f'<th scope="row">{said}</th><td>{means}</td><td>{first}</td>' in told
    assert '<th scope="row">Remarks</th><td><span class="bad">not used</span></td><td></td>' in told
    assert {one.name: one.read_bytes() for one in visitor.bench.folder.root.iterdir()} == files


def test_what_is_told_is_what_comes_of_it(visitor: Visitor) -> None:
    visitor.do("list", text=LIST, name="")
    made = visitor.bench.look().estimate
    assert made is not None
    assert {room.name for room in made.job.rooms} >= {"Oil store", "Net room 2"}
    assert "locked" not in str(made.job.rooms)


def test_mistakes_are_those_that_the_job_tells_of(visitor: Visitor) -> None:
    wrong = "Rm\tL\tW\tClg ht\nStove room\t12 ft\t9 ft\t8 ft\nOil store\tten\t9 ft\t8 ft\n"
    told = preview(visitor, wrong)
    assert "Stove room" in told.partition("</table>")[2]  # there is one of this name in the job
    assert "ten without a unit" in told
    visitor.do("list", text=wrong, name="")
    problems = [d.message for d in visitor.bench.look().problems if d.severity is not Severity.NOTE]
    assert problems
    assert [one for one in problems if one not in told] == []


def test_a_list_of_openings_in_rooms_of_the_job_is_no_mistake(visitor: Visitor) -> None:
    told = preview(visitor, "what,wall,width,height\nopening,sea wall,3 ft,7 ft\n")
    assert "Taken for 1 opening." in told
    assert 'class="bad"' not in told


def test_what_is_no_list_is_said_and_a_hostile_one_is_text(visitor: Visitor) -> None:
    assert "Paste the line of headings" in preview(visitor, "Rm")
    told = visitor.ask(
        "POST", "/preview", data={"key": visitor.keys.form, "text": "<script>x</script>,<img src=x>\n<b>,1\n"},
        headers={"origin": HOME, "sec-fetch-site": "same-origin"},
    ).text  # fmt: skip
    assert "<h1>What the list is taken for</h1>" in told
    assert "<script>x" not in told
    assert "<img" not in told
    preview(visitor, LIST, key="another")


def test_a_job_that_cannot_be_read_is_said(visitor: Visitor) -> None:
    (visitor.bench.folder.root / "job.toml").write_text("[[rooms", encoding="utf-8")
    assert "cannot be read" in preview(visitor, LIST)


def test_a_list_is_kept_beside_the_job_where_that_is_chosen(visitor: Visitor) -> None:
    visitor.do("list", text=LIST, name="rooms.csv")
    kept = (visitor.bench.folder.root / "rooms.csv").read_text(encoding="utf-8")
    assert kept == as_list(LIST)
    assert tomllib.loads(visitor.bench.folder.text("job.toml"))["schedules"] == ["rooms.csv"]
    assert (
        load(Source("job.toml", visitor.bench.folder.text("job.toml")))[0] is None
    )  # it is opened beside the job alone
