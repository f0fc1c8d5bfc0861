"""The journal of a long run: one line for each file that is done, so that a run that was stopped goes on where it was."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterable
from pathlib import Path

from attrs import define, field

from darby.replayed import Replayed, as_json, of_json

NAME = ".darby-replay.jsonl"
"""What it is called in the first folder of a run; it is there only until the run has come to its end."""

_HEAD = "darby.replay-journal/1"


@define(eq=False)
class Journal:
    """A journal in a file. A line counts only when it is whole, so the last one of a killed run may be lost and no other.

    Without a `path` nothing is written. A journal of other code or other house lines is begun anew.
    """

    path: Path | None
    today: str
    done: dict[str, Replayed] = field(factory=dict)
    """What an earlier run has done already, by file."""

    def open(self) -> Journal:
        """Take over what is done, and be ready to write. Raises OSError where that cannot be."""
        if self.path is None:
            return self
        lines: list[bytes] = []
        with contextlib.suppress(FileNotFoundError):
            lines = self.path.read_bytes().split(b"\n")
        head = json.dumps({"schema": _HEAD, "today": self.today}).encode()
        if lines and lines[0] == head and self.today:
            for line in lines[1:-1]:  # behind the last line end there is nothing, or a line that was cut off
                with contextlib.suppress(ValueError, KeyError, TypeError):
                    one = of_json(json.loads(line))
                    self.done[one.file] = one
            with self.path.open("r+b") as file:
                file.truncate(sum(len(line) + 1 for line in lines[:-1]))
        else:
            self.path.write_bytes(head + b"\n")
        return self

    def add(self, results: Iterable[Replayed]) -> None:
        """Write down what is done."""
        if self.path is not None:
            with self.path.open("ab") as file:
                file.write(b"".join(json.dumps(as_json(one)).encode() + b"\n" for one in results))

    def end(self) -> None:
        """The run came to its end, and needs it no more."""
        if self.path is not None:
            self.path.unlink(missing_ok=True)

    def still_holds(self, file: str, digest: str) -> Replayed | None:
        """The result of a file whose bytes are the same as when it was done."""
        one = self.done.get(file)
        return one if one is not None and one.digest == digest else None
