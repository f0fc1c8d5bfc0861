"""Taking the new result of a replay: looked at first, written in one step, and the old file stands where anything is in the way."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

import pytest
from attrs import evolve

from darby.saved.replay import acceptance
from darby.saved.replay.acceptance import accept, moved_in
from darby.saved.replay.file import Setup
from darby.saved.replay_outcome import Replayed
from sheds import LINES, ran, setup, shed, sheds


@pytest.fixture
def one(tmp_path: Path) -> Replayed:
    (found,) = ran(sheds(tmp_path, 1), setup()).files
    return found


def test_what_moved_is_shown_with_its_causes(one: Replayed) -> None:
    found = moved_in(one, setup())
    assert found is not None
    comparison, causes = found
    (moved,) = comparison.items
    assert moved.packages == 8  # 494 lb are 8 pails of 64, 988 are 16
    ((cause,),) = causes.values()
    (change,) = cause.changes
    assert change.after.says() == "26 lb per 100 sq ft"  # type: ignore[union-attr]
    same = moved_in(one, setup(LINES))
    assert same is not None
    assert same[0].same
    assert same[1] == {}


def test_a_file_that_went_or_changed_is_told_and_nothing_is_shown_of_it(one: Replayed) -> None:
    Path(one.file).write_text(shed(300))
    assert accept(one, setup()) == f"{one.file} was changed meanwhile; it stays as it is."
    assert moved_in(one, setup()) is None
    Path(one.file).unlink()
    assert accept(one, setup()) == f"{one.file} cannot be opened: no such file or directory."
    assert moved_in(one, setup()) is None


def test_a_file_that_cannot_be_read_or_worked_out_stays_as_it_is(one: Replayed) -> None:
    bad = b"{}"
    Path(one.file).write_bytes(bad)
    damaged = evolve(one, digest=hashlib.sha256(bad).hexdigest()[:16])
    assert accept(damaged, setup()) == f"{one.file} cannot be read; it stays as it is."
    assert moved_in(damaged, setup()) is None
    assert Path(one.file).read_bytes() == bad


def test_house_lines_that_nobody_understands_leave_the_old_file(one: Replayed) -> None:
    before = Path(one.file).read_bytes()
    wrong = setup("Joint compound: 13 wheelbarrows.\n")
    assert accept(one, wrong) == f"{one.file} could not be worked out this time; it stays as it is."
    assert moved_in(one, wrong) is None
    assert Path(one.file).read_bytes() == before


def test_an_estimate_in_which_a_trade_failed_is_not_taken(one: Replayed, monkeypatch: pytest.MonkeyPatch) -> None:
    again = acceptance.again

    def missing(*arguments: Any) -> Any:
        worked = again(*arguments)
        assert worked.saved is not None
        return evolve(worked, saved=evolve(worked.saved, missing=("joints",)))

    monkeypatch.setattr(acceptance, "again", missing)
    assert accept(one, setup()) == f"{one.file} could not be worked out this time; it stays as it is."


def test_a_file_that_cannot_be_written_stays_as_it_is(one: Replayed, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(acceptance, "write", full)
    assert accept(one, setup()) == f"{one.file} cannot be written: no space left on device. It stays as it is."


def test_what_was_taken_is_what_is_worked_out_today(one: Replayed) -> None:
    assert accept(one, setup()) == ""
    assert ran([one.file], Setup()).files[0].became == "same"
    assert ran([one.file], setup()).files[0].became == "same"
