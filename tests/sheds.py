"""Saved estimates of sheds, for tests that work many of them out again; and a cluster to do it on."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from darby.plugin_host.loader import load_plugins
from darby.rules.rule import HOUSE, SPECIFICATION
from darby.saved.replay.file import Setup, today_of
from darby.saved.replay.journal import Journal
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
SPEC = "A. Walls: one coat primer, two coats satin finish paint.\nB. Primer: 250 sq ft per gallon.\n"
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
    folder.mkdir(exist_ok=True)
    for n in range(many):
        (folder / f"shed-{n:03}.json").write_text(shed(100 + n), encoding="utf-8")
    return files_in([str(folder)])[0]


def setup(house: str = DEARER, **more: Any) -> Setup:
    return Setup((("house.txt", house),), **more)


def ran(files: list[str], made: Setup, workers: Any = None, path: Path | None = None) -> Summary:
    return Round(files, made, workers or Here(), Journal(path, today_of(made)).open()).run()


def wait_for(ready: Any, seconds: int = 300) -> None:
    end = time.monotonic() + seconds
    while not ready():
        assert time.monotonic() < end, "it did not happen"
        time.sleep(0.02)


@pytest.fixture
def cluster(tmp_path: Path) -> Any:
    """A scheduler and two worker processes, as `dask` starts them; gives the address and the workers."""
    pytest.importorskip("distributed")
    known = tmp_path / "scheduler.json"
    dask = (sys.executable, "-m", "dask")
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "cwd": tmp_path}
    quiet["env"] = {**os.environ, "DASK_CONFIG": str(tmp_path), "DASK_DISTRIBUTED__COMM__TIMEOUTS__CONNECT": "300s"}
    begun = [
        subprocess.Popen(
            (
                *dask,
                "scheduler",
                "--host",
                "127.0.0.1",
                "--port",
                "0",
                "--no-dashboard",
                "--scheduler-file",
                str(known),
            ),
            **quiet,
        )
    ]
    try:
        wait_for(lambda: known.exists() and known.read_text().strip().endswith("}"))
        address = json.loads(known.read_text())["address"]
        options = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--local-directory", str(tmp_path))
        workers = [subprocess.Popen((*dask, "worker", address, *options), **quiet) for _ in range(2)]
        begun += workers
        yield address, workers
    finally:
        for process in reversed(begun):
            process.kill()
            process.wait()
