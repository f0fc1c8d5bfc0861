"""A copy of the checkout in which things may be broken, and tests run in it by processes that know no Darby yet.

Nothing here imports Darby: a process is forked from one that has loaded everything else, and so imports Darby with the
break in it.
"""

from __future__ import annotations

import math
import os
import resource
import shutil
import signal
import sys
import time
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from importlib.util import cache_from_source
from pathlib import Path

import pytest
from attrs import frozen

from mutations.breaks import Break
from mutations.hearing import Chosen, Heard, Hearing, read

COPIED = (
    "core",
    "grammars",
    "plugins",
    "tests",
    "fixtures",
    ".ci",
    ".gitignore",
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
)
ROOTS = ("core", "grammars", "plugins", "tests")
QUIETLY = ("-q", "--tb=no", "--no-header", "--durations=0", "-W", "ignore")

OF_WORK = 60
"""Seconds of its own work after which a process hangs: nothing else that runs on the machine adds to them."""
BY_THE_CLOCK = 300
"""Seconds after which a process that waits for something that never comes hangs as well."""
OF_MEMORY = 6 << 30


@frozen(eq=False)
class Workshop:
    """The copy at `root`."""

    root: Path

    @classmethod
    def of(cls, checkout: Path, root: Path) -> Workshop:
        """A fresh copy of the checkout."""
        skipped = shutil.ignore_patterns("__pycache__", ".hypothesis")
        root.mkdir(parents=True)
        for name in COPIED:
            if (source := checkout / name).is_dir():
                shutil.copytree(source, root / name, ignore=skipped)
            else:
                shutil.copy2(source, root / name)
        return cls(root)

    @property
    def log(self) -> Path:
        """What the last process printed."""
        return self.root / "log.txt"

    def listened(self, files: Sequence[str]) -> list[Heard]:
        """What each test of some files runs, but for those that fail or are skipped as things stand."""
        notes = self.root / "heard.json"
        hearing = Hearing(self.root, notes)
        code = self._forked(lambda: pytest.main([*QUIETLY, *files], plugins=[hearing]), work=None)
        if code not in (pytest.ExitCode.OK, pytest.ExitCode.TESTS_FAILED):  # broken off: most tests were never heard
            raise RuntimeError(f"the tests could not be listened to:\n{self.log.read_text(encoding='utf-8')[-3000:]}")
        return read(notes)

    def passes(self, tests: Iterable[str]) -> bool | None:
        """Whether the tests pass, as far as the first that does not; None where they hang or take the process with them."""
        chosen = Chosen(tests)
        code = self._forked(lambda: pytest.main([*QUIETLY, "-x", *chosen.files], plugins=[chosen]), work=OF_WORK)
        return None if code is None else code == 0

    def swap(self, broken: Break, text: bytes) -> bytes:
        """Put another text in the place of a module and give back what stood there. No compiled form stays behind."""
        path = self.root / broken.file
        was = path.read_bytes()
        path.write_bytes(text)
        Path(cache_from_source(str(path))).unlink(missing_ok=True)
        return was

    def _forked(self, done: Callable[[], int], work: int | None) -> int | None:
        """The exit code of a function in a process of its own; None where it hung or died."""
        child = os.fork()
        if not child:
            code = 70
            try:
                self._move_in(work)
                code = int(done())
            finally:
                sys.stdout.flush()
                os._exit(code)
        until = time.monotonic() + BY_THE_CLOCK if work is not None else math.inf
        while True:
            ended, status = os.waitpid(child, os.WNOHANG)
            late = not ended and time.monotonic() > until
            if ended or late:
                with suppress(ProcessLookupError):  # what it started and left behind
                    os.killpg(child, signal.SIGKILL)
            if late:
                os.waitpid(child, 0)
                return None
            if ended:
                return os.WEXITSTATUS(status) if os.WIFEXITED(status) else None
            time.sleep(0.02)

    def _move_in(self, work: int | None) -> None:
        """Work in the copy, quietly and within limits."""
        os.setsid()
        paper = os.open(self.log, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(paper, 1)
        os.dup2(paper, 2)
        if work is not None:
            resource.setrlimit(resource.RLIMIT_CPU, (work, work + 5))
            resource.setrlimit(resource.RLIMIT_AS, (OF_MEMORY, OF_MEMORY))
        os.chdir(self.root)
        roots = [str(self.root / name) for name in ROOTS]
        sys.path[:0] = roots
        os.environ["PYTHONPATH"] = os.pathsep.join(roots)
        os.environ["DARBY_TESTS_APART"] = "1"  # what one test has read another is to read as well
