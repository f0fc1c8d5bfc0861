"""The folder of a job: nothing outside it, nothing lost, everything taken back."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from darby.desk.files.folder import LARGEST, Folder, RefusedError, stamp_of


def folder(where: Path) -> Folder:
    (where / "job.toml").write_bytes(b"a")
    return Folder(where)


@pytest.mark.parametrize(
    "name", ["../x.txt", "/etc/passwd", "a/../../x", "..\\x.txt", "C:\\x", "", "  ", ".hidden", "a/.git/x", "a\0b", "a\nb", "x" * 300]
)  # fmt: skip
def test_a_name_that_leads_out_of_the_folder_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(RefusedError):
        folder(tmp_path).path(name)


def test_a_link_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    (tmp_path / "secret.txt").write_text("s")
    (tmp_path / "in" / "link.txt").symlink_to(tmp_path / "secret.txt")
    with pytest.raises(RefusedError, match="outside"):
        Folder(tmp_path / "in").read("link.txt")


def test_devices_and_pipes_and_what_is_too_large_are_not_read(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.txt")
    with (tmp_path / "large.txt").open("wb") as file:
        file.truncate(LARGEST + 1)
    with pytest.raises(RefusedError, match="ordinary"):
        Folder(tmp_path).read("pipe.txt")
    with pytest.raises(RefusedError, match="larger"):
        Folder(tmp_path).read("large.txt")


def test_a_change_is_made_taken_back_and_made_again(tmp_path: Path) -> None:
    here = folder(tmp_path)
    here.change("two", {"job.toml": b"b", "new.txt": b"n"}, {"job.toml": stamp_of(b"a"), "new.txt": ""})
    assert (here.read("job.toml"), here.read("new.txt")) == (b"b", b"n")
    assert here.undo() == "two"
    assert (here.read("job.toml"), here.read("new.txt")) == (b"a", None)
    assert here.redo() == "two"
    assert (here.read("job.toml"), here.read("new.txt")) == (b"b", b"n")
    with pytest.raises(RefusedError, match="nothing to do again"):
        here.redo()


def test_a_file_that_another_program_changed_is_not_written_over(tmp_path: Path) -> None:
    here = folder(tmp_path)
    seen = here.stamp("job.toml")
    (tmp_path / "job.toml").write_bytes(b"theirs")
    with pytest.raises(RefusedError, match="changed since"):
        here.change("mine", {"job.toml": b"mine", "other.txt": b"o"}, {"job.toml": seen})
    assert here.read("job.toml") == b"theirs"
    assert here.read("other.txt") is None


def test_nothing_is_taken_back_over_what_another_program_wrote(tmp_path: Path) -> None:
    here = folder(tmp_path)
    here.change("mine", {"job.toml": b"mine"}, {})
    (tmp_path / "job.toml").write_bytes(b"theirs")
    with pytest.raises(RefusedError, match="not taken back"):
        here.undo()
    assert here.read("job.toml") == b"theirs"


def test_a_change_that_changes_nothing_is_no_step(tmp_path: Path) -> None:
    here = folder(tmp_path)
    here.change("nothing", {"job.toml": b"a"}, {})
    with pytest.raises(RefusedError, match="nothing to take back"):
        here.undo()


def test_at_no_moment_does_the_job_name_a_file_that_is_not_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = Folder(tmp_path)
    folder.change("the new job", {"job.toml": b"[documents]\n"}, {})
    moments: list[bool] = []
    put = Folder._put

    def watched(self: Folder, name: str, data: bytes | None) -> None:
        put(self, name, data)
        named = b"a.txt" in (tmp_path / "job.toml").read_bytes()
        moments.append(not named or (tmp_path / "a.txt").exists())

    monkeypatch.setattr(Folder, "_put", watched)
    folder.change("a document", {"a.txt": b"Walls.\n", "job.toml": b'[documents]\nspecification = ["a.txt"]\n'}, {})
    folder.undo()
    assert not (tmp_path / "a.txt").exists()
    folder.redo()
    assert len(moments) == 6
    assert all(moments)


def test_one_stamp_for_several_files_moves_with_each(tmp_path: Path) -> None:
    here = folder(tmp_path)
    first = here.stamps(["job.toml", "x.txt"])
    (tmp_path / "x.txt").write_bytes(b"")
    second = here.stamps(["job.toml", "x.txt"])
    (tmp_path / "job.toml").write_bytes(b"b")
    assert len({first, second, here.stamps(["job.toml", "x.txt"])}) == 3


def test_several_files_are_written_all_or_none(tmp_path: Path) -> None:
    here = folder(tmp_path)
    (tmp_path / "held").write_bytes(b"a file where a folder is wanted")
    with pytest.raises(RefusedError, match="cannot be written"):
        here._write({"job.toml": (b"a", b"b"), "new.txt": (None, b"n"), "held/x.txt": (None, b"x")}, becomes=1)
    assert here.read("job.toml") == b"a"
    assert here.read("new.txt") is None
