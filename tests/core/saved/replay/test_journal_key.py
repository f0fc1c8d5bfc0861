"""The key of a run: kept apart from its journal, for its user alone, and gone with the run."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from darby.saved.replay.journal_key import forget, known_key, new_key, signed, state_folder


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path / "state"


def test_a_key_is_known_until_it_is_forgotten_and_each_run_has_its_own(tmp_path: Path) -> None:
    journal, other = tmp_path / "one" / "noted", tmp_path / "two" / "noted"
    assert known_key(journal) == b""
    key, kept = new_key(journal)
    assert (kept, len(key)) == (True, 32)
    assert known_key(journal) == key
    assert known_key(other) == b""
    again, _ = new_key(journal)
    assert again != key
    assert known_key(journal) == again
    forget(journal)
    forget(journal)
    assert known_key(journal) == b""


@pytest.mark.skipif(os.name != "posix", reason="rights of files as POSIX has them")
def test_nobody_else_can_read_a_key(tmp_path: Path, home: Path) -> None:
    new_key(tmp_path / "noted")
    (file,) = (p for p in home.rglob("*") if p.is_file())
    assert file.stat().st_mode & 0o077 == 0
    assert file.parent.stat().st_mode & 0o777 & 0o022 == 0


def test_a_key_that_was_cut_short_or_grew_is_none(tmp_path: Path, home: Path) -> None:
    new_key(tmp_path / "noted")
    (file,) = (p for p in home.rglob("*") if p.is_file())
    for data in (b"", b"short", b"x" * 33):
        file.write_bytes(data)
        assert known_key(tmp_path / "noted") == b""


def test_what_is_signed_hangs_on_every_byte_and_on_the_key() -> None:
    assert signed(b"data", b"key") == signed(b"data", b"key")
    assert len({signed(b"data", b"key"), signed(b"date", b"key"), signed(b"data", b"kez")}) == 3


def test_a_place_that_is_no_whole_path_is_not_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", "here")
    monkeypatch.delenv("LOCALAPPDATA", raising=False)
    assert state_folder() == Path.home() / ".local" / "state" / "darby"
