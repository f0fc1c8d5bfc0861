"""Files from outside, opened once in a child process with limits before they come near the job."""

from __future__ import annotations

import multiprocessing
from multiprocessing.connection import Connection

from darby.desk.files.folder import LARGEST, RefusedError
from darby.documents.words import one_line

_SECONDS = 30
_MEMORY = 1_000_000_000
"""What opening a document may take. Common practice, no source."""


def looked_over(data: bytes, name: str, *, table: bool = False, seconds: int = _SECONDS, memory: int = _MEMORY) -> None:
    """Open a file as the reader would, in a process of its own; `RefusedError` says why it is not taken.

    Where a `table` is wanted, a spreadsheet will do. `seconds` and `memory`, in bytes, are what opening it may take.
    """
    if len(data) > LARGEST:
        raise RefusedError(f"{name} is larger than {LARGEST // 1_000_000} MB, and was not taken.")
    if not data:
        raise RefusedError("No file was chosen, or it is empty.")
    here, there = multiprocessing.get_context("spawn").Pipe(duplex=False)
    child = multiprocessing.get_context("spawn").Process(
        target=_open, args=(there, data, name, table, seconds, memory), daemon=True
    )
    child.start()
    there.close()
    try:
        if not here.poll(seconds):
            raise RefusedError(f"{name} takes longer than {seconds} seconds to open, and was not taken.")
        wrong = here.recv()
    except EOFError:
        raise RefusedError(f"{name} cannot be opened within the memory it is given, and was not taken.") from None
    finally:
        child.kill()
        child.join()
        here.close()
    if wrong:
        raise RefusedError(one_line(str(wrong)))


def _open(answer: Connection, data: bytes, name: str, table: bool, seconds: int, memory: int) -> None:
    """In the child: nothing where the file opens, else why it does not."""
    try:
        import resource  # noqa: PLC0415 - not on every system

        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        resource.setrlimit(resource.RLIMIT_CPU, (seconds + 1, seconds + 1))
        resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
    except (ImportError, ValueError, OSError):
        pass
    from darby.text.files import decode  # noqa: PLC0415 - in the child alone

    source, found = decode(data, name, table=table)
    answer.send("" if source is not None else " ".join(f"{d.message} {d.help}" for d in found))
    answer.close()
