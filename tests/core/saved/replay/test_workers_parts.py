"""The parts of a run: chunks, who works on them, and workers that end with whoever started them."""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest

from darby.saved.replay import workers
from darby.saved.replay.file import Setup
from darby.saved.replay.journal import Journal
from darby.saved.replay.workers import Chunk, Here, OtherCodeError, Pool, Round, lost, work, workers_for
from darby.saved.replay_outcome import Replayed
from sheds import wait_for

forked = pytest.mark.skipif(sys.platform != "linux", reason="workers are forked on Linux alone")


class Noting:
    """Workers that do nothing but note what they are given."""

    def __init__(self) -> None:
        self.chunks: list[Chunk] = []

    def run(self, chunks: Iterator[Chunk], setup: Setup) -> Iterator[list[Replayed]]:
        for chunk in chunks:
            self.chunks.append(chunk)
            yield [Replayed(name, "same", "") for name, _ in chunk]


def files(folder: Path, sizes: list[int]) -> list[str]:
    for number, size in enumerate(sizes):
        (folder / f"{number:02}.json").write_bytes(b"x" * size)
    return sorted(str(p) for p in folder.glob("*.json"))


def chunked(folder: Path, sizes: list[int]) -> list[int]:
    noting = Noting()
    Round(files(folder, sizes), Setup(), noting, Journal(None, "")).run()
    assert [data for chunk in noting.chunks for _, data in chunk] == [b"x" * size for size in sizes]
    return [len(chunk) for chunk in noting.chunks]


