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
