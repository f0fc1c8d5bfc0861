"""Terminals, interrupts and our own mistakes."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from commands import DARBY, darby, started


def test_help_imports_click_and_no_engine() -> None:
    code = "import sys, darby.cli; print([m for m in sys.modules if m.split('.')[0] in ('attrs','attr','rich','lark','pluggy')])"
    done = subprocess.run((sys.executable, "-c", code), capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_our_own_mistake_ends_with_70_and_a_calm_sentence() -> None:
    code = (
        "import darby.text.explanation, darby.cli\n"
        "class Broken(dict):\n    def get(self, *a): raise ZeroDivisionError('x')\n"
        "darby.text.explanation.PAGES = Broken(a=1)\n"
        "darby.cli.main(['why', 'x'])\n"
    )
    run = (sys.executable, "-c", code)
    done = subprocess.run(run, capture_output=True, text=True, check=False, env={**os.environ, "DARBY_DEBUG": ""})
    assert done.returncode == 70
    assert "our fault" in done.stderr
    assert "Traceback" not in done.stderr
    loud = subprocess.run(run, capture_output=True, text=True, check=False, env={**os.environ, "DARBY_DEBUG": "1"})
    assert loud.returncode == 70
    assert "ZeroDivisionError: x" in loud.stderr


def test_whoever_interrupts_gets_no_reproach() -> None:
    code = (
        "import darby.text.explanation, darby.cli\n"
        "class Stopped(dict):\n    def get(self, *a): raise KeyboardInterrupt\n"
        "darby.text.explanation.PAGES = Stopped(a=1)\n"
        "darby.cli.main(['why', 'x'])\n"
    )
    done = subprocess.run((sys.executable, "-c", code), capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "")


@pytest.mark.skipif(sys.platform == "win32", reason="no pipes of that kind")
def test_a_reader_that_goes_away_is_met_with_silence() -> None:
    command = f'"{sys.executable}" "{DARBY}" why | head -c 1'
    done = subprocess.run(("bash", "-c", command), capture_output=True, text=True, check=False)
    assert done.stderr == ""


def test_a_terminal_that_knows_only_ascii_gets_plainer_signs(folder: Path) -> None:
    done = started("explain", "job.toml", "primer", cwd=folder, PYTHONIOENCODING="ascii")
    assert done.returncode == 0, done.stderr
    assert "24 ft x 8 ft" in done.stdout


@pytest.mark.parametrize("arguments", [("estmate",), ("estimate",), ("read", "--nope")])
def test_a_slip_on_the_command_line_ends_with_2(arguments: tuple[str, ...]) -> None:
    done = darby(*arguments)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert "darby" in done.stderr
