"""What the desk shows: worked out once for each state of the files, whole, with what moved."""

from __future__ import annotations

from pathlib import Path

import pytest

from darby.desk.bench import gone, moves
from desks import JOB, SPEC, bench, loft


def test_the_same_files_are_worked_out_once(tmp_path: Path) -> None:
    here = bench(loft(tmp_path))
    assert here.look() is here.look()
    assert here.look().version == 1


def test_a_changed_document_is_noticed_and_what_moved_is_told(tmp_path: Path) -> None:
    here = bench(loft(tmp_path))
    first = here.look()
    (tmp_path / "finishes.txt").write_text(SPEC.replace("two coats eggshell", "four coats eggshell"), encoding="utf-8")
    second = here.look()
    assert second.version == 2
    assert second.before is first.estimate
    found = moves(second.before, second.estimate)
    assert {move.name.partition(",")[0] for move in found.values()} == {"finish paint"}
    assert all(move.was != move.now for move in found.values())


def test_lines_that_are_no_longer_ordered_are_told(tmp_path: Path) -> None:
    here = bench(loft(tmp_path))
    before = here.look().estimate
    (tmp_path / "job.toml").write_text(
        JOB.replace('finishes.txt"]', 'finishes.txt"]').partition("# ground")[0], encoding="utf-8"
    )
    now = here.look().estimate
    assert now is not None
    found = moves(before, now)
    assert len(gone(found.values(), now)) == len(found) > 3
    assert all(move.now == "none" for move in found.values())


def test_a_mistake_keeps_the_last_estimate_and_says_that_it_is_old(tmp_path: Path) -> None:
    here = bench(loft(tmp_path))
    first = here.look()
    assert not first.stale
    (tmp_path / "job.toml").write_text(JOB.replace('"10 ft"', '"ten"'), encoding="utf-8")
    second = here.look()
    assert second.stale
    assert second.estimate is first.estimate
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    assert not here.look().stale


def test_files_that_are_not_there_and_jobs_that_cannot_be_read_have_a_stamp(tmp_path: Path) -> None:
    here = bench(tmp_path)
    empty = here.stamp()
    (tmp_path / "job.toml").write_text("name = ", encoding="utf-8")
    broken = here.stamp()
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    missing = here.stamp()
    assert len({empty, broken, missing}) == 3
    assert here.files() == [("finishes.txt", "specification")]


@pytest.mark.parametrize("name", [".spec.txt", "sub/../finishes.txt", "a:b.txt"])
@pytest.mark.parametrize("form", ['["{}"]', '"{}"'])
def test_the_stamp_covers_every_file_that_is_opened(tmp_path: Path, name: str, form: str) -> None:
    here = bench(loft(tmp_path))
    (tmp_path / "sub").mkdir()
    (tmp_path / "job.toml").write_text(JOB.replace('["finishes.txt"]', form.format(name)), encoding="utf-8")
    (tmp_path / name).write_text(SPEC, encoding="utf-8")
    before = here.stamp()
    (tmp_path / name).write_text(SPEC.replace("two coats", "four coats"), encoding="utf-8")
    assert here.stamp() != before
