"""Code that came with a plugin from outside is rehearsed in a child of this process before it runs here.

What hangs, ends the program, eats the memory or changes what it was given does so in the child, and is known by the time
its turn comes here. Where the system cannot fork (Windows) the parts run here at once and only errors are caught.

A rehearsal is no wall: a plugin is a program with all the rights of whoever runs it. It protects from mistakes.
"""

from __future__ import annotations

import contextlib
import faulthandler
import json
import os
import select
import signal
import sys
import threading
import time
import warnings
from collections.abc import Callable, Hashable, Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from types import FunctionType
from typing import NoReturn

from attrs import frozen

SECONDS = 10
"""How long one part may take, by the clock; DARBY_ALLOWANCE, in whole seconds, takes its place."""

MEMORY = 1 << 30
"""Bytes that a child may take beyond what this process holds already."""

_LONGEST = 1 << 22
"""Bytes of what a part reports; more is cut off, and counts as a failure."""


@frozen
class Verdict:
    """What came of rehearsing one part: why it must not run here, or nothing; and what it reported."""

    failure: str = ""
    report: str = ""


Part = Callable[[], Verdict]
"""Runs some code from outside. What it raises is its failure."""


def allowance() -> int:
    """Seconds that one part may take."""
    said = os.environ.get("DARBY_ALLOWANCE", "").strip()
    return int(said) if said.isdecimal() and 0 < len(said) < 6 and int(said) else SECONDS


def rehearse(parts: Sequence[Part], tell: Callable[[BaseException], str]) -> tuple[Verdict, ...]:
    """Run the parts one behind the other in a child, and say what came of each. Behind a failure a new child goes on.

    `tell` puts an error into words.
    """
    if not hasattr(os, "fork"):
        return tuple(_perform(part, tell) for part in parts)
    verdicts: list[Verdict] = []
    while len(verdicts) < len(parts):
        verdicts += _child(parts[len(verdicts) :], tell)
    return tuple(verdicts)


@contextlib.contextmanager
def quiet() -> Iterator[None]:
    """What is printed meanwhile goes to standard error: on standard output it would spoil the document."""
    with contextlib.redirect_stdout(sys.stderr):
        yield


def _perform(part: Part, tell: Callable[[BaseException], str]) -> Verdict:
    before, folder, threads = _program(), _folder(), _lasting_threads()
    try:
        verdict = part()
    except BaseException as error:  # even what is no Exception must not pass
        return Verdict(f"raised {tell(error)}")
    if verdict.failure:
        return verdict
    if _lasting_threads() > threads:
        return Verdict("left a thread running, so that the program could not end")
    if _folder() != folder:
        return Verdict("changed the folder the program works in")
    changed = _changed(before, _program())
    return Verdict(f"changed {changed}, which is not its own") if changed else verdict


def _child(parts: Sequence[Part], tell: Callable[[BaseException], str]) -> list[Verdict]:
    """The verdicts of a child, up to and including the first failure."""
    reading, writing = os.pipe()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # of forking beside threads: the child takes none along
        child = os.fork()
    if not child:
        _play(parts, tell, writing)
    os.close(writing)
    verdicts: list[Verdict] = []
    try:
        with open(reading, "rb", buffering=0) as pipe:
            while len(verdicts) < len(parts) and not (verdicts and verdicts[-1].failure):
                verdicts.append(_heard(pipe.fileno(), allowance()))
    finally:
        with contextlib.suppress(ProcessLookupError, PermissionError):
            os.killpg(child, signal.SIGKILL)
        with contextlib.suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
    return verdicts


