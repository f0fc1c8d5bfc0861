"""What the child of a plugin may not do, set by the system as far as it can, and by Python for the rest.

It starts no program and no process, ends no other one, holds a gigabyte more than it was born with and writes no large file. On Linux
whatever gets away from it in spite of that is adopted by its keeper and ended. Elsewhere the process group is ended.
"""

from __future__ import annotations

import contextlib
import faulthandler
import os
import signal
import sys
import time
from pathlib import Path

MEMORY = 1 << 30
"""Bytes that a child may take beyond what it holds when it is born."""

WRITTEN = 1 << 26
"""Bytes of any file that a child writes."""

_STARTING = ("os.fork", "os.forkpty", "os.exec", "os.posix_spawn", "os.spawn", "os.system", "os.startfile", "subprocess.Popen", "pty.spawn")  # fmt: skip
_ENDING = ("os.kill", "os.killpg", "signal.pidfd_send_signal")
_SUBREAPER, _DEATH_SIGNAL = 36, 1
"""PR_SET_CHILD_SUBREAPER and PR_SET_PDEATHSIG of Linux."""


def keep_within() -> None:
    """Bound this process, for good."""
    faulthandler.disable()
    with contextlib.suppress(ImportError):
        import resource  # noqa: PLC0415 - not everywhere

        _bound(resource.RLIMIT_CORE, 0)
        _bound(resource.RLIMIT_FSIZE, WRITTEN)
        with contextlib.suppress(OSError, ValueError):
            held = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0]) * resource.getpagesize()
            _bound(resource.RLIMIT_AS, held + MEMORY)
    own = os.getpid()

    def watch(event: str, arguments: tuple[object, ...]) -> None:
        if event in _STARTING:
            raise PermissionError("a plugin starts no other program")
        if event in _ENDING and arguments[:1] != (own,):
            raise PermissionError("a plugin ends no other program")

    sys.addaudithook(watch)


def _bound(what: int, most: int) -> None:
    import resource  # noqa: PLC0415 - not everywhere

    with contextlib.suppress(OSError, ValueError):
        _, hard = resource.getrlimit(what)
        resource.setrlimit(what, (most if hard < 0 else min(most, hard), hard))


def end_with_parent(parent: int) -> None:
    """Let the system end this process when its parent ends, where it can."""
    _tell_system(_DEATH_SIGNAL, signal.SIGKILL)
    if os.getppid() != parent:
        os._exit(0)


def adopt_orphans() -> None:
    """Make whatever this process's children leave behind its own, where the system can."""
    _tell_system(_SUBREAPER, 1)


def _tell_system(what: int, value: int) -> None:
    if sys.platform == "linux":
        with contextlib.suppress(Exception):  # a C library that is not there
            import ctypes  # noqa: PLC0415 - wanted here alone

            ctypes.CDLL(None).prctl(what, value, 0, 0, 0)


def kill_children(seconds: int = 5) -> None:
    """End every child of this process, with all that these leave behind, and this process's group last of all."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        for child in _children():
            with contextlib.suppress(ProcessLookupError, PermissionError):
                os.kill(child, signal.SIGKILL)
        try:
            if os.waitpid(-1, os.WNOHANG) == (0, 0):
                time.sleep(0.001)
                if not _children():  # the system names none: the group is all that can be ended
                    break
        except ChildProcessError:
            return
    os.killpg(0, signal.SIGKILL)


def _children() -> list[int]:
    """The children of this process, where the system says which."""
    try:
        lists = Path("/proc/self/task").glob("*/children")
        return [int(pid) for one in lists for pid in one.read_text(encoding="ascii").split()]
    except OSError:
        return []
