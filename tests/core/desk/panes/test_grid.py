"""The grid: a hundred rows at a time, each with what was understood of it, and the way to every other."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from darby.desk.files.job_text import JobText
from darby.desk.panes.grid import AT_ONCE, measures, row_named, stretch
from darby.desk.views import Asked, page
from desks import JOB, Visitor, bench, loft

BERTHS = "".join(
    f'[[rooms]]\nname = "Berth {n}"\nnumber = "{n + 300}"\nlength = "{n + 10} ft"\nwidth = "10 ft"\nheight = "8 ft"\n\n'
    for n in range(250)
)


def large(folder: Path) -> Path:
    (loft(folder) / "job.toml").write_text(f"{JOB}\n{BERTHS}", encoding="utf-8")
    return folder


@pytest.mark.parametrize(("asked", "first", "shown"), [(0, 0, 100), (99, 0, 100), (100, 100, 100), (250, 200, 51), (9_999_999, 200, 51)])  # fmt: skip
def test_a_hundred_rows_are_shown_and_the_others_are_named(asked: int, first: int, shown: int) -> None:
    found = measures(JobText.of(f"{JOB}\n{BERTHS}"), None, (), "rooms", asked)
    assert (found["first"], len(found["rows"]), found["many"]) == (first, shown, 251)
    assert found["rows"][0]["number"] == first
    assert found["stretches"] == [(0, "1 to 100"), (100, "101 to 200"), (200, "201 to 251")]


def test_a_short_table_is_shown_whole() -> None:
    assert stretch(0, AT_ONCE)["stretches"] == []
    assert measures(JobText.of(JOB), None, (), "rooms", 70)["first"] == 0
    assert measures(None, None, (), "nonsense", 0)["table"] == "rooms"


def test_a_row_is_found_by_its_name_or_number_the_exact_one_first() -> None:
    job = JobText.of(f"{JOB}\n{BERTHS}")
    assert row_named(job, "rooms", " berth 1 ") == 2  # behind the stove room and berth 0; not berth 10
    assert row_named(job, "rooms", "542") == 243
    assert row_named(job, "rooms", "stove") == 0
    assert row_named(job, "rooms", "galley") is row_named(job, "rooms", " ") is None


def test_what_is_wrong_in_rows_that_are_not_shown_is_told_with_the_way_there(tmp_path: Path) -> None:
    (large(tmp_path) / "job.toml").write_text(f"{JOB}\n{BERTHS}".replace('"217 ft"', '"wide"'), encoding="utf-8")
    shown = page(bench(tmp_path), Asked(), "key")["measures"]
    assert shown["elsewhere"] == [(208, "Berth 207")]
    assert "#r-rooms-208-row" in Visitor(tmp_path).get("/").text


def test_a_change_keeps_its_rows_in_view_and_a_new_row_is_shown(tmp_path: Path) -> None:
    visitor = Visitor(large(tmp_path))
    at = {"at-table": "rooms", "at-from": "200", "table": "rooms"}
    html = visitor.get("/?table=rooms&from=200").text
    was = re.search(r'id="r-rooms-240-was" value="(\w+)"', html)
    assert was is not None
    answer = visitor.do("row", **at, **{"at-row": "240", "was": was[1], "height": "9 ft"}).json()
    assert 'id="r-rooms-240-height"' in answer["panes"]["measures"]
    assert answer["where"].endswith("table=rooms&from=200")
    new = visitor.do("row-new", **{**at, "at-from": "0"}, name="Hold", length="9 ft", width="9 ft", height="8 ft")
    assert 'value="Hold"' in new.json()["panes"]["measures"]
    there = visitor.get("/?table=rooms&find=berth+150").headers["location"]
    assert there.endswith("from=151#r-rooms-151-row")
    nowhere = visitor.get("/?table=rooms&find=galley")
    assert "is called “galley”" in visitor.get(nowhere.headers["location"]).text
