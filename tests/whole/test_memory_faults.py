"""Memory that runs out at any allocation: the old file or the new one, a sentence, and no traceback.

`_testcapi.set_nomemory`, of Python's own tests, lets every allocation from one on fail, and some behind it. It takes a process of its own.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from checkout import ROOT
from darby.cli import main
from faults import contents, put_back

pytest.importorskip("_testcapi", reason="this Python comes without its own tests")

FILES = {
    "job.toml": 'name = "Kiln Row"\nunits = "us"\nschedules = ["rooms.csv"]\n\n[documents]\nspecification = ["spec.txt"]\n',
    "spec.txt": "A. Walls: one coat primer.\nB. Primer: 250 sq ft per gallon.\n",
    "rooms.csv": "name,length,width,height\nLobby,12 ft,9 ft,8 ft\n",
    "order.csv": "an older order\n",
    "kept.json": "an older estimate\n",
}
COMMAND = ("estimate", "job.toml", "--out", "order.csv", "--save", "kept.json", "--force")
DRIVER = """
import sys
import _testcapi
from darby.cli import main
_testcapi.set_nomemory(int(sys.argv.pop(1)), int(sys.argv.pop(1)))
main()
"""
NEVER = 2_000_000_000
FIRST = 2_000
"""Before so many, with a thousand failing, Python itself has not yet come to a line of ours."""


def run(folder: Path, at: int, until: int) -> subprocess.CompletedProcess[str]:
    quiet = {k: v for k, v in os.environ.items() if k not in ("DARBY_DEBUG", "PYTHONDONTWRITEBYTECODE")}
    return subprocess.run(
        (sys.executable, "-c", DRIVER, str(at), str(until), *COMMAND),
        cwd=folder,
        env=quiet | {"PYTHONPYCACHEPREFIX": str(ROOT / ".pytest_cache" / "compiled")},
        capture_output=True,
        text=True,
        check=False,
    )


def tried(folder: Path, points: list[tuple[int, int]]) -> list[int]:
    """The exit codes of the command where allocations from one on fail, each run looked over."""
    for name, text in FILES.items():
        (folder / name).write_text(text, encoding="utf-8")
    before = contents(folder)
    assert run(folder, NEVER, NEVER + 1).returncode == 0
    after = contents(folder)
    codes = []
    for at, many in points:
        put_back(folder, before)
        done = run(folder, at, at + many)
        told = f"from {at}, {many} of them: code {done.returncode}\n{done.stderr}"
        fell = done.returncode == -signal.SIGSEGV and "not enough memory" in done.stderr  # Python itself, as it leaves
        assert fell or done.returncode in (0, 2, 3), told
        assert "Traceback" not in done.stderr, told
        assert "our fault" not in done.stderr, told
        now = contents(folder)
        assert now.keys() == before.keys(), told
        if (
            done.returncode == 3
        ):  # a trade found no memory: its lines are missing, which the file says, and the file is whole
            assert json.loads(now["kept.json"])["missing"], told
        else:
            assert all(data in (before[name], after[name]) for name, data in now.items()), told
        codes.append(done.returncode)
    return codes


def test_an_allocation_that_fails_leaves_the_old_file_or_the_new(tmp_path: Path) -> None:
    codes = tried(tmp_path, [(FIRST * 5**n, 1 + 999 * (n % 2)) for n in range(5)])
    assert 2 in codes


@pytest.mark.slow
def test_many_allocations_that_fail_leave_the_old_file_or_the_new(tmp_path: Path) -> None:
    points = [(FIRST * 107**n // 100**n, (1, 3, 1000)[n % 3]) for n in range(105)]
    assert 2 in tried(tmp_path, points)


@pytest.mark.parametrize("error", [MemoryError(), SystemError("error return without exception set")])
def test_it_is_said_and_is_nobody_s_fault(
    error: Exception, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def none_left(arguments: list[str]) -> int:
        raise error

    monkeypatch.setattr("darby.cli._run", none_left)
    monkeypatch.setattr("darby.cli._close_quietly", lambda: None)
    with pytest.raises(SystemExit) as left:
        main(["topics"])
    assert left.value.code == 2
    assert "not enough memory for this" in capfd.readouterr().err


def test_memory_that_is_wanting_while_something_is_put_away_is_said_too(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    """As where a generator is left before its end: Python can raise that to nobody, and would print a traceback."""

    def half_read() -> Iterator[int]:
        try:
            yield 1
        finally:
            raise MemoryError

    def left_early(arguments: list[str]) -> int:
        return any(half_read()) - 1

    monkeypatch.setattr("sys.unraisablehook", sys.unraisablehook)
    monkeypatch.setattr("darby.cli._run", left_early)
    with pytest.raises(SystemExit) as left:
        main(["topics"])
    assert left.value.code == 0
    told = capfd.readouterr().err
    assert told.startswith("darby: memory ran out for a moment")
    assert "Traceback" not in told
