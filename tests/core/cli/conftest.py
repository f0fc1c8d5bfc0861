"""A folder with the small job of `commands`."""

from __future__ import annotations

from pathlib import Path

import pytest

from commands import JOB, SECTION


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    (tmp_path / "section.txt").write_text(SECTION, encoding="utf-8")
    return tmp_path
