"""The checkout as a stranger finds it: what lies at the top, lint, types, and the commands of the README."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "core", "plugins", "grammars", "tests", "fixtures"}


def run(*command: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, stdin=subprocess.DEVNULL, check=False)


def tracked() -> list[str]:
    listing = run("git", "-c", "safe.directory=*", "ls-files")
    assert listing.returncode == 0, listing.stderr
    return listing.stdout.splitlines()


def test_the_top_level_holds_what_the_guide_says_and_nothing_more() -> None:
    assert {p.split("/")[0] for p in tracked() if not p.startswith(".")} == TOP
    assert {p for p in tracked() if p.startswith(".")} == {".gitignore", ".ci/run"}


def test_the_licence_lies_in_the_core_and_is_the_declared_one() -> None:
    assert (ROOT / "core/darby/LICENSE").read_text(encoding="utf-8").startswith("MIT License")
    assert 'license = "MIT"' in (ROOT / "pyproject.toml").read_text(encoding="utf-8")


def test_lint_finds_nothing() -> None:
    checked = run(sys.executable, "-m", "ruff", "check", "--no-cache", ".")
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_every_file_is_formatted() -> None:
    checked = run(sys.executable, "-m", "ruff", "format", "--no-cache", "--check", ".")
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_types_hold_strictly() -> None:
    checked = run(sys.executable, "-m", "mypy")
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_the_readme_opens_with_two_commands_and_the_check_takes_them_from_there() -> None:
    block = re.search(r"^```sh\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)
    assert block
    first, second = block[1].splitlines()
    assert first.startswith("python3 -m venv .venv && ")
    assert first.endswith(" && .venv/bin/darby demo")
    assert second.startswith(".venv/bin/python -m pytest")
    check = (ROOT / ".ci/run").read_text(encoding="utf-8")
    assert "README.md" in check
    assert "pytest" not in check
