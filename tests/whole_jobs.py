"""Whole jobs of the fixtures, as the command works them out."""

from __future__ import annotations

import json
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any


@cache
def estimate_printed(folder: Path) -> dict[str, Any]:
    """The estimate of a job's folder, as the command prints it; nobody may change it."""
    darby = Path(sys.executable).with_name("darby")
    done = subprocess.run(
        (sys.executable, str(darby), "estimate", str(folder / "job.toml"), "--format", "json"),
        capture_output=True, text=True, encoding="utf-8", stdin=subprocess.DEVNULL, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found
