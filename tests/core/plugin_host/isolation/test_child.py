"""A child answers, is bounded, and ends with all that it started."""

from __future__ import annotations

import ctypes
import os
import sys
import time
from pathlib import Path

import pytest

from darby.plugin_host.isolation.child import Child
from darby.plugin_host.isolation.failures import BrokenError


def test_it_is_asked_again_and_again_and_keeps_what_it_knows() -> None:
    heard: list[bytes] = []

    def serve(request: bytes) -> bytes:
        heard.append(request)
        return b"".join(heard)

    child = Child(serve)
    assert [child.ask(b"a" * 1_000_000)[:3], child.ask(b"b")[-2:]] == [b"aaa", b"ab"]
    assert not heard  # what the child does stays there
    child.close()


@pytest.mark.parametrize(
    ("serve", "said"),
    [
        (lambda _: time.sleep(3600), "did not stop within 1 seconds"),
        (lambda _: os._exit(0), "ended the program"),
        (lambda _: b"x" * ((1 << 26) + 1), "gave more than can be looked at"),
    ],
)
def test_what_fails_once_is_asked_nothing_more(serve: object, said: str) -> None:
    child = Child(serve)  # type: ignore[arg-type]
    seconds = 1 if "stop" in said else 600
    for _ in range(2):
        with pytest.raises(BrokenError, match=said):
            child.ask(b"", seconds)


def test_what_it_prints_goes_to_standard_error_up_to_a_limit(capfd: pytest.CaptureFixture[str]) -> None:
    def serve(_: bytes) -> bytes:
        print("#" * 200_000)
        os.write(1, b"z")
        return b"done"

    assert Child(serve).ask(b"", 600) == b"done"
    out, err = capfd.readouterr()
    assert not out
    assert err.count("#") == 1 << 16
    assert err.endswith("is left out)\n")


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux hands orphans to the keeper")
def test_whatever_it_started_ends_with_it() -> None:
    def serve(_: bytes) -> bytes:
        libc = ctypes.CDLL(None)
        reading, writing = os.pipe()
        if not libc.fork():
            libc.setsid()
            if not libc.fork():
                os.write(writing, str(os.getpid()).encode())
                while True:
                    libc.sleep(3600)
            os._exit(0)
        return os.read(reading, 20)

    child = Child(serve)
    escaped = child.ask(b"", 600).decode()
    # libc's fork tells Python nothing, so that os.getpid may be remembered nowhere: the number is the kernel's
    assert Path("/proc", escaped).exists()
    child.close()
    assert not Path("/proc", escaped).exists()


def test_it_starts_and_ends_no_other_program() -> None:
    def serve(request: bytes) -> bytes:
        try:
            os.system("true") if request == b"start" else os.kill(os.getppid(), 0)
        except PermissionError as error:
            return str(error).encode()
        return b"did"

    child = Child(serve)
    assert child.ask(b"start", 600) == b"a plugin starts no other program"
    assert child.ask(b"end", 600) == b"a plugin ends no other program"
