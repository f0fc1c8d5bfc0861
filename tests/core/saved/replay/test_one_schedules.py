"""A saved estimate keeps the schedules its job names: it is worked out again from itself, away from them."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from darby.cli import cli

JOB = """
name = "Tide hall"
units = "us"
schedules = ["rooms.csv"]
[documents]
specification = ["s.txt"]
[[walls]]
name = "screen"
length = "12 ft"
height = "8 ft"
faces = 2
"""
ROOMS = "name,length,width,height\nNet room,12 ft,10 ft,8 ft\nOar room,20 ft,10 ft,8 ft\n"
SPECIFICATION = "Gypsum board: 5/8 in. thick. Walls: two coats eggshell.\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A job with a schedule, and its saved estimate in a folder of its own."""
    for name, text in (("job.toml", JOB), ("rooms.csv", ROOMS), ("s.txt", SPECIFICATION)):
        (tmp_path / name).write_text(text, encoding="utf-8")
    (tmp_path / "saved").mkdir()
    assert run("estimate", tmp_path / "job.toml", "--save", tmp_path / "saved" / "a.json").exit_code == 0
    return tmp_path


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(cli, [str(a) for a in arguments], standalone_mode=False)


def test_it_is_worked_out_again_where_the_schedule_is_gone(folder: Path) -> None:
    (folder / "rooms.csv").unlink()
    done = run("replay", folder / "saved")
    assert done.return_value == 0
    assert "1 the same" in done.stdout


def test_a_changed_wall_is_the_cause_beside_an_unchanged_schedule(folder: Path) -> None:
    job = folder / "job.toml"
    job.write_text(JOB.replace('length = "12 ft"', 'length = "60 ft"'), encoding="utf-8")
    shown = run("compare", folder / "saved" / "a.json", job).stdout
    assert 'wall "screen": length 12 ft to 60 ft' in shown
    assert "not tried" not in shown


def test_a_changed_row_of_a_schedule_is_the_cause_with_its_line(folder: Path) -> None:
    (folder / "rooms.csv").write_text(ROOMS.replace("20 ft", "40 ft"), encoding="utf-8")
    done = run("compare", folder / "saved" / "a.json", folder / "job.toml")
    assert done.return_value == 1
    shown = " ".join(done.stdout.split())
    assert re.search(r' 1: room "Oar room": length 20 ft to 40 ft, rooms.csv, line 3 \(\+', shown)
    assert shown.endswith('Measures that changed room "Oar room": length 20 ft to 40 ft, rooms.csv, line 3')


def test_rows_that_moved_from_the_job_file_into_a_schedule_are_not_told(folder: Path) -> None:
    screen = JOB[JOB.index("[[walls]]") :]
    (folder / "job.toml").write_text(JOB.replace(screen, "").replace('"]', '", "walls.csv"]', 1), encoding="utf-8")
    (folder / "walls.csv").write_text("name,length,height,faces\nscreen,12 ft,8 ft,2\n", encoding="utf-8")
    done = run("compare", folder / "saved" / "a.json", folder / "job.toml", "--format", "json")
    assert done.return_value == 0
    assert json.loads(done.stdout)["measures"] == []
