"""A firm's repository of saved estimates, tested by a pytest of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

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


_NOT_USED = ("cacheprovider", "xdist", "xdist.looponfail", "hypothesispytest", "anyio")


def pytested(firm: Path, *more: str) -> subprocess.CompletedProcess[str]:
    return run("-m", "pytest", *(part for name in _NOT_USED for part in ("-p", f"no:{name}")), *more, cwd=firm)
