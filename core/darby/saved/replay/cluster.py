"""The workers of a dask.distributed scheduler. Needs the extra `cluster`, which is imported only when it is asked for."""

from __future__ import annotations

import asyncio
import logging
import re
import time
from collections.abc import Callable, Iterator
from concurrent.futures import CancelledError
from importlib import import_module
from typing import Any

from attrs import define

from darby.saved.replay.file import Setup, today_of
from darby.saved.replay.workers import Chunk, OtherCodeError, WorkersError, lost, work
from darby.saved.replay_outcome import Replayed

_ADDRESS = re.compile(r"(?:[a-z]{2,9}://)?(?:\[[0-9a-fA-F:.]+\]|[^\s:/\[\]]+):[0-9]{1,5}")

_KNOCK = 5
"""Seconds in which a scheduler that is there has answered."""


_OTHER = (
    "The worker on {} has other plugins, words or another Darby than this machine, so that results of both would be mixed. "
    "Install the same there and start it anew."
)


class ClusterError(WorkersError):
    """No cluster can be had, or what it has is of no use; the text says why and what to do."""


@define(eq=False)
class Cluster:
    """Runs chunks on a scheduler. What was on a worker that is lost is given to another."""

    client: Any
    address: str = ""
    work: Callable[[Chunk, Setup], list[Replayed]] = work
    patience: float = 30
    """Seconds to wait for a worker when none is left."""

    @classmethod
    def at(cls, address: str, seconds: int = 15) -> Cluster:
        """The cluster at an address, as `tcp://10.0.0.5:8786`. Raises ClusterError."""
        try:
            distributed = import_module("distributed")
        except ImportError as error:
            message = "--cluster needs dask.distributed, which is not installed: pip install 'darby[cluster]'."
            raise ClusterError(message) from error
        if not _ADDRESS.fullmatch(address):
            message = f"“{address}” is no address of a scheduler. It is the one that `dask scheduler` prints, as tcp://10.0.0.5:8786."
            raise ClusterError(message)
        for name in [n for n in logging.root.manager.loggerDict if n.split(".")[0] in ("distributed", "tornado")]:
            logging.getLogger(name).setLevel(logging.CRITICAL + 1)  # what goes wrong is told here, in a sentence
        try:
            asyncio.run(_answers(address, min(seconds, _KNOCK)))
            client = distributed.Client(address, timeout=seconds, set_as_default=False)
        except Exception as error:  # whatever answers there may say anything
            message = f"There is no scheduler at {address}. Start one with: dask scheduler"
            raise ClusterError(message) from error
        if not client.scheduler_info()["workers"]:
            try:
                client.wait_for_workers(1, timeout=seconds)
            except TimeoutError as error:
                client.close()
                message = f"The scheduler at {address} has no workers. Start some with: dask worker {address}"
                raise ClusterError(message) from error
        return cls(client, address)

    def close(self) -> None:
        """Leave the cluster as it is."""
        self.client.close()

    def run(self, chunks: Iterator[Chunk], setup: Setup) -> Iterator[list[Replayed]]:
        """The results as they come; a chunk that takes worker after worker down is tried file by file.

        Raises ClusterError where a worker must not be used, or the scheduler is lost.
        """
        if not setup.today:
            message = "The code of a plugin cannot be looked at here, so that there is no telling whether workers have the same. Leave out --cluster."
            raise ClusterError(message)
        self._ask(setup)
        distributed = import_module("distributed")
        threads = max(1, sum(self.client.nthreads().values()))
        going = distributed.as_completed(loop=self.client.loop)
        held: dict[str, Chunk] = {}

        def send(chunk: Chunk) -> None:
            future = self.client.submit(self.work, chunk, setup, pure=False)
            held[future.key] = chunk
            going.add(future)

        for _, chunk in zip(range(3 * threads), chunks, strict=False):
            send(chunk)
        for future in self._finished(going):
            chunk = held.pop(future.key)
            try:
                yield future.result()
            except distributed.KilledWorker:
                if len(chunk) == 1:
                    yield [lost(*chunk[0])]
                else:
                    for one in chunk:
                        send((one,))
                    continue
            except OtherCodeError as error:
                raise ClusterError(_OTHER.format(error)) from error
            except (OSError, CancelledError) as error:
                message = f"The scheduler at {self.address} no longer answers."
                raise ClusterError(message) from error
            following = next(chunks, None)
            if following is not None:
                send(following)

    def _ask(self, setup: Setup) -> None:
        """Ask all workers what they would work with, before any of them does. Raises ClusterError.

        One that has no Darby would go down with the first task, and every other of its kind after it.
        """
        for worker, answer in self.client.run(today_of, setup, on_error="return").items():
            if isinstance(answer, Exception):
                message = f"The worker on {worker} has no Darby of this version. Install the same there as here and start it anew."
                raise ClusterError(message)
            if answer != setup.today:
                raise ClusterError(_OTHER.format(worker))

    def _finished(self, going: Any) -> Iterator[Any]:
        """Futures as they are done. Raises ClusterError where all workers have been gone for long."""
        seen = asked = time.monotonic()
        while not going.is_empty():
            ready = going.next_batch(block=False)
            yield from ready
            now = time.monotonic()
            if ready or now - asked < 1:
                seen = now if ready else seen
                time.sleep(0 if ready else 0.01)
                continue
            asked = now
            if self.client.scheduler_info()["workers"]:
                seen = now
            elif now - seen > self.patience:
                message = f"The scheduler at {self.address} has no workers any more. Start some with: dask worker {self.address}"
                raise ClusterError(message)


async def _answers(address: str, seconds: int) -> None:
    """Knock at an address. Raises whatever comes of it where no scheduler answers; a client that fails ends less well."""
    comm = await import_module("distributed.comm").connect(address, timeout=seconds)
    await comm.close()
