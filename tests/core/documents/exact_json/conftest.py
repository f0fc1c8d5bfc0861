"""A folder of saved estimates and house lines."""

from __future__ import annotations

from pathlib import Path

import pytest

from walks import DEARER, LINES, saved


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two saved estimates, and house lines under which both move."""
    (tmp_path / "jobs").mkdir()
    (tmp_path / "house.txt").write_text(DEARER)
    for name, text in (("a", saved()), ("b", saved(house=LINES.replace("13", "12")))):
        (tmp_path / "jobs" / f"{name}.json").write_text(text, encoding="utf-8")
    return tmp_path
