"""One child process for one plugin: started once, asked again and again, bounded in time, memory, output and children.

Between Darby and the child stands a keeper, in which no code of a plugin runs: when Darby lets go or ends, it ends the child and all that the
child has started, whatever that did to get away. On a system without the means some of these bounds are looser; see `limits`.
"""

from __future__ import annotations

import contextlib
import os
import selectors
import signal
import sys
import time
import warnings
import weakref
from collections.abc import Callable
from typing import NoReturn

from darby.plugin_host.isolation.bounds import allowance
from darby.plugin_host.isolation.failures import BrokenError
from darby.plugin_host.isolation.limits import adopt_orphans, end_with_parent, keep_within, kill_children

Serve = Callable[[bytes], bytes]
"""In the child: what a request is answered with."""

LONGEST = 1 << 26
"""Bytes of an answer; a longer one is not looked at."""

_SAID = 1 << 16
"""Bytes that a plugin may print; the rest is cut off."""

_PER_SECOND = 1_000_000
"""Bytes of a request for which a child is given a second more, to unpack them."""


class Child:
    """A child process that serves requests. `serve` runs in the child; what it raises ends it."""

    def __init__(self, serve: Serve) -> None:
        self.failure = ""
        self._printed = 0
        self._left = memoryview(b"")
        requests, replies, printed, life = (os.pipe() for _ in range(4))
        for stream in (sys.stdout, sys.stderr):
            with contextlib.suppress(Exception):
                stream.flush()
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", DeprecationWarning)  # of forking beside threads: the child takes none along
            keeper = os.fork()
        if not keeper:
            _keep(serve, requests[0], replies[1], printed[1], life[0])
        for end in (requests[0], replies[1], printed[1], life[0]):
            os.close(end)
        self._to, self._from, self._heard = requests[1], replies[0], printed[0]
        for end in (self._to, self._from, self._heard):
            os.set_blocking(end, False)
        self._end = weakref.finalize(self, _let_go, os.getpid(), keeper, (life[1], self._to, self._from, self._heard))

    def ask(self, request: bytes, seconds: int | None = None) -> bytes:
        """What the child answers. Raises BrokenError where it does not, or not in time; it is asked nothing more then."""
        self.begin(request, seconds)
        return self.end()

    def begin(self, request: bytes, seconds: int | None = None) -> None:
        """Ask, and let the child work on the answer until `end` takes it. Raises BrokenError."""
        if self.failure:
            raise BrokenError(self.failure)
        self._allowed = allowance() if seconds is None else seconds
        self._deadline = time.monotonic() + self._allowed + len(request) / _PER_SECOND
        self._left = memoryview(len(request).to_bytes(8, "big") + request)
        with contextlib.suppress(OSError):  # what does not go yet, or not at all, is met by `end`
            self._left = self._left[os.write(self._to, self._left[: 1 << 16]) :]

    def end(self) -> bytes:
        """The answer to what was asked last. Raises BrokenError."""
        if self.failure:
            raise BrokenError(self.failure)
        try:
            return self._answered(self._deadline)
        except TimeoutError:
            self.give_up(f"did not stop within {self._allowed} seconds")
        except (OSError, EOFError):
            self.give_up("ended the program, or was ended by the system, as when memory runs out")
        except OverflowError:
            self.give_up("gave more than can be looked at")

    def give_up(self, why: str) -> NoReturn:
        """End the child, and raise BrokenError with the reason now and whenever it is asked again."""
        self.fail(why)
        raise BrokenError(why)

    def fail(self, why: str) -> None:
        """End the child; whenever it is asked again BrokenError is raised with the reason."""
        self.failure = why
        self.close()

    def close(self) -> None:
        """End the child and all that it started."""
        if self._end.alive:
            self._listen()
            self._end()

    def _answered(self, deadline: float) -> bytes:
        got = bytearray()
        with selectors.DefaultSelector() as ready:
            if self._left:
                ready.register(self._to, selectors.EVENT_WRITE)
            ready.register(self._from, selectors.EVENT_READ)
            ready.register(self._heard, selectors.EVENT_READ)
            while True:
                waiting = deadline - time.monotonic()
                events = ready.select(max(0, waiting))
                if not events and waiting <= 0:
                    raise TimeoutError
                for key, _ in events:
                    if key.fd == self._to:
                        self._left = self._left[os.write(self._to, self._left[: 1 << 16]) :]
                        if not self._left:
                            ready.unregister(self._to)
                    elif key.fd == self._heard:
                        if not self._listen():
                            ready.unregister(self._heard)
                    else:
                        more = os.read(self._from, 1 << 20)
                        if not more:
                            raise EOFError
                        got += more
                if len(got) >= 8:
                    size = int.from_bytes(got[:8], "big")
                    if size > LONGEST or len(got) > size + 8:
                        raise OverflowError
                    if len(got) == size + 8:
                        self._listen()
                        return bytes(got[8:])

    def _listen(self) -> bool:
        """Pass on what was printed, up to a limit; False where nothing more can come."""
        for _ in range(64):  # whoever prints without end is heard again later
            try:
                said = os.read(self._heard, 1 << 14)
            except OSError:
                return True
            if not said:
                return False
            rest = _SAID - self._printed
            self._printed += len(said)
            if rest >= 0:
                sys.stderr.write(said[:rest].decode("utf-8", "replace"))
                if len(said) > rest:
                    sys.stderr.write("\n(what a plugin prints beyond this is left out)\n")
        return True


