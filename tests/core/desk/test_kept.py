"""An order that was kept, as it was bid: in a file beside the job, and everything after is held against it with its causes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from commands import darby
from darby.cli.shared.keeping import Kept
from darby.desk.kept import NAME, kept_moves
from desks import SPEC, Visitor, loft


def test_what_moved_since_stands_beside_each_line_and_with_its_cause(tmp_path: Path) -> None:
    visitor = Visitor(loft(tmp_path))
    assert NAME in visitor.do("pin").json()["told"]
    assert "Nothing moved" in visitor.get("/since").text
    said = visitor.do("line", line="Walls: four coats eggshell.", source="Ada").json()
    assert re.search(r"kept: \d+ can", said["panes"]["order"])
    (tmp_path / "job.toml").write_text(
        (tmp_path / "job.toml").read_text(encoding="utf-8").replace("36 ft 4 in", "60 ft"), encoding="utf-8"
    )
    why = visitor.get("/since", headers={"x-panes": "1"}).text
    assert "coats of finish paint" in why
    assert "length 36 ft 4 in to 60 ft" in why
    assert "<html" not in why


def test_what_moved_since_is_worked_out_once_for_each_state_of_the_job(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    worked: list[object] = []
    since = Kept.since
    monkeypatch.setattr(Kept, "since", lambda kept, before: (worked.append(before), since(kept, before))[1])
    visitor = Visitor(loft(tmp_path))
    visitor.do("pin")
    visitor.do("line", line="Walls: four coats eggshell.", source="Ada")
    first = visitor.get("/since", headers={"x-panes": "1"}).text
    assert visitor.get("/since", headers={"x-panes": "1"}).text == first
    assert len(worked) == 1
    visitor.do("line", line="Walls: five coats eggshell.", source="Ada")
    assert visitor.get("/since", headers={"x-panes": "1"}).text != first
    assert len(worked) == 2
    visitor.do("undo")
    assert visitor.get("/since", headers={"x-panes": "1"}).text == first


def test_it_is_there_when_the_desk_is_opened_again_and_for_the_command(tmp_path: Path) -> None:
    Visitor(loft(tmp_path)).do("pin")
    (tmp_path / "finishes.txt").write_text(SPEC.replace("two coats eggshell", "four coats eggshell"), encoding="utf-8")
    again = Visitor(tmp_path)
    html = again.get("/").text
    assert 'aria-pressed="true"' in html
    assert re.search(r"kept: \d+ can", html)
    done = darby("compare", str(tmp_path / NAME), str(tmp_path / "job.toml"))
    assert done.returncode == 1
    assert "2 to 4" in done.stdout


def test_it_is_let_go_and_brought_back(tmp_path: Path) -> None:
    visitor = Visitor(loft(tmp_path))
    visitor.do("pin")
    assert "let go" in visitor.do("pin").json()["told"]
    assert not (tmp_path / NAME).exists()
    assert visitor.get("/since").status_code == 404
    visitor.do("undo")
    assert (tmp_path / NAME).exists()
    (tmp_path / NAME).write_text("{}", encoding="utf-8")
    assert 'aria-pressed="false"' in visitor.get("/").text  # what cannot be read is no order that was kept


def test_of_a_job_that_cannot_be_worked_out_nothing_is_kept(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("name = ", encoding="utf-8")
    visitor = Visitor(tmp_path)
    assert visitor.do("pin").json()["refused"]
    assert kept_moves(None, None) == {}
