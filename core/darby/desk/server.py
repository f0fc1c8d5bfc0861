"""Starts the desk on this machine alone, opens the browser, and ends when it is told to."""

from __future__ import annotations

import socket
from collections.abc import Callable
from contextlib import suppress

import uvicorn

from darby.desk.app import app
from darby.desk.bench import Bench
from darby.desk.guard import Keys
from darby.desk.kept import Keeping
from darby.desk.own_line import Looked

HOST = "127.0.0.1"


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
    started(f"http://{HOST}:{port}/?t={keys.once}")
    with listening, suppress(KeyboardInterrupt):  # Ctrl-C is how it ends
        uvicorn.Server(config).run(sockets=[listening])
