"""`darby history`, as somebody types it."""

from __future__ import annotations

from pathlib import Path

import pytest

from commands import checked
from commands import darby as run

JOBS = "job,product,measured,hours,surface\n" + "".join(
    f"job {n},hang gypsum board,1000 sq ft,{15 + n},wall\n" for n in range(3)
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "jobs.csv").write_text(JOBS, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_report(folder: Path) -> None:
    done = run("history", "jobs.csv")
    assert done.returncode == 0
    assert done.stdout.startswith("Own rates from finished jobs\n")
    assert "Hang gypsum board: 1.6 hours per 100 sq ft on walls." in done.stdout


def test_the_lines_are_written_to_a_file_that_a_bid_can_name(folder: Path) -> None:
    assert run("history", "jobs.csv", "--format", "labor", "--out", "labor.txt").returncode == 0
    assert "1.6 hours per 100 sq ft" in (folder / "labor.txt").read_text(encoding="utf-8")
    assert "hours" not in run("history", "jobs.csv", "--format", "house").stdout.partition("\n")[2]
    assert run("history", "jobs.csv", "--out", "jobs.csv", "--force").returncode == 2


def test_plain_data(folder: Path) -> None:
    assert checked("history", run("history", "jobs.csv", "--format", "json").stdout)["rates"]
    assert run("history", "jobs.csv", "--format", "json", "--out", "x.json").returncode == 0


def test_a_mistake_is_told_with_its_line(folder: Path) -> None:
    (folder / "jobs.csv").write_text(JOBS.replace("16,", "-16,"), encoding="utf-8")
    done = run("history", "jobs.csv")
    assert done.returncode == 2
    assert "jobs.csv:3" in done.stderr
    assert run("history", "nothing.csv").returncode == 2
