"""What a job names lies beside it, and nothing waits for a pipe for ever."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from darby.text.beside import open_beside, outside
from darby.text.files import open_file
from darby.text.spans import Source

PLACE = Source("job.toml", "x").span(0, 1)


@pytest.mark.parametrize(
    "name",
    ["../secret.txt", "/etc/hostname", "in/../../secret.txt", "link.txt", "way/secret.txt", "~/../../secret.txt"],
)
def test_a_name_that_leads_out_of_the_folder_is_not_opened(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "job"
    (folder / "in").mkdir(parents=True)
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")
    (folder / "link.txt").symlink_to(tmp_path / "secret.txt")
    (folder / "way").symlink_to(tmp_path)
    source, (told,) = open_beside(folder, name, PLACE)
    assert source is None
    assert (told.code, told.span) == ("file-outside", PLACE)
    assert "--files-anywhere" in told.help
    assert outside(folder, name) is not None
    assert not any(d.code == "file-outside" for d in open_beside(folder, name, PLACE, anywhere=True)[1])


@pytest.mark.parametrize("name", ["a.txt", "in/b.txt", "in/../a.txt", "./a.txt", "near.txt"])
def test_what_lies_in_the_folder_is_opened_however_it_is_named(tmp_path: Path, name: str) -> None:
    (tmp_path / "in").mkdir()
    for file in ("a.txt", "in/b.txt"):
        (tmp_path / file).write_text("Walls: two coats.", encoding="utf-8")
    (tmp_path / "near.txt").symlink_to(tmp_path / "a.txt")
    assert open_beside(tmp_path, name, PLACE)[0] is not None
    assert open_beside(tmp_path, str(tmp_path / name), PLACE)[0] is not None


@pytest.mark.parametrize("name", ["a\0b", "x" * 5000])
def test_a_name_that_no_system_takes_is_told_as_such(tmp_path: Path, name: str) -> None:
    source, told = open_beside(tmp_path, name, PLACE)
    assert source is None
    assert [d.code for d in told] == ["file-unreadable"]


@pytest.mark.skipif(sys.platform == "win32", reason="no pipes of that kind")
def test_a_job_names_no_pipe_and_no_device(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.txt")
    source, (told,) = open_beside(tmp_path, "pipe.txt", PLACE)
    assert source is None
    assert told.message == "pipe.txt is a pipe, not a text file."
    for device in ("/dev/zero", "/dev/full"):
        assert open_file(Path(device))[1][0].code == "file-unreadable"
