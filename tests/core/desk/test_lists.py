"""Measured lists at the desk: their rows go into the grid, from a paste, from a file and from beside the job, and undo takes them back."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from darby.desk.files.job_text import JobText
from desks import HOME, Visitor, loft

LIST = "Rm\tL (ft)\tW (ft)\tClg ht\tRemarks\nOil store\t12\t9\t8'\tlocked\nNet room\t14\t9\t8'\t\n"


@pytest.fixture
def visitor(tmp_path: Path) -> Visitor:
    return Visitor(loft(tmp_path))


def job(visitor: Visitor) -> dict[str, Any]:
    return JobText.of(visitor.bench.folder.text("job.toml")).data


def uploaded(visitor: Visitor, name: str, data: bytes) -> str:
    heads = {"origin": HOME, "sec-fetch-site": "same-origin"}
    visitor.ask(
        "POST",
        "/upload",
        data={"key": visitor.keys.form, "role": "measured"},
        files={"file": (name, data)},
        headers=heads,
    )
    return visitor.get("/").text


def test_a_pasted_list_stands_in_the_grid_row_by_row(visitor: Visitor) -> None:
    before = visitor.bench.folder.text("job.toml")
    told = visitor.do("list", text=LIST, **{"as": "rows"}).json()
    assert "2 rows were put into the grid" in told["told"]
    assert 'value="Oil store"' in told["panes"]["measures"]
    assert "schedules" not in job(visitor)
    assert job(visitor)["rooms"][1] == {"name": "Oil store", "length": "12 ft", "width": "9 ft", "height": "8'"}
    visitor.do("row", table="rooms", **{"at-row": "1"}, was=visitor.was("rooms", 1), name="Oil store", length="13 ft")
    assert job(visitor)["rooms"][1]["length"] == "13 ft"
    visitor.do("undo")
    visitor.do("undo")
    assert visitor.bench.folder.text("job.toml") == before


def test_a_list_beside_the_job_is_brought_into_the_grid_and_orders_the_same(visitor: Visitor) -> None:
    visitor.do("list", text=LIST, name="rooms.csv")
    before = visitor.bench.look().estimate
    assert "Bring its rows into the grid" in visitor.get("/").text
    assert "2 rows were taken from rooms.csv" in visitor.do("list-rows", name="rooms.csv").json()["told"]
    now = visitor.bench.look().estimate
    assert before is not None
    assert now is not None
    assert [(i.id, str(i.need)) for i in now.items] == [(i.id, str(i.need)) for i in before.items]
    assert "schedules" not in job(visitor)
    assert (visitor.bench.folder.root / "rooms.csv").exists()
    assert visitor.do("list-rows", name="rooms.csv").json()["refused"]


def test_a_file_goes_into_the_grid_or_is_kept_where_it_cannot(visitor: Visitor) -> None:
    assert "2 rows were put into the grid" in uploaded(visitor, "rooms.csv", LIST.encode())
    assert len(job(visitor)["rooms"]) == 3
    assert not (visitor.bench.folder.root / "rooms.csv").exists()
    told = uploaded(visitor, "odd.csv", b"name,length\nAttic,9 ft\n")
    assert "nothing tells what this row is" in told
    assert "odd.csv is kept beside the job instead" in told
    assert job(visitor)["schedules"] == ["odd.csv"]
    assert visitor.do("list-rows", name="odd.csv").json()["refused"]


def test_what_is_no_table_is_refused_and_nothing_changes(visitor: Visitor) -> None:
    before = visitor.bench.stamp()
    uploaded(visitor, "x.csv", b"\x00\x01\x02" * 50)
    visitor.do("list", text="only one line", **{"as": "rows"})
    assert visitor.bench.stamp() == before


def test_a_list_with_a_mistake_is_mended_in_the_grid_once_its_rows_are_there(visitor: Visitor) -> None:
    visitor.do("list", text="name,length,width,height\nAttic,12,9 ft,8 ft\n", name="a.csv")
    assert visitor.bench.look().problems
    visitor.do("list-rows", name="a.csv")
    visitor.do("row-unit", table="rooms", **{"at-row": "1"}, was=visitor.was("rooms", 1), unit="ft")
    assert not visitor.bench.look().problems