def _play(parts: Sequence[Part], tell: Callable[[BaseException], str], writing: int) -> NoReturn:
    """In the child: perform part after part, report each, and leave without a trace."""
    try:
        os.setpgid(0, 0)  # so that whatever a part starts ends with it
        nowhere = os.open(os.devnull, os.O_RDWR)
        for stream in (0, 1, 2):
            os.dup2(nowhere, stream)
        sys.stdin, sys.stdout, sys.stderr = (open(os.devnull, mode) for mode in ("r", "w", "w"))  # noqa: SIM115
        signal.signal(signal.SIGINT, signal.SIG_DFL)
        faulthandler.disable()
        _limit_memory()
        for part in parts:
            verdict = _perform(part, tell)
            said = json.dumps([verdict.failure[:2000], verdict.report]).encode()
            if len(said) > _LONGEST:
                said = json.dumps(["reported more than can be looked at", ""]).encode()
            said = len(said).to_bytes(4, "big") + said
            while said:
                said = said[os.write(writing, said) :]
            if verdict.failure:
                break
    finally:
        os._exit(0)


def _heard(pipe: int, seconds: int) -> Verdict:
    """What the child reports of one part, waited for no longer than allowed."""
    deadline = time.monotonic() + seconds
    size = _bytes(pipe, 4, deadline)
    said = _bytes(pipe, int.from_bytes(size, "big"), deadline) if size else size
    if said is None or size is None:
        return Verdict(f"did not stop within {seconds} seconds")
    if not said:
        return Verdict("ended the program, or was ended by the system, as when memory runs out")
    failure, report = json.loads(said)
    return Verdict(failure, report)


def _bytes(pipe: int, size: int, deadline: float) -> bytes | None:
    """So many bytes; none where the child has gone, None where it takes too long."""
    got = b""
    while len(got) < size:
        ready, _, _ = select.select([pipe], [], [], max(0, deadline - time.monotonic()))
        if not ready:
            return None
        more = os.read(pipe, size - len(got))
        if not more:
            return b""
        got += more
    return got


def _limit_memory() -> None:
    """Let the child run out of memory before the machine does, where the system can tell how much it holds."""
    with contextlib.suppress(ImportError, OSError, ValueError):
        import resource  # noqa: PLC0415 - not everywhere

        held = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0]) * resource.getpagesize()
        _, hard = resource.getrlimit(resource.RLIMIT_AS)
        wanted = held + MEMORY
        resource.setrlimit(resource.RLIMIT_AS, (wanted if hard < 0 else min(wanted, hard), hard))


def _folder() -> str:
    try:
        return str(Path.cwd())
    except OSError:  # it was deleted
        return ""


def _lasting_threads() -> int:
    return sum(not t.daemon for t in threading.enumerate())


def _program() -> dict[tuple[str, str], Hashable]:
    """What Darby is made of: its modules' functions, classes and tables, so that a change of them can be seen."""
    found: dict[tuple[str, str], Hashable] = {}
    for name, module in list(sys.modules.items()):
        if name.split(".")[0] in _OURS and module is not None:
            for key, value in list(vars(module).items()):
                if not key.startswith("__"):
                    found[name, key] = _mark(value)
                    if isinstance(value, type) and value.__module__ == name:
                        found.update(_class(name, value))
    found.update(_class("fractions", Fraction))
    return found


_OURS = frozenset({"darby", "darby_grammars"})


def _class(module: str, value: type) -> Iterator[tuple[tuple[str, str], Hashable]]:
    for key, member in list(vars(value).items()):
        if isinstance(member, FunctionType | property | classmethod | staticmethod):
            yield (module, f"{value.__name__}.{key}"), id(member)


def _mark(value: object) -> Hashable:
    if isinstance(value, dict):
        return (id(value), tuple(map(id, value)), tuple(map(id, value.values())))
    if isinstance(value, list | set):
        return (id(value), tuple(map(id, value)))
    return id(value)


def _changed(before: dict[tuple[str, str], Hashable], after: dict[tuple[str, str], Hashable]) -> str:
    """The first name of Darby's that means something else than before."""
    for (module, key), mark in before.items():
        if after.get((module, key)) != mark:
            return f"{module}.{key}"
    return ""
