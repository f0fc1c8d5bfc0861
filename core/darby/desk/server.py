"""Starts the desk on this machine alone, opens the browser, and ends when it is told to."""

from __future__ import annotations

import gc
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from threading import Event, Thread

import uvicorn

from darby.desk.app import app
from darby.desk.bench import Bench
from darby.desk.guard import Keys
from darby.desk.kept import Keeping
from darby.desk.panes.own_line import Looked

HOST = "127.0.0.1"
_REST = 10.0
"""Seconds without a change after which memory is tidied: it takes a third of a second with a thousand rooms. Chosen for speed."""
_LEFT = 10_000
"""Values that are left over by then, for which it is worth it: some eight changes leave as many. Chosen for speed."""
_MOST_CHANGES = 100
"""Changes after which it is tidied however fast they come."""


def serve(bench: Bench, look: Looked, started: Callable[[str], None], keeping: Keeping | None = None) -> None:
    """Serve until Ctrl-C. `started` is given the address, which opens the desk once, as soon as it answers."""
    keys = Keys()
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.bind((HOST, 0))
    port = listening.getsockname()[1]
    listening.listen(64)
    config = uvicorn.Config(
        app(bench, look, keys, port, keeping), log_level="critical", access_log=False, lifespan="off", server_header=False,
        date_header=False, timeout_keep_alive=5, timeout_graceful_shutdown=3, limit_concurrency=64, ws="none",
        h11_max_incomplete_event_size=64_000,
    )  # fmt: skip
    with listening, tidied(bench), suppress(KeyboardInterrupt):  # Ctrl-C is how it ends
        Thread(
            target=bench.ahead, name="ahead", daemon=True
        ).start()  # in here: outside, it would let the collector run again
        started(f"http://{HOST}:{port}/?t={keys.once}")
        uvicorn.Server(config).run(sockets=[listening])


@contextmanager
def tidied(bench: Bench, rest: float = _REST, most: int = _MOST_CHANGES) -> Iterator[None]:
    """Hold the collector of cycles back inside the block, and let it run whenever nothing has changed for `rest` seconds and much is
    left over, or `most` changes were made since: in the middle of a change it would be waited for.
    """
    on, ended = gc.isenabled(), Event()

    def tidy() -> None:
        last = done = bench.version
        while not ended.wait(rest):
            now = bench.version
            if (now == last and gc.get_count()[0] > _LEFT) or now - done > most:
                gc.collect()
                done = now
            last = now

    gc.disable()
    thread = Thread(target=tidy, name="tidy", daemon=True)
    thread.start()
    try:
        yield
    finally:
        ended.set()
        thread.join()
        if on:
            gc.enable()
