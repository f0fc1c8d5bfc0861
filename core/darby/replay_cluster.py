"""The workers of a dask.distributed scheduler. Needs the extra `cluster`, which is imported only when it is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from importlib import import_module
from typing import Any

from attrs import define

from darby.replay_pool import Chunk, lost, work
from darby.replayed import Replayed
from darby.replays import Setup


class ClusterError(Exception):
    """No cluster can be had; the text says why and what to do."""


@define(eq=False)
class Cluster:
    """Runs chunks on a scheduler. What was on a worker that is lost is given to another."""

    client: Any
    work: Callable[[Chunk, Setup], list[Replayed]] = work

    @classmethod
    def at(cls, address: str, seconds: int = 15) -> Cluster:
        """The cluster at an address, as `tcp://10.0.0.5:8786`. Raises ClusterError."""
        try:
            distributed = import_module("distributed")
        except ImportError as error:
            message = "--cluster needs dask.distributed, which is not installed: pip install 'darby[cluster]'."
            raise ClusterError(message) from error
        try:
            client = distributed.Client(address, timeout=seconds, set_as_default=False)
        except (OSError, ValueError, TimeoutError) as error:
            message = f"There is no scheduler at {address}. Start one with: dask scheduler"
            raise ClusterError(message) from error
        if not client.scheduler_info()["workers"]:
            try:
                client.wait_for_workers(1, timeout=seconds)
            except TimeoutError as error:
                client.close()
                message = f"The scheduler at {address} has no workers. Start some with: dask worker {address}"
                raise ClusterError(message) from error
        return cls(client)

    def close(self) -> None:
        """Leave the cluster as it is."""
        self.client.close()

    def run(self, chunks: Iterator[Chunk], setup: Setup) -> Iterator[list[Replayed]]:
        """The results as they come; a chunk that takes worker after worker down is tried file by file."""
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
        for future in going:
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
            following = next(chunks, None)
            if following is not None:
                send(following)
