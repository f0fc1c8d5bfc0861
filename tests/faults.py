"""Faults on purpose: the n-th thing that a program does with the files of a folder fails, as on a full or dying disk.

What is written when a write fails is written by half, as disks do it. Files outside of the folder (the program's own) are left alone.
"""

from __future__ import annotations

import builtins
import errno
import io
import os
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any
from unittest import mock

from attrs import define, field


@define(eq=False)
class Faults:
    """Lets the step number `at` fail, counted from 1; none where it is 0."""

    folder: Path
    at: int = 0
    why: int = errno.ENOSPC
    seen: list[str] = field(factory=list)
    """What was done, step by step: `read`, `write`, `replace`, .."""

    @property
    def failed(self) -> str:
        """What failed, or nothing where the program came to its end before."""
        return self.seen[self.at - 1] if 0 < self.at <= len(self.seen) else ""

    def step(self, name: str, path: Any = None) -> None:
        """One thing that is done, by the system's name for it; what is done by path tells the path where it fails, as the system does."""
        self.seen.append(name)
        if len(self.seen) == self.at:
            told = () if path is None or isinstance(path, int) else (os.fsdecode(path),)
            raise OSError(self.why, os.strerror(self.why), *told)

    def holds(self, path: Any) -> bool:
        """Whether a path lies in the folder."""
        try:
            return Path(os.path.abspath(os.fsdecode(path))).is_relative_to(self.folder)
        except (TypeError, ValueError):
            return False

    @contextmanager
    def at_work(self) -> Iterator[Faults]:
        """Everything that is done with files in the block."""
        opened: set[int] = set()
        plain_open, plain_os_open = io.open, os.open

        def opening(file: Any, *rest: Any, **how: Any) -> Any:
            ours = file in opened if isinstance(file, int) else self.holds(file)
            if not ours:
                return plain_open(file, *rest, **how)
            if not isinstance(file, int):
                self.step("open", file)
            return _File(plain_open(file, *rest, **how), self)

        def os_open(path: Any, *rest: Any, **how: Any) -> int:
            if not self.holds(path):
                return plain_os_open(path, *rest, **how)
            self.step("open", path)
            handle = plain_os_open(path, *rest, **how)
            opened.add(handle)
            return handle

        def counted(name: str, plain: Callable[..., Any]) -> Callable[..., Any]:
            def doing(what: Any, *rest: Any, **how: Any) -> Any:
                if (what in opened) if isinstance(what, int) else self.holds(what):
                    self.step(name, what)
                return plain(what, *rest, **how)

            return doing

        def fsync(handle: Any) -> None:
            self.step("fsync")
            plain_fsync(handle)

        plain_fsync = os.fsync
        with ExitStack() as stack:
            for module in (io, builtins):
                stack.enter_context(mock.patch.object(module, "open", opening))
            stack.enter_context(mock.patch.object(os, "open", os_open))
            stack.enter_context(mock.patch.object(os, "fsync", fsync))
            for name in ("replace", "link", "unlink", "chmod", "mkdir", "scandir"):
                stack.enter_context(mock.patch.object(os, name, counted(name, getattr(os, name))))
            yield self


class _File:
    """A file whose reads and writes are steps that can fail."""

    def __init__(self, file: Any, faults: Faults) -> None:
        self._file, self._faults = file, faults

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)

    def __enter__(self) -> _File:
        return self

    def __exit__(self, *_: object) -> None:
        self._file.close()

    def read(self, *most: int) -> Any:
        self._faults.step("read")
        return self._file.read(*most)

    def write(self, data: Any) -> Any:
        try:
            self._faults.step("write")
        except OSError:
            self._file.write(data[: len(data) // 2])
            self._file.flush()
            raise
        return self._file.write(data)

    def truncate(self, *size: int) -> Any:
        self._faults.step("truncate")
        return self._file.truncate(*size)


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def put_back(folder: Path, files: dict[str, bytes]) -> None:
    """A folder as it was."""
    for name in contents(folder):
        if name not in files:
            (folder / name).unlink()
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
