"""Whatever fails at whatever step, a file is what it was or what it was to become, and what failed is said in a sentence."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from commands import Done, darby
from darby.desk.files.folder import Folder, RefusedError, stamp_of
from faults import Faults, contents, put_back
from sheds import DEARER, sheds

JOB = """\
name = "Lamp Street"
units = "us"
schedules = ["rooms.csv"]

[documents]
specification = ["spec.txt"]
house = ["house.txt"]
"""
FILES = {
    "job.toml": JOB,
    "spec.txt": "A. Walls: one coat primer.\nB. Primer: 250 sq ft per gallon.\n",
    "house.txt": "Primer comes in 5 gal pails. [our supplier]\n",
    "rooms.csv": "name,length,width,height\nLobby,12 ft,9 ft,8 ft\n",
    "prices.csv": "product,package,price\nprimer,5 gal pail,$80.00\n",
    "order.csv": "an older order\n",
    "kept.json": "an older estimate\n",
}
BID = '\n[bid]\ncurrency = "USD"\nprices = ["prices.csv"]\n'
STEPS = 400
"""More steps than any of these commands takes."""


def job(folder: Path) -> None:
    for name, text in FILES.items():
        (folder / name).write_text(text, encoding="utf-8")


def bid(folder: Path) -> None:
    job(folder)
    (folder / "job.toml").write_text(JOB + BID, encoding="utf-8")


def saved(folder: Path) -> None:
    sheds(folder / "jobs", 2)
    (folder / "house.txt").write_text(DEARER, encoding="utf-8")


RUNS: dict[str, tuple[Callable[[Path], None], tuple[str, ...]]] = {
    "estimate": (job, ("estimate", "job.toml", "--out", "order.csv", "--save", "kept.json", "--force")),
    "a new file": (job, ("estimate", "job.toml", "--out", "new.html")),
    "bid": (bid, ("bid", "job.toml", "--out", "order.csv", "--force")),
    "replay": (saved, ("replay", "jobs", "--house", "house.txt")),
    "accept": (saved, ("replay", "jobs", "--house", "house.txt", "--accept", "all")),
    "demo": (job, ("demo", "--to", "ferry")),
}


@pytest.mark.parametrize("why", [errno.ENOSPC, errno.EIO], ids=["full", "broken"])
@pytest.mark.parametrize("name", RUNS)
def test_a_fault_at_any_step_leaves_the_old_file_or_the_new(
    name: str, why: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    make, command = RUNS[name]
    folder = tmp_path / "work"
    folder.mkdir()
    make(folder)
    monkeypatch.setenv("XDG_STATE_HOME", str(folder / "state"))
    before = contents(folder)

    def run(at: int) -> tuple[Faults, Done]:
        put_back(folder, before)
        with Faults(folder, at, why).at_work() as faults:
            return faults, darby(*command, cwd=folder)

    run(0)  # makes the folders that are made once
    whole, done = run(0)
    assert done.returncode in (0, 1), done.stderr
    after = contents(folder)
    assert after != before or name == "replay"
    kinds = set()
    for at in range(1, STEPS):
        faults, done = run(at)
        if not faults.failed:
            break
        kinds.add(faults.failed)
        told = f"step {at}, {faults.failed}: code {done.returncode}\n{done.stderr}"
        assert done.returncode in (0, 1, 2), told
        assert "our fault" not in done.stderr, told
        now = contents(folder)
        left = {n for n in now if n not in before and n not in after and not n.startswith("state")}
        assert left <= {n for n in left if faults.failed == "unlink" or n.endswith(".darby-replay.jsonl")}, told
        for file, data in now.items():
            if file not in left and not file.startswith("state"):
                assert data in (before.get(file), after.get(file)), f"{file} is neither old nor new; {told}"
        assert not before.keys() - now.keys(), told
        if done.returncode == 0 and name not in ("replay", "accept"):
            assert now == after, told
    else:
        pytest.fail("it never came to an end")
    assert at == len(whole.seen) + 1
    assert {"read", "open"} <= kinds or name == "demo"
    if name not in ("replay", "demo"):
        assert {"write", "fsync", "replace" if "--force" in command or name == "accept" else "link"} <= kinds


def test_a_fault_while_the_desk_writes_leaves_all_files_of_a_change_or_none(tmp_path: Path) -> None:
    old = {"job.toml": b"name = 'one'\n", "house.txt": b"old lines\n"}
    new: dict[str, bytes | None] = {"job.toml": b"name = 'two'\n", "house.txt": b"new lines\n", "added.txt": b"more\n"}
    for at in range(1, STEPS):
        put_back(tmp_path, old)
        with Faults(tmp_path, at).at_work() as faults:
            refused = ""
            try:
                Folder(tmp_path).change("both", new, {name: stamp_of(data) for name, data in old.items()})
            except RefusedError as error:
                refused = str(error)
        now = contents(tmp_path)
        assert now == (old if refused else new), (at, faults.failed, refused)
        if not faults.failed:
            break
    assert at > len(new)
    assert contents(tmp_path) == new


def test_the_shim_fails_what_it_says_and_nothing_outside_its_folder(tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    with Faults(tmp_path / "in", 2).at_work() as faults:
        (tmp_path / "out.txt").write_text("outside")
        with pytest.raises(OSError, match=os.strerror(errno.ENOSPC)):
            (tmp_path / "in" / "a.txt").write_text("abcdef")
    assert faults.seen == ["open", "write"]
    assert (tmp_path / "in" / "a.txt").read_text() == "abc"
    assert (tmp_path / "out.txt").read_text() == "outside"
