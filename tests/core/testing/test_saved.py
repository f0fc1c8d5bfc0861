"""Saved estimates as tests of a firm's own repository: the pytest plugin, and pytest-regressions beside it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from darby.plugin_host.loader import load_plugins
from darby.rules.rule import HOUSE
from darby.saved.replay.one import Office
from darby.saved.writer import text_of, with_longhand, write
from darby.text.spans import Source

SETTINGS = """\
[tool.pytest.ini_options]
darby_saved = ["estimates"]
darby_house = ["house.txt"]
"""


def run(*command: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    environment = {k: v for k, v in os.environ.items() if not k.startswith(("PYTEST_", "COLUMNS"))}
    return subprocess.run(
        (sys.executable, *command),
        capture_output=True,
        text=True,
        cwd=cwd,
        env=environment | {"COLUMNS": "200"},
        check=False,
    )


JOB = 'name = "Shed"\nunits = "us"\n[[walls]]\nname = "front"\nlength = "100 ft"\nheight = "9 ft"\nfaces = 2\n'
LINES = "# our rates\nJoint compound: 13 lb per 100 sq ft.\nJoint compound comes in 64 lb pails.\n"


@pytest.fixture
def firm(tmp_path: Path) -> Path:
    """A firm's repository with one saved estimate."""
    office = Office.of(load_plugins())
    worked = office.work(Source("job.toml", JOB), [(Source("house.txt", LINES), HOUSE)])
    assert worked.estimate is not None
    assert worked.saved is not None
    (tmp_path / "estimates").mkdir()
    write(tmp_path / "estimates" / "shed.json", text_of(with_longhand(worked.saved, worked.estimate)))
    (tmp_path / "house.txt").write_text(LINES)
    (tmp_path / "pyproject.toml").write_text(SETTINGS)
    return tmp_path


def pytested(firm: Path, *more: str) -> subprocess.CompletedProcess[str]:
    return run("-m", "pytest", "-p", "no:cacheprovider", "-p", "no:xdist", *more, cwd=firm)


def test_each_saved_estimate_is_one_test(firm: Path) -> None:
    (firm / "estimates" / "pier.json").write_bytes((firm / "estimates" / "shed.json").read_bytes())
    done = pytested(firm, "estimates", "-v")
    assert done.returncode == 0, done.stdout
    assert "estimates/shed.json::orders the same PASSED" in done.stdout
    assert "2 passed" in done.stdout


def test_what_moved_and_why_is_the_failure(firm: Path) -> None:
    house = firm / "house.txt"
    house.write_text(house.read_text().replace("13 lb", "26 lb"))
    (firm / "estimates" / "bad.json").write_text((firm / "estimates" / "shed.json").read_text()[:900])
    done = pytested(firm, "estimates")
    assert done.returncode == 1
    said = " ".join(done.stdout.split())
    assert "consumption of joint compound 13 to 26 lb per 100 sq ft, house.txt, line 2 (+" in said
    assert "bad.json breaks off before its end" in said
    assert "Traceback" not in done.stdout
    assert "2 failed" in done.stdout


def test_regression_files_are_compared_by_what_they_order_and_renewed_on_request(firm: Path) -> None:
    (firm / "test_jobs.py").write_text(
        "from pathlib import Path\n"
        "from darby.testing.saved import again, same_order\n\n"
        "def test_the_shed(file_regression):\n"
        '    saved = Path("estimates/shed.json").resolve()\n'
        '    text = again(saved, [Path("house.txt")])\n'
        '    file_regression.check(text, fullpath=saved, encoding="utf-8", check_fn=same_order)\n'
    )
    house = firm / "house.txt"
    house.write_text(house.read_text().replace("13 lb", "26 lb"))
    moved = pytested(firm, "test_jobs.py")
    assert moved.returncode == 1
    assert "13 to 26 lb per 100 sq ft, house.txt, line 2" in " ".join(moved.stdout.split())
    assert (
        pytested(firm, "test_jobs.py", "--force-regen").returncode == 1
    )  # as pytest-regressions has it: renewed, look at it
    assert pytested(firm, "test_jobs.py").returncode == 0
