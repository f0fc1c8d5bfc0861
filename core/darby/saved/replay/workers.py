"""Many saved estimates worked out again, on all cores of this machine or on those of a cluster, in chunks.

Workers are given bytes and give back results; they hold nothing else, so that what comes out is the same wherever it ran.
"""

from __future__ import annotations

import hashlib
import multiprocessing
import multiprocessing.connection
import os
import platform
import signal
import sys
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Protocol

from attrs import define, field

from darby.saved.replay.file import Setup, read_bytes, replay, today_of
from darby.saved.replay.journal import Journal
from darby.saved.replay_outcome import Replayed, Summary

CHUNK = 16
"""Files in one task: one alone costs more in sending than in working."""

_CHUNK_BYTES = 4 << 20
"""Bytes that make a task however few files they are, so that large ones are shared out and noted as they are done."""

_FEW = 24
"""Files that are not worth starting processes for."""

Progress = Callable[[int], None]
Chunk = tuple[tuple[str, bytes], ...]


class WorkersError(Exception):
    """Workers that cannot be had, or must not be used; the text says why and what to do."""


class OtherCodeError(Exception):
    """A worker that would work things out otherwise, since it has other plugins or another Darby. Says which it is."""


def work(chunk: Chunk, setup: Setup) -> list[Replayed]:
    """What a worker does. Raises OtherCodeError where its code is not that of whoever sent the chunk."""
    if setup.today and today_of(setup) != setup.today:
        raise OtherCodeError(f"{platform.node() or 'a machine'} (process {os.getpid()})")
    done: list[Replayed] = []
    for file, data in chunk:
        if _stopped.is_set():
            break  # nobody waits for it any more
        done.append(replay(file, data, setup))
    return done


_stopped = threading.Event()
"""In a worker: set when whoever started it wants no more results."""


class Workers(Protocol):
    """Where chunks are worked out."""

    def run(self, chunks: Iterator[Chunk], setup: Setup) -> Iterator[list[Replayed]]:
        """The results of all chunks, in any order."""
        ...


@define(eq=False)
class Here:
    """In this process, one file after another."""

    def run(self, chunks: Iterator[Chunk], setup: Setup) -> Iterator[list[Replayed]]:
        """The results, one by one."""
        for chunk in chunks:
            for file, data in chunk:
                yield [replay(file, data, setup)]


@define(eq=False)
class Pool:
    """In processes of this machine. A file that takes its process down is found out, tried alone, and told."""

    processes: int
    work: Callable[[Chunk, Setup], list[Replayed]] = work

    def run(self, chunks: Iterator[Chunk], setup: Setup) -> Iterator[list[Replayed]]:
        """The results as they come; no more chunks are held than the processes need. Raises WorkersError."""
        broken = True
        while broken:
            waiting: dict[Future[list[Replayed]], Chunk] = {}
            try:
                with _processes(self.processes) as executor:
                    yield from self._rounds(executor, chunks, setup, waiting)
                broken = False
            except BrokenProcessPool:
                for chunk in waiting.values():
                    yield from self._one_by_one(chunk, setup)
            except OtherCodeError as error:
                message = (
                    "Darby or one of its plugins was changed while this ran, so that results of both would be mixed."
                )
                raise WorkersError(message) from error

    def _rounds(
        self, executor: Executor, chunks: Iterator[Chunk], setup: Setup,
        waiting: dict[Future[list[Replayed]], Chunk],
    ) -> Iterator[list[Replayed]]:  # fmt: skip
        """Hand out chunks until there are no more. Raises BrokenProcessPool; what was handed out then stays in `waiting`."""
        for chunk in chunks:
            try:
                with _interrupts_held():
                    future = executor.submit(self.work, chunk, setup)
                waiting[future] = chunk
            except BrokenProcessPool:
                waiting[Future()] = chunk
                raise
            while len(waiting) >= 2 * self.processes:
                yield from _finished(waiting)
        while waiting:
            yield from _finished(waiting)

    def _one_by_one(self, chunk: Chunk, setup: Setup) -> Iterator[list[Replayed]]:
        """Each file in a process that no other file depends on."""
        left = deque(chunk)
        while left:
            try:
                with _processes(1) as executor:
                    while left:
                        with _interrupts_held():
                            future = executor.submit(self.work, (left[0],), setup)
                        yield future.result()
                        left.popleft()
            except BrokenProcessPool:
                yield [lost(*left.popleft())]


