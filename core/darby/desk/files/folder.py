"""The folder of a job: its files read, and written so that every change can be taken back and none is lost or half done."""

from __future__ import annotations

import contextlib
import hashlib
import stat
import threading
from collections.abc import Iterable, Mapping
from pathlib import Path, PurePosixPath

from attrs import define, field, frozen

from darby.saved.writer import write

LARGEST = 20_000_000
"""Bytes of the largest file that is taken in or shown. Common practice, no source."""
_MOST_STEPS = 200

Stamp = str
"""What a file held when somebody looked: a digest of its bytes, or nothing where there was none."""


class RefusedError(Exception):
    """A change that was not made, with the reason in a sentence."""


@frozen(eq=False)
class Step:
    """One change that was made: the files it touched, each as it was and as it became; None where there was none."""

    what: str
    files: Mapping[str, tuple[bytes | None, bytes | None]]


def stamp_of(data: bytes | None) -> Stamp:
    """The stamp of what a file holds."""
    return "" if data is None else hashlib.sha256(data).hexdigest()[:24]


@define(eq=False)
class Folder:
    """The files below one folder. Several threads may use it; changes are made one at a time."""

    root: Path
    job: str = "job.toml"
    done: list[Step] = field(factory=list, init=False)
    undone: list[Step] = field(factory=list, init=False)
    _lock: threading.Lock = field(factory=threading.Lock, init=False)

    def path(self, name: str) -> Path:
        """The place of a file, which lies below the folder and is no link out of it; else `RefusedError`."""
        parts = PurePosixPath(name.replace("\\", "/"))
        plain = name.strip() and name.isprintable() and not parts.is_absolute() and ".." not in parts.parts
        hidden = any(part.startswith(".") for part in parts.parts)
        if not plain or hidden or ":" in name or len(name) > 200:
            raise RefusedError(f"{name[:60]!r} is no name of a file beside the job.")
        try:
            whole = (self.root / parts).resolve()
        except (OSError, RuntimeError) as error:
            raise RefusedError(f"{name[:60]!r} cannot be looked up.") from error
        if not whole.is_relative_to(self.root.resolve()):
            raise RefusedError(f"{name[:60]} lies outside the folder of the job, and the desk leaves it alone.")
        return whole

    def read(self, name: str) -> bytes | None:
        """What a file holds, or None where there is none; `RefusedError` for what is no ordinary file or too large."""
        path = self.path(name)
        try:
            if not path.exists():
                return None
            if not path.is_file():
                raise RefusedError(f"{name} is no ordinary file.")
            if path.stat().st_size > LARGEST:
                raise RefusedError(f"{name} is larger than {LARGEST // 1_000_000} MB.")
            return path.read_bytes()
        except OSError as error:
            raise RefusedError(f"{name} cannot be read: {_why(error)}.") from error

    def text(self, name: str) -> str:
        """The text of a file, nothing where there is none; `RefusedError` where it is no UTF-8."""
        return self.seen(name)[0]

    def seen(self, name: str) -> tuple[str, Stamp]:
        """The text of a file as `text` gives it, and the stamp of these very bytes."""
        data = self.read(name)
        try:
            return (data or b"").decode("utf-8-sig"), stamp_of(data)
        except UnicodeDecodeError as error:
            raise RefusedError(f"{name} is no text in UTF-8. Change it in the program it comes from.") from error

    def stamp(self, name: str) -> Stamp:
        """The stamp of a file as it lies there now."""
        return stamp_of(self.read(name))

    def stamps(self, names: Iterable[str]) -> Stamp:
        """One stamp for several files, under whatever names a job gives them; devices are never opened."""
        digest = hashlib.sha256()
        for name in names:
            digest.update(f"{name}\0{_state(self.root / name)}\0".encode("utf-8", "replace"))
        return digest.hexdigest()[:24]

    def change(self, what: str, files: Mapping[str, bytes | None], seen: Mapping[str, Stamp]) -> None:
        """Write some files, or remove those that become None, and remember how they were.

        `seen` are the stamps they had when the change was thought out: where one differs, somebody else has changed the
        file since, and nothing is written (`RefusedError`).
        """
        with self._lock:
            before = {name: self.read(name) for name in files}
            for name, stamp in seen.items():
                if stamp != (stamp_of(before[name]) if name in before else self.stamp(name)):
                    raise RefusedError(
                        f"{name} has been changed since, by another program or another window. Nothing was written: "
                        "look at it as it is now, and do it again."
                    )
            step = Step(what, {name: (before[name], after) for name, after in files.items() if before[name] != after})
            if step.files:
                self._write(step.files, becomes=1)
                self.done.append(step)
                del self.done[:-_MOST_STEPS]
                self.undone.clear()

    def undo(self) -> str:
        """Take the last change back; says what it was."""
        return self._back(self.done, self.undone, was=1)

    def redo(self) -> str:
        """Make the last change again that was taken back; says what it was."""
        return self._back(self.undone, self.done, was=0)

    def _back(self, steps: list[Step], others: list[Step], was: int) -> str:
        with self._lock:
            if not steps:
                raise RefusedError("There is nothing to take back." if was else "There is nothing to do again.")
            step = steps[-1]
            for name, states in step.files.items():
                if self.read(name) != states[was]:
                    raise RefusedError(f"{name} has been changed since; what was done to it here is not taken back.")
            files = tuple(step.files.items())  # taken back the other way round: the job never names a file that is gone
            self._write(dict(reversed(files) if was else files), becomes=1 - was)
            others.append(steps.pop())
            return step.what

    def _write(self, files: Mapping[str, tuple[bytes | None, bytes | None]], becomes: int) -> None:
        """All of the files, or none: where one cannot be written, those before it are put back."""
        made: list[str] = []
        try:
            for name, states in files.items():
                self._put(name, states[becomes])
                made.append(name)
        except RefusedError:
            for name in reversed(made):
                with contextlib.suppress(RefusedError):
                    self._put(name, files[name][1 - becomes])
            raise

    def _put(self, name: str, data: bytes | None) -> None:
        path = self.path(name)
        try:
            if data is None:
                path.unlink(missing_ok=True)
            else:
                path.parent.mkdir(parents=True, exist_ok=True)
                write(path, data)
        except OSError as error:
            raise RefusedError(f"{name} cannot be written: {_why(error)}.") from error


def _state(path: Path) -> str:
    """What lies at a place, as the part of a stamp."""
    try:
        about = path.stat()
        if stat.S_ISREG(about.st_mode) and about.st_size <= LARGEST:
            return stamp_of(path.read_bytes())
    except FileNotFoundError:
        return ""
    except (OSError, ValueError, RuntimeError):
        return "?"
    return f"{about.st_mode} {about.st_size} {about.st_mtime_ns}"


def _why(error: OSError) -> str:
    return (error.strerror or str(error)).lower()