def test_a_chunk_is_sixteen_files_or_a_few_megabytes_of_them(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert chunked(tmp_path, [1] * 40) == [16, 16, 8]
    monkeypatch.setattr(workers, "_CHUNK_BYTES", 100)
    (tmp_path / "large").mkdir()
    assert chunked(tmp_path / "large", [60, 40, 1, 200, 50, 50, 50]) == [
        3,
        1,
        3,
    ]  # a chunk ends with the file that goes beyond


def test_results_come_in_the_order_of_the_files_and_progress_is_told_one_by_one(tmp_path: Path) -> None:
    class Backwards(Noting):
        def run(self, chunks: Iterator[Chunk], setup: Setup) -> Iterator[list[Replayed]]:
            yield from list(super().run(chunks, setup))[::-1]

    seen: list[int] = []
    named = [*files(tmp_path, [1] * 20), str(tmp_path / "zz.json")]
    summary = Round(named, Setup(), Backwards(), Journal(None, ""), seen.append).run()
    assert [f.file for f in summary.files] == named
    assert summary.files[-1].problem.endswith("zz.json cannot be opened: no such file or directory.")
    assert seen == [1] * 21
    assert not summary.stopped


def test_what_is_done_so_far_is_known_when_a_run_is_stopped(tmp_path: Path) -> None:
    class Stopping(Noting):
        def run(self, chunks: Iterator[Chunk], setup: Setup) -> Iterator[list[Replayed]]:
            yield from [next(super().run(chunks, setup))]
            raise KeyboardInterrupt

    one = Round(files(tmp_path, [1] * 20), Setup(), Stopping(), Journal(None, ""))
    with pytest.raises(KeyboardInterrupt):
        one.run()
    assert len(one.summary(stopped=True).files) == 16
    assert one.summary(stopped=True).stopped
    assert not one.summary().stopped


@pytest.mark.parametrize(
    ("many", "processes", "pool"),
    [
        (0, 4, None),
        (23, 4, None),
        (24, 4, 2),
        (24, 1, None),
        (400, 1, None),
        (33, 4, 3),
        (64, 4, 4),
        (400, 4, 4),
        (400, 2, 2),
    ],
)
def test_processes_are_started_where_they_are_worth_it_and_no_more_than_there_are_chunks(
    many: int, processes: int, pool: int | None
) -> None:
    found = workers_for(many, processes)
    assert (found.processes if isinstance(found, Pool) else None) == pool
    assert isinstance(found, Here | Pool)


def test_without_a_number_all_cores_are_used(monkeypatch: pytest.MonkeyPatch) -> None:
    for cores, pool in ((3, 3), (1, None), (None, None)):
        monkeypatch.setattr(os, "cpu_count", lambda cores=cores: cores)
        found = workers_for(400)
        assert (found.processes if isinstance(found, Pool) else None) == pool


def test_a_pool_holds_no_more_chunks_than_its_processes_need(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[int] = []

    class Executor:
        def submit(self, function: Callable[..., Any], chunk: Chunk, setup: Setup) -> Future[list[Replayed]]:
            future: Future[list[Replayed]] = Future()
            future.set_result(function(chunk, setup))
            return future

    def chunks() -> Iterator[Chunk]:
        for number in range(12):
            drawn.append(number)
            yield ((str(number), b""),)

    pool = Pool(2, lambda chunk, _: [Replayed(name, "same") for name, _ in chunk])
    results = pool._rounds(Executor(), chunks(), Setup(), {})  # type: ignore[arg-type]
    next(results)
    assert len(drawn) == 4
    assert len([one for part in results for one in part]) == 11
    assert len(drawn) == 12


def test_a_worker_refuses_a_chunk_of_other_code_and_stops_where_nobody_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workers, "today_of", lambda _: "today")
    monkeypatch.setattr(workers, "replay", lambda file, data, setup: Replayed(file, "same"))
    chunk = (("a", b""), ("b", b""))
    assert [one.file for one in work(chunk, Setup(today="today"))] == ["a", "b"]
    assert [one.file for one in work(chunk, Setup())] == ["a", "b"]
    with pytest.raises(OtherCodeError, match=str(os.getpid())):
        work(chunk, Setup(today="yesterday"))
    monkeypatch.setattr(workers._stopped, "is_set", iter((False, True)).__next__)
    assert [one.file for one in work(chunk, Setup(today="today"))] == ["a"]


def test_a_file_that_was_lost_is_told_with_its_digest() -> None:
    one = lost("a.json", b"abc")
    assert (one.file, one.became, one.digest) == (
        "a.json",
        "failed",
        "ba7816bf8f01cfea",
    )  # SHA-256 of "abc", FIPS 180-2
    assert one.problem == "a.json: the process that worked on it ended without a word."


# tied to whoever started it


def _tied(line: Any, inherited: Any, told: Any) -> None:
    """A worker that tells what comes to pass and would live for ever."""
    workers._tied(line, inherited)
    told.send(signal.getsignal(signal.SIGINT) == signal.SIG_IGN)
    workers._stopped.wait()
    told.send("stopped")
    time.sleep(3600)


@forked
def test_a_worker_whose_line_is_closed_is_told_to_stop_and_goes_on_to_the_end_of_its_file() -> None:
    context = multiprocessing.get_context("fork")
    theirs, ours = context.Pipe(duplex=False)
    heard, told = context.Pipe(duplex=False)
    worker = context.Process(target=_tied, args=(theirs, ours, told), daemon=True)
    worker.start()
    try:
        assert heard.recv() is True  # an interrupt is left to whoever started it
        assert worker.pid is not None
        os.kill(worker.pid, signal.SIGINT)
        assert not heard.poll(0.2)
        ours.close()
        assert heard.recv() == "stopped"
        assert worker.is_alive()
    finally:
        worker.kill()
        worker.join()


@forked
def test_a_worker_ends_with_the_process_that_started_it() -> None:
    context = multiprocessing.get_context("fork")
    heard, told = context.Pipe(duplex=False)

    def starter() -> None:
        theirs, ours = context.Pipe(duplex=False)
        ready, tell = context.Pipe(duplex=False)
        worker = context.Process(target=_tied, args=(theirs, ours, tell))
        worker.start()
        ready.recv()
        told.send(worker.pid)
        os._exit(0)

    parent = os.fork()
    if not parent:
        starter()
    os.waitpid(parent, 0)
    stat = Path(f"/proc/{heard.recv()}/stat")
    wait_for(lambda: not stat.exists() or stat.read_text().rpartition(")")[2].split()[0] == "Z")
