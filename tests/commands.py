"""The command line, run here as a process of its own would run it, and the small job it is tried on."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from contextlib import chdir
from importlib.resources import files
from pathlib import Path
from typing import Any
from unittest import mock

import jsonschema
from attrs import frozen

from darby.cli import main

DARBY = Path(sys.executable).with_name("darby")
JOB = """\
name = "Lamp Street studio"
units = "us"

[documents]
specification = ["section.txt"]

[[walls]]
name = "north wall"
length = "24 ft"
height = "8 ft"
faces = 1
"""
SECTION = """\
2.01 MATERIALS
A. Primer: 200 sq ft per gallon.
3.01 APPLICATION
A. Walls: one coat primer.
"""


@frozen
class Done:
    """What a command left behind."""

    returncode: int
    written: bytes
    complained: bytes

    @property
    def stdout(self) -> str:
        return self.written.decode("utf-8")

    @property
    def stderr(self) -> str:
        return self.complained.decode("utf-8")


def _environment(more: dict[str, str]) -> dict[str, str]:
    """As it is outside, without what is set for whoever runs the tests."""
    ours = ("DARBY_", "FORCE_COLOR", "NO_COLOR", "COLUMNS", "TTY_")
    kept = {k: v for k, v in os.environ.items() if k == "DARBY_ALLOWANCE" or not k.startswith(ours)}
    return kept | more


def _as_bytes(given: str | bytes) -> bytes:
    return given.encode() if isinstance(given, str) else given


def darby(*arguments: str, given: str | bytes = "", cwd: Path | None = None, **environment: str) -> Done:
    """The whole of the program from its arguments to its exit code, without the start of a process.

    What hangs on the process itself (its start, its signals, its pipes, how it hashes) is for `started`.
    """
    streams = [io.TextIOWrapper(io.BytesIO(data), "utf-8") for data in (_as_bytes(given), b"", b"")]
    taken, out, err = streams
    away = (
        mock.patch.multiple(sys, stdin=taken, stdout=out, stderr=err),
        mock.patch.dict(os.environ, _environment(environment | {"COLUMNS": "80"}), clear=True),
    )
    code: object = None
    with away[0], away[1], chdir(cwd or Path.cwd()):
        try:
            main(arguments)
        except SystemExit as left:
            code = left.code
    assert isinstance(code, int)
    out.flush(), err.flush()
    return Done(code, *(s.buffer.getvalue() for s in (out, err)))  # type: ignore[attr-defined]


def started(*arguments: str, given: str | bytes = "", cwd: Path | None = None, **environment: str) -> Done:
    """The same in a process of its own."""
    done = subprocess.run(
        (sys.executable, str(DARBY), *arguments), input=_as_bytes(given), capture_output=True, cwd=cwd,
        env=_environment(environment), check=False,
    )  # fmt: skip
    return Done(done.returncode, done.stdout, done.stderr)


def checked(name: str, text: str) -> dict[str, Any]:
    """JSON that keeps to the schema of that name."""
    data: dict[str, Any] = json.loads(text)
    schema = json.loads((files("darby") / "schemas" / f"{name}.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(schema).validate(data)
    return data
