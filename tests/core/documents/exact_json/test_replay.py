"""What replaying prints as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from darby.saved.replay.journal import NAME
from darby.saved.replay.workers import Here
from walks import LINES, ROPES, replayed, saved


def test_all_the_same_moved_and_failed(folder: Path) -> None:
    data = replayed(folder / "jobs", code=0)
    assert [(f["became"], f["moved"]) for f in data["files"]] == [("same", [])] * 2
    assert data["totals"] == []
    (folder / "jobs" / "c.json").write_text(saved()[:900])
    (folder / "jobs" / "d.json").mkdir()
    data = replayed(folder / "jobs", "--house", folder / "house.txt", code=2)
    assert [f["became"] for f in data["files"]] == ["moved", "moved", "failed"]
    (total,) = data["totals"]
    assert (total["product"], total["container"], total["jobs"]) == ("joint compound", "pail", 2)
    assert total["package"] == {"value": "64", "unit": "lb"}
    assert total["packages"] == sum(m["packages"] for f in data["files"] for m in f["moved"])
    assert data["files"][2]["name"] == ""


def test_lines_that_came_and_went_and_orders_that_cannot_be_told_in_packages(folder: Path) -> None:
    (folder / "house.txt").write_text(LINES.replace("64 lb pails", "50 lb boxes") + "Finish paint: eggshell sheen.\n")
    data = replayed(folder / "jobs", "--house", folder / "house.txt", "--without", "fasteners", code=1)
    moved = [m for f in data["files"] for m in f["moved"]]
    assert any(m["after"] is None for m in moved)
    assert any(m["packages"] is None for m in moved)
    assert {t["container"] for t in data["totals"]} >= {"pail", "box"}


def test_an_empty_folder(tmp_path: Path) -> None:
    data = replayed(tmp_path, code=2)
    assert (data["files"], data["totals"], data["stopped"]) == ([], [], False)


def test_a_trade_that_failed_leaves_an_estimate_incomplete(folder: Path) -> None:
    (folder / "ropes.py").write_text(ROPES)
    (folder / "broken").touch()
    data = replayed(folder / "jobs", "--plugin-file", folder / "ropes.py", code=3)
    assert {(f["became"], f["problem"]) for f in data["files"]} == {
        ("incomplete", "ropes failed, and its lines are missing.")
    }


def test_a_run_that_was_stopped_has_what_was_done(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(self: Here, chunks: Any, setup: Any) -> Iterator[Any]:
        yield next(whole(self, chunks, setup))
        raise KeyboardInterrupt

    whole = Here.run
    monkeypatch.setattr(Here, "run", stopped)
    data = replayed(folder / "jobs", code=130)
    assert data["stopped"]
    assert len(data["files"]) == 1
    assert (folder / "jobs" / NAME).exists()
    monkeypatch.undo()
    assert [f["became"] for f in replayed(folder / "jobs", code=0)["files"]] == ["same"] * 2


@pytest.mark.parametrize(("answer", "given", "code"), [("ask", "y\nn\n", 1), ("ask", "a\n", 0), ("all", "", 0)])
def test_with_results_accepted_there_is_the_document_and_nothing_else(
    folder: Path, answer: str, given: str, code: int
) -> None:
    data = replayed(folder / "jobs", "--house", folder / "house.txt", "--accept", answer, code=code, given=given)
    assert [f["became"] for f in data["files"]] == ["moved", "moved"]
    left = replayed(folder / "jobs", "--house", folder / "house.txt", code=code)
    assert [f["became"] for f in left["files"]] == ["same", "moved" if code else "same"]
