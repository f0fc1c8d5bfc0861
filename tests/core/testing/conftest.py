"""A firm with one saved estimate."""

from __future__ import annotations

from pathlib import Path

import pytest

from darby.plugin_host.loader import load_plugins
from darby.rules.rule import HOUSE
from darby.saved.replay.one import Office
from darby.saved.writer import text_of, with_longhand, write
from darby.text.spans import Source
from firms import JOB, LINES, SETTINGS


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
