"""Chunks on a scheduler: handed out in turn, taken back in any order, tried one by one when they take workers down.

The scheduler here is one in this process, which works chunks out when it is asked for them. A real one is in `test_file`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import CancelledError
from itertools import count
from types import SimpleNamespace
from typing import Any

import pytest
from attrs import define, field

from darby.saved.replay import cluster
from darby.saved.replay.cluster import Cluster, ClusterError
from darby.saved.replay.file import Setup
from darby.saved.replay.workers import Chunk, OtherCodeError
from darby.saved.replay_outcome import Replayed

TODAY = Setup(today="today")


class KilledWorker(Exception):  # noqa: N818 - as the library calls it
    pass


@define(eq=False)
class Future:
    key: str
    made: Callable[[], Any]

    def result(self) -> Any:
        return self.made()


@define(eq=False)
class Completed:
    """Futures in the order in which they are done: the last one first, so that nothing hangs on their order."""

    waiting: list[Future] = field(factory=list)

    def add(self, future: Future) -> None:
        self.waiting.append(future)

    def is_empty(self) -> bool:
        return not self.waiting

    def next_batch(self, *, block: bool) -> list[Future]:
        assert not block
        return [self.waiting.pop()]


@define(eq=False)
class Client:
    threads: dict[str, int] = field(factory=lambda: {"one": 1, "two": 1})
    answers: dict[str, Any] = field(factory=lambda: {"one": "today", "two": "today"})
    sent: list[Chunk] = field(factory=list)
    together: int = 0
    """Most chunks that were out at one time."""
    out: int = 0
    loop: None = None
    closed: bool = False
    numbers: Iterator[int] = field(factory=count)

    def nthreads(self) -> dict[str, int]:
        return self.threads

    def run(self, function: Callable[..., Any], setup: Setup, *, on_error: str) -> dict[str, Any]:
        assert (setup, on_error) == (TODAY, "return")
        return self.answers

    def submit(self, work: Callable[..., Any], chunk: Chunk, setup: Setup, *, pure: bool) -> Future:
        assert not pure, "the same chunk sent twice is to be worked out twice"
        self.sent.append(chunk)
        self.out += 1
        self.together = max(self.together, self.out)

        def made() -> Any:
            self.out -= 1
            return work(chunk, setup)

        return Future(f"task {next(self.numbers)}", made)

    def close(self) -> None:
        self.closed = True


@pytest.fixture
def library(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = SimpleNamespace(as_completed=lambda loop: Completed(), KilledWorker=KilledWorker)
    monkeypatch.setattr(cluster, "import_module", lambda _: fake)


def same(chunk: Chunk, _: Setup) -> list[Replayed]:
    return [Replayed(name, "same", data.decode()) for name, data in chunk]


def chunks(many: int, each: int = 2) -> list[Chunk]:
    return [tuple((f"{n}-{m}", b"data") for m in range(each)) for n in range(many)]


def done(
    work: Callable[[Chunk, Setup], list[Replayed]], many: list[Chunk], client: Client | None = None
) -> list[Replayed]:
    found = Cluster(client or Client(), "tcp://here:1", work)
    return [one for part in found.run(iter(many), TODAY) for one in part]


@pytest.mark.usefixtures("library")
@pytest.mark.parametrize("many", [0, 1, 5, 6, 7, 40])
def test_every_chunk_is_worked_out_once_and_no_more_are_out_than_three_a_thread(many: int) -> None:
    client = Client()
    found = done(same, chunks(many), client)
    assert sorted(one.file for one in found) == sorted(name for chunk in chunks(many) for name, _ in chunk)
    assert client.sent == chunks(many)
    assert client.together == min(many, 6)
    assert all((one.became, one.digest) == ("same", "data") for one in found)


@pytest.mark.usefixtures("library")
def test_a_cluster_that_tells_of_no_thread_is_given_work_all_the_same() -> None:
    assert len(done(same, chunks(9), Client(threads={}))) == 18


@pytest.mark.usefixtures("library")
def test_chunks_are_drawn_as_they_are_needed() -> None:
    drawn: list[int] = []

    def drawing() -> Iterator[Chunk]:
        for number, chunk in enumerate(chunks(20)):
            drawn.append(number)
            yield chunk

    results = Cluster(Client(), "", same).run(drawing(), TODAY)
    next(results)
    assert len(drawn) == 6
    next(results)
    assert len(drawn) == 7


@pytest.mark.usefixtures("library")
def test_a_chunk_that_takes_workers_down_is_tried_file_by_file_and_only_the_file_that_does_it_is_lost() -> None:
    def deadly(chunk: Chunk, setup: Setup) -> list[Replayed]:
        if any(name == "1-2" for name, _ in chunk):
            raise KilledWorker
        return same(chunk, setup)

    client = Client()
    found = {one.file: one for one in done(deadly, chunks(3, 4), client)}
    assert len(found) == 12
    (lost,) = (one for one in found.values() if one.became == "failed")
    assert lost.file == "1-2"
    assert lost.problem == "1-2: the process that worked on it ended without a word."
    assert sorted(len(chunk) for chunk in client.sent) == [1] * 4 + [4] * 3


@pytest.mark.usefixtures("library")
@pytest.mark.parametrize("error", [OSError(), CancelledError()])
def test_a_scheduler_that_goes_away_is_told(error: BaseException) -> None:
    def gone(*_: object) -> list[Replayed]:
        raise error

    with pytest.raises(ClusterError, match="The scheduler at tcp://here:1 no longer answers"):
        done(gone, chunks(1))


@pytest.mark.usefixtures("library")
def test_a_worker_that_turns_out_to_have_other_code_is_told() -> None:
    def other(*_: object) -> list[Replayed]:
        raise OtherCodeError("box 7")

    with pytest.raises(ClusterError, match="The worker on box 7 has other plugins"):
        done(other, chunks(1))


@pytest.mark.usefixtures("library")
@pytest.mark.parametrize(
    ("answer", "said"),
    [
        ("yesterday", "The worker on two has other plugins"),
        (ImportError("darby"), "The worker on two has no Darby of this version"),
    ],
)
def test_workers_are_asked_before_any_gets_work(answer: object, said: str) -> None:
    client = Client(answers={"one": "today", "two": answer})
    with pytest.raises(ClusterError, match=said):
        done(same, chunks(3), client)
    assert client.sent == []


@pytest.mark.usefixtures("library")
def test_code_that_cannot_be_looked_at_goes_to_no_cluster() -> None:
    client = Client(answers={"one": "", "two": ""})
    with pytest.raises(ClusterError, match="cannot be looked at here"):
        list(Cluster(client, "").run(iter(chunks(1)), Setup()))
    assert client.sent == []


@pytest.mark.usefixtures("library")
def test_workers_that_stay_away_are_waited_for_with_patience_and_then_told(monkeypatch: pytest.MonkeyPatch) -> None:
    clock = count()
    monkeypatch.setattr(cluster, "time", SimpleNamespace(monotonic=lambda: next(clock), sleep=lambda _: None))

    class Never(Completed):
        def next_batch(self, *, block: bool) -> list[Future]:
            return []

    class Left(Client):
        asked = 0

        def scheduler_info(self) -> dict[str, Any]:
            self.asked += 1
            return {"workers": {"one": {}} if self.asked <= 10 else {}}

    client = Left()
    with pytest.raises(ClusterError, match="has no workers any more"):
        list(Cluster(client, "tcp://here:1", patience=30)._finished(Never([Future("x", lambda: None)])))
    # a second goes by at each look: ten while there is a worker, then thirty and one without
    assert client.asked == 10 + 31


def test_leaving_a_cluster_closes_the_way_to_it() -> None:
    client = Client()
    Cluster(client).close()
    assert client.closed


# coming to a cluster


@define(eq=False)
class There(Client):
    """A client of a scheduler that has workers, or gets one when somebody waits for it, or never does."""

    workers: int = 1
    comes: bool = True
    waited: list[tuple[int, int]] = field(factory=list)

    def scheduler_info(self) -> dict[str, Any]:
        return {"workers": dict.fromkeys(range(self.workers))}

    def wait_for_workers(self, many: int, timeout: int) -> None:
        self.waited.append((many, timeout))
        if not self.comes:
            raise TimeoutError


def came(monkeypatch: pytest.MonkeyPatch, client: Client, *, answers: bool = True) -> Cluster:
    async def knock(address: str, seconds: int) -> None:
        assert (address, seconds) == ("tcp://10.0.0.5:8786", 5)
        if not answers:
            raise OSError

    def made(address: str, *, timeout: int, set_as_default: bool) -> Client:
        assert (address, timeout, set_as_default) == ("tcp://10.0.0.5:8786", 15, False)
        return client

    monkeypatch.setattr(cluster, "_answers", knock)
    monkeypatch.setattr(cluster, "import_module", lambda _: SimpleNamespace(Client=made))
    return Cluster.at("tcp://10.0.0.5:8786")


def test_a_scheduler_with_workers_is_used_at_once_and_one_without_is_given_time_for_the_first(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    busy, empty = There(workers=2), There(workers=0)
    found = came(monkeypatch, busy)
    assert (found.client, found.address, busy.waited) == (busy, "tcp://10.0.0.5:8786", [])
    assert came(monkeypatch, empty).client is empty
    assert empty.waited == [(1, 15)]
    assert not empty.closed


def test_a_scheduler_that_gets_no_worker_or_does_not_answer_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    alone = There(workers=0, comes=False)
    with pytest.raises(
        ClusterError, match=r"The scheduler at tcp://10\.0\.0\.5:8786 has no workers\. Start some with: dask worker"
    ):
        came(monkeypatch, alone)
    assert alone.closed
    with pytest.raises(
        ClusterError, match=r"There is no scheduler at tcp://10\.0\.0\.5:8786\. Start one with: dask scheduler"
    ):
        came(monkeypatch, There(), answers=False)


def test_what_the_library_says_of_itself_is_silenced_and_nobody_else_is(monkeypatch: pytest.MonkeyPatch) -> None:
    import logging

    ours, theirs = (
        logging.getLogger("darby.cluster.test"),
        [logging.getLogger(n) for n in ("distributed.x", "tornado.y")],
    )
    before = {logger: logger.level for logger in (ours, *theirs)}
    try:
        came(monkeypatch, There())
        assert [logger.isEnabledFor(logging.CRITICAL) for logger in (ours, *theirs)] == [True, False, False]
    finally:
        for logger, level in before.items():
            logger.setLevel(level)
