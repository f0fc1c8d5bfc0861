"""A saved estimate keeps the schedules its job names: it is worked out again from itself, away from them."""

from __future__ import annotations

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


def test_a_changed_schedule_is_said_to_be_changed_and_no_cause_is_guessed(folder: Path) -> None:
    (folder / "rooms.csv").write_text(ROOMS.replace("20 ft", "40 ft"), encoding="utf-8")
    shown = " ".join(run("compare", folder / "saved" / "a.json", folder / "job.toml").stdout.split())
    assert "a schedule has changed, and its rows are not tried one by one" in shown
