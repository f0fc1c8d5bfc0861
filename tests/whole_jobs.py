"""Whole jobs of the fixtures, as the command works them out."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from commands import darby


@cache
def estimate_printed(folder: Path) -> dict[str, Any]:
    """The estimate of a job's folder, as the command prints it; nobody may change it."""
    done = darby("estimate", str(folder / "job.toml"), "--format", "json")
    assert done.returncode == 0, done.stdout + done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found
