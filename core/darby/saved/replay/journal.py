"""The journal of a long run: one line for each file that is done, so that a run that was stopped goes on where it was."""

from __future__ import annotations

import contextlib
import hmac
import json
from collections.abc import Iterable
from pathlib import Path

from attrs import define, field

from darby.saved.replay.journal_key import forget, known_key, new_key, signed
from darby.saved.replay_outcome import Replayed, as_json, of_json

NAME = ".darby-replay.jsonl"
"""What it is called in the first folder of a run; it is there only until the run has come to its end."""

_SCHEMA = "darby.replay-journal/2"
_BEGINS = (b'{"schema": "darby.replay-journal/', b'{"sum": "')
"""How a journal begins; the second where the end of another run took away the head."""


class NoJournalError(Exception):
    """A file that is something else, and is not written over."""


@define(eq=False)
class Journal:
    """A journal in a file. A line counts only when it is as it was written, by a run of this user: so a damaged one costs itself
    alone, as does the last one of a killed run, and a journal that came with the files says nothing.

    Without a `path` nothing is written. A journal of other code, of other house lines or of no run that is known here is begun anew, and
    any where a run is to be `fresh`.
    """

    path: Path | None
    today: str
    done: dict[str, Replayed] = field(factory=dict)
    """What an earlier run has done already, by file."""
    fresh: bool = False
    lasts: bool = field(default=False, init=False)
    """Whether another run can go on from it."""
    unwritten: str = field(default="", init=False)
    """Why not all that is done could be noted, or nothing."""
    _key: bytes = field(default=b"", init=False, repr=False)

    def open(self) -> Journal:
        """Take over what is done, and be ready to write. Raises OSError where that cannot be, NoJournalError where the file
        is none."""
        if self.path is None:
            return self
        if self.path.exists() and not self.path.is_file():
            raise NoJournalError
        data = b""
        with contextlib.suppress(FileNotFoundError):
            data = self.path.read_bytes()
        if self.path.name != NAME and data.strip() and not data.startswith(_BEGINS):
            raise NoJournalError
        lines = data.split(b"\n")
        head = json.dumps({"schema": _SCHEMA, "today": self.today}).encode()
        self._key = b"" if self.fresh else known_key(self.path)
        self.lasts = bool(self._key)
        if lines[0] == head and self.today and self._key:
            for line in lines[1:-1]:  # behind the last line end there is nothing, or a line that was cut off
                one = _read(line, self._key)
                if one is not None:
                    self.done[one.file] = one
            with self.path.open("r+b") as file:
                file.truncate(len(data) - len(lines[-1]))
        else:
            self._key, self.lasts = new_key(self.path)
            self.path.write_bytes(head + b"\n")
        return self

    def add(self, results: Iterable[Replayed]) -> None:
        """Write down what is done. What cannot be written is no reason to stop: `unwritten` then says why, and no more is noted."""
        if self.path is None or self.unwritten:
            return
        try:
            with self.path.open("ab") as file:
                file.write(b"".join(_written(one, self._key) for one in results))
        except OSError as error:
            self.unwritten = (error.strerror or str(error)).lower()

    def end(self) -> None:
        """The run came to its end, and needs it no more."""
        if self.path is not None:
            forget(self.path)  # then nobody believes it, even where it cannot be taken away
            with contextlib.suppress(OSError):
                self.path.unlink(missing_ok=True)

    def still_holds(self, file: str, digest: str) -> Replayed | None:
        """The result of a file whose bytes are the same as when it was done."""
        one = self.done.get(file)
        return one if one is not None and one.digest == digest else None


def _written(one: Replayed, key: bytes) -> bytes:
    data = as_json(one)
    return json.dumps({"sum": _sum(data, key), "done": data}).encode() + b"\n"


def _read(line: bytes, key: bytes) -> Replayed | None:
    """The result in a line; None where the line is not as it was written with this key."""
    try:
        told = json.loads(line)
        return of_json(told["done"]) if hmac.compare_digest(told["sum"], _sum(told["done"], key)) else None
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def _sum(data: object, key: bytes) -> str:
    return signed(json.dumps(data).encode(), key)