def _let_go(owner: int, keeper: int, ends: tuple[int, ...]) -> None:
    """Close the pipes, at which the keeper ends everything, and wait for it."""
    if os.getpid() != owner:  # in a child of another plugin these numbers are other files
        return
    for end in ends:
        with contextlib.suppress(OSError):
            os.close(end)
    with contextlib.suppress(ChildProcessError):
        os.waitpid(keeper, 0)


def _keep(serve: Serve, requests: int, replies: int, printed: int, life: int) -> NoReturn:
    """In the keeper: start the child, wait until Darby lets go, then end all that is left."""
    try:
        os.setsid()
        adopt_orphans()
        keeper = os.getpid()
        if not os.fork():
            _play(serve, requests, replies, printed, keeper)
        os.dup2(life, 3)
        os.closerange(4, _most_files())
        nowhere = os.open(os.devnull, os.O_RDWR)
        for stream in (0, 1, 2):
            os.dup2(nowhere, stream)
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(number, signal.SIG_IGN)
        with contextlib.suppress(OSError):
            os.read(3, 1)
        kill_children()
    finally:
        os._exit(0)


def _play(serve: Serve, requests: int, replies: int, printed: int, keeper: int) -> NoReturn:
    """In the child: answer until there is nobody left to ask."""
    try:
        nowhere = os.open(os.devnull, os.O_RDONLY)
        ends = [os.dup(end) for end in (nowhere, printed, printed, requests, replies)]
        above = max(ends) + 1  # out of the way of the numbers that they are to have
        high = [os.dup2(end, above + n) for n, end in enumerate(ends)]
        for n, end in enumerate(high):
            os.dup2(end, n, inheritable=n < 3)
        os.closerange(5, _most_files())
        sys.stdin, sys.stdout, sys.stderr = (
            open(n, mode, encoding="utf-8", errors="replace", buffering=1, closefd=False)  # noqa: SIM115
            for n, mode in ((0, "r"), (1, "w"), (2, "w"))
        )
        for number in (signal.SIGINT, signal.SIGTERM):
            signal.signal(number, signal.SIG_DFL)
        end_with_parent(keeper)
        keep_within()
        while (size := _bytes(3, 8)) is not None:
            request = _bytes(3, int.from_bytes(size, "big"))
            if request is None:
                break
            reply = serve(request)
            sys.stdout.flush()
            reply = len(reply).to_bytes(8, "big") + reply
            while reply:
                reply = reply[os.write(4, reply) :]
    finally:
        os._exit(0)


def _bytes(pipe: int, size: int) -> bytes | None:
    got = bytearray()
    while len(got) < size:
        more = os.read(pipe, min(size - len(got), 1 << 20))
        if not more:
            return None
        got += more
    return bytes(got)


def _most_files() -> int:
    try:
        most = os.sysconf("SC_OPEN_MAX")
    except (ValueError, OSError):
        return 4096
    return most if 0 < most < 1 << 20 else 1 << 20
