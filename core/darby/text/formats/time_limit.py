"""A bound on the time that a library may take over somebody's file, where nothing else bounds it."""

from __future__ import annotations

import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

ALLOWANCE = 120
"""Seconds of work for one file; a whole project manual takes a few."""


class TooLongError(BaseException):
    """Raised inside of what takes too long; no plain exception, so that a library which catches all of these lets it pass."""


@contextmanager
def at_most(seconds: int = ALLOWANCE) -> Iterator[None]:
    """Raises TooLongError after so many seconds of work of this process: at once in the main thread, where the system can; elsewhere
    nothing is cut short, and whoever goes through pages asks `over` after each.
    """
    can = hasattr(signal, "setitimer") and threading.current_thread() is threading.main_thread()
    if not can or signal.getitimer(signal.ITIMER_PROF)[0]:
        yield
        return

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise TooLongError

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds, 1)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def over(begun: float, seconds: int = ALLOWANCE) -> None:
    """Raises TooLongError where more seconds of work have passed since `begun`, as `time.process_time` tells them."""
    if time.process_time() - begun > seconds:
        raise TooLongError
