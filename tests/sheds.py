"""Saved estimates of sheds, for tests that work many of them out again."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from functools import cache
from pathlib import Path
from typing import Any

from darby.plugin_host.loader import load_plugins
from darby.rules.rule import HOUSE, SPECIFICATION
from darby.saved.replay.file import Setup, today_of
from darby.saved.replay.journal import NAME, Journal
from darby.saved.replay.one import Office
from darby.saved.replay.workers import Here, Round, files_in
from darby.saved.replay_outcome import Summary
from darby.saved.writer import text_of, with_longhand
from darby.text.spans import Source

DARBY = Path(sys.executable).with_name("darby")

JOB = """\
name = "Shed {n}"
units = "us"

[[walls]]
name = "front"
length = "{n} ft"
height = "9 ft"
faces = 2

[[ceilings]]
name = "loft"
length = "{n} ft"
width = "20 ft"
"""
SPEC = "A. Walls: one coat primer, two coats satin finish paint.\nB. Primer: 250 sq ft per gallon.\nGYPSUM BOARD\n"
LINES = "Joint compound: 13 lb per 100 sq ft.\nJoint compound comes in 64 lb pails.\n"
DEARER = LINES.replace("13 lb", "26 lb")


@cache
def office() -> Office:
    return Office.of(load_plugins())


@cache
def shed(n: int) -> str:
    papers = [(Source("house.txt", LINES), HOUSE), (Source("spec.txt", SPEC), SPECIFICATION)]
    worked = office().work(Source("job.toml", JOB.format(n=n)), papers)
    assert worked.estimate is not None, worked.problems
    assert worked.saved is not None
    return text_of(with_longhand(worked.saved, worked.estimate))


def sheds(folder: Path, many: int) -> list[str]:
    """Files of as many sheds, of a dozen lengths in turn: each file is worked out for itself, whatever the others hold."""
    folder.mkdir(exist_ok=True)
    for n in range(many):
        (folder / f"shed-{n:03}.json").write_text(shed(100 + n % 12), encoding="utf-8")
    return files_in([str(folder)])[0]


def setup(house: str = DEARER, **more: Any) -> Setup:
    return Setup((("house.txt", house),), **more)


def ran(files: list[str], made: Setup, workers: Any = None, path: Path | None = None) -> Summary:
    return Round(files, made, workers or Here(), Journal(path, today_of(made)).open()).run()


def wait_for(ready: Any, seconds: int = 120) -> None:
    end = time.monotonic() + seconds
    while not ready():
        assert time.monotonic() < end, "it did not happen"
        time.sleep(0.02)


def command(*more: str) -> tuple[str, ...]:
    return (sys.executable, str(DARBY), "replay", "jobs", "--house", "house.txt", *more)


def started(folder: Path, *more: str, stderr: Any = subprocess.PIPE, **how: Any) -> subprocess.Popen[str]:
    environment = {
        k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "FORCE_COLOR", "COLUMNS", "TTY_COMPATIBLE")
    }
    return subprocess.Popen(
        command(*more), stdout=subprocess.PIPE, stderr=stderr, text=True, cwd=folder, start_new_session=True,
        env=environment | {"TERM": "xterm"}, **how,
    )  # fmt: skip


def ended(run: subprocess.Popen[str], seconds: int = 300) -> tuple[int, str, str]:
    out, err = run.communicate(timeout=seconds)
    return run.returncode, out, err


def noted(folder: Path) -> int:
    """How many files the journal says are done."""
    journal = folder / "jobs" / NAME
    return max(0, journal.read_bytes().count(b"\n") - 1) if journal.exists() else 0