@contextmanager
def _processes(many: int) -> Iterator[Executor]:
    """Processes that end with the block: after the file they are at where it is left by an error, since what follows is
    wanted by nobody. They end with this process, too, however it ends."""
    # A fork has everything loaded, and a new process has to load it all again; but no fork beside threads, whose locks it
    # would inherit, and none where the system's own libraries do not bear it.
    forked = sys.platform == "linux" and threading.active_count() == 1
    context = multiprocessing.get_context("fork" if forked else "spawn")
    theirs, ours = context.Pipe(duplex=False)
    tied = (theirs, ours if forked else None)
    executor = ProcessPoolExecutor(many, mp_context=context, initializer=_tied, initargs=tied)
    try:
        yield executor
    except BaseException:
        ours.close()
        raise
    finally:
        executor.shutdown(wait=True, cancel_futures=True)
        ours.close()
        theirs.close()


def _tied(line: Connection, inherited: Connection | None) -> None:
    """In a worker: leave an interrupt to whoever started it, stop when the other end of the line is closed, end when that process does.

    `inherited` is a fork's own copy of that other end.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if inherited is not None:
        inherited.close()

    def watch() -> None:
        parent = multiprocessing.parent_process()
        ends = [parent.sentinel] if parent is not None else []
        ready = multiprocessing.connection.wait([line, *ends])
        # It is let go on to the end of its file: a process that dies at once may leave the executor waiting for ever.
        if ends and not any(end in ready for end in ends):
            _stopped.set()
            multiprocessing.connection.wait(ends)
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()


@contextmanager
def _interrupts_held() -> Iterator[None]:
    """Hold an interrupt back while a process may be started: it would hit that one before it is ready for it."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def lost(file: str, data: bytes) -> Replayed:
    """A file at which the process ended that worked on it."""
    digest = hashlib.sha256(data).hexdigest()[:16]
    return Replayed(file, "failed", digest, problem=f"{file}: the process that worked on it ended without a word.")


def _finished(waiting: dict[Future[list[Replayed]], Chunk]) -> Iterator[list[Replayed]]:
    done, _ = wait(waiting, return_when=FIRST_COMPLETED)
    for future in done:
        result = future.result()
        del waiting[future]
        yield result


def files_in(named: Sequence[str]) -> tuple[list[str], list[str]]:
    """The saved estimates in some folders and below them, and files named one by one, sorted; and what is not there.

    Names that begin with a dot are passed over, as are files in folders that do not end in `.json`.
    """
    found: set[str] = set()
    missing: list[str] = []
    for name in named:
        path = Path(name)
        if path.is_dir():
            for folder, inner, files in os.walk(path):
                inner[:] = [i for i in inner if not i.startswith(".")]
                found.update(str(Path(folder) / f) for f in files if f.endswith(".json") and not f.startswith("."))
        elif path.exists():
            found.add(name)
        else:
            missing.append(name)
    return sorted(found), missing


@define(eq=False)
class Round:
    """A run over many files: what is done already is taken from the journal, and every result goes into it at once."""

    files: Sequence[str]
    setup: Setup
    workers: Workers
    journal: Journal
    progress: Progress = field(default=lambda _: None)
    results: dict[str, Replayed] = field(factory=dict, init=False)

    def run(self) -> Summary:
        """All results, in the order of the files."""
        for results in self.workers.run(self._chunks(), self.setup):
            self.journal.add(results)
            self._take(results)
        return self.summary()

    def summary(self, *, stopped: bool = False) -> Summary:
        """What is done so far."""
        return Summary(tuple(self.results[f] for f in self.files if f in self.results), stopped)

    def _take(self, results: Iterable[Replayed]) -> None:
        for one in results:
            self.results[one.file] = one
            self.progress(1)

    def _chunks(self) -> Iterator[Chunk]:
        """The files that are still to be done, read when their turn comes."""
        chunk: list[tuple[str, bytes]] = []
        size = 0
        for file in self.files:
            try:
                data = read_bytes(Path(file))
            except OSError as error:
                why = (error.strerror or str(error)).lower()
                self._take([Replayed(file, "failed", problem=f"{file} cannot be opened: {why}.")])
                continue
            known = self.journal.still_holds(file, hashlib.sha256(data).hexdigest()[:16])
            if known is not None:
                self._take([known])
                continue
            chunk.append((file, data))
            size += len(data)
            if len(chunk) == CHUNK or size > _CHUNK_BYTES:
                yield tuple(chunk)
                chunk, size = [], 0
        if chunk:
            yield tuple(chunk)


def workers_for(files: int, processes: int | None = None) -> Workers:
    """All cores of this machine, or this process alone where there is little to do."""
    processes = processes or os.cpu_count() or 1
    return Here() if files < _FEW or processes == 1 else Pool(min(processes, -(-files // CHUNK)))
