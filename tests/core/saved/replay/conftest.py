"""A cluster of this machine for the tests that need a real one: a scheduler and two workers, as `dask` starts them."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from attrs import define, field

from sheds import DEARER, sheds, wait_for

DASK = (sys.executable, "-m", "dask")
_NO_LOOKING_ON = {
    "DASK_DISTRIBUTED__WORKER__PROFILE__ENABLED": "False",
    "DASK_DISTRIBUTED__ADMIN__SYSTEM_MONITOR__INTERVAL": "60s",
}
"""What a scheduler and its workers do to watch themselves, while nobody else works."""


@define(eq=False)
class Crew:
    """A scheduler with its workers."""

    folder: Path
    address: str = ""
    scheduler: subprocess.Popen[bytes] = field(init=False)
    workers: list[subprocess.Popen[bytes]] = field(factory=list)

    def begin(self) -> None:
        known = self.folder / "scheduler.json"
        options = ("--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", str(known))
        self.scheduler = self.started("scheduler", *options)
        wait_for(lambda: known.exists() and known.read_text().strip().endswith("}"))
        self.address = json.loads(known.read_text())["address"]

    def complete(self) -> None:
        """Have two workers, and none that is gone."""
        import distributed

        self.workers = [worker for worker in self.workers if worker.poll() is None]
        options = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--local-directory", str(self.folder))
        self.workers += [self.started("worker", self.address, *options) for _ in range(2 - len(self.workers))]
        with distributed.Client(self.address, set_as_default=False) as client:
            wait_for(lambda: len(client.scheduler_info()["workers"]) == 2)

    def end(self) -> None:
        for process in (*self.workers, self.scheduler):
            process.kill()
            process.wait()

    def started(self, *command: str) -> subprocess.Popen[bytes]:
        config = {
            "DASK_CONFIG": str(self.folder),
            "DASK_DISTRIBUTED__COMM__TIMEOUTS__CONNECT": "300s",
            **_NO_LOOKING_ON,
        }
        quiet: dict[str, Any] = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "cwd": self.folder}
        return subprocess.Popen((*DASK, *command), env={**os.environ, **config}, **quiet)


def crew_in(folder: Path) -> Iterator[Crew]:
    pytest.importorskip("distributed")
    crew = Crew(folder)
    try:
        crew.begin()
        yield crew
    finally:
        crew.end()


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """A folder of sixty saved estimates, and house lines that move them."""
    sheds(tmp_path / "jobs", 60)
    (tmp_path / "house.txt").write_text(DEARER)
    return tmp_path


@pytest.fixture(scope="module")
def _crew(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Crew]:
    yield from crew_in(tmp_path_factory.mktemp("crew"))


@pytest.fixture
def cluster(_crew: Crew) -> tuple[str, list[subprocess.Popen[bytes]]]:
    """The address of a scheduler and its two workers, which may be killed."""
    _crew.complete()
    return _crew.address, _crew.workers


@pytest.fixture
def own_cluster(tmp_path: Path) -> Iterator[Crew]:
    """A cluster of one test alone, whose scheduler may be killed as well."""
    for crew in crew_in(tmp_path):
        crew.complete()
        yield crew
