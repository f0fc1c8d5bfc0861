"""Files on the command line: what is read stays as it is, and what is there is written over only when told to."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from commands import DARBY, JOB, darby, started

LIST = "name,length,width,height\nOffice,12 ft,8 ft,8 ft\n"


@pytest.fixture
def listed(folder: Path) -> Path:
    """The job with a schedule and a house file beside it."""
    text = JOB.replace("[documents]", 'schedules = ["rooms.csv"]\n[documents]\nhouse = ["house.txt"]')
    (folder / "job.toml").write_text(text, encoding="utf-8")
    (folder / "rooms.csv").write_text(LIST, encoding="utf-8")
    (folder / "house.txt").write_text("Primer: 300 sq ft per gallon.\n", encoding="utf-8")
    return folder


def held(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


@pytest.mark.parametrize(
    "name", ["job.toml", "section.txt", "house.txt", "rooms.csv", "./rooms.csv", "link.csv", "hard.csv"]
)
@pytest.mark.parametrize("option", ["--out", "--save"])
@pytest.mark.parametrize("more", [(), ("--force",)])
def test_what_an_estimate_reads_is_never_written_over(
    listed: Path, name: str, option: str, more: tuple[str, ...]
) -> None:
    (listed / "link.csv").symlink_to(listed / "rooms.csv")
    os.link(listed / "rooms.csv", listed / "hard.csv")
    before = held(listed)
    done = darby("estimate", "job.toml", "--format", "csv", option, name, *more, cwd=listed)
    assert done.returncode == 2
    assert "is what the estimate is made from. Nothing was written" in done.stderr
    assert held(listed) == before


@pytest.mark.parametrize(
    ("form", "name", "begins"),
    [("order", "sent.html", "<!doctype html>"), ("order", "sent.md", "# Order list"), ("order", "sent.csv", "\ufeffitem,"),
     ("order", "sent.txt", "Order list:"), ("order.md", "sent.html", "# Order list")],
)  # fmt: skip
def test_a_paper_takes_the_form_that_its_file_ends_in(listed: Path, form: str, name: str, begins: str) -> None:
    assert darby("estimate", "job.toml", "--format", form, "--out", name, cwd=listed).returncode == 0
    assert (listed / name).read_text(encoding="utf-8").lower().startswith(begins.lower())


@pytest.mark.parametrize(
    "command",
    [
        ("estimate", "job.toml", "--save"),
        ("estimate", "job.toml", "--format", "csv", "--out"),
        ("rooms", "job.toml", "--out"),
    ],
)
def test_a_file_that_is_there_is_written_over_with_force_alone(listed: Path, command: tuple[str, ...]) -> None:
    (listed / "mine").write_text("dear to me", encoding="utf-8")
    done = darby(*command, "mine", cwd=listed)
    assert done.returncode == 2
    assert done.stderr == "mine is there already. Nothing was written; name another file, or add --force.\n"
    assert (listed / "mine").read_text(encoding="utf-8") == "dear to me"
    assert darby(*command, "mine", "--force", cwd=listed).returncode == 0
    assert "dear" not in (listed / "mine").read_text(encoding="utf-8-sig")
    assert darby(*command, "new", cwd=listed).returncode == 0


def test_where_one_of_two_may_not_be_written_neither_is(listed: Path) -> None:
    (listed / "kept.json").write_text("dear to me", encoding="utf-8")
    before = held(listed)
    assert darby("estimate", "job.toml", "--out", "new.csv", "--save", "kept.json", cwd=listed).returncode == 2
    assert held(listed) == before


@pytest.mark.parametrize("other", ["a.json", "./a.json", "sub/../a.json"])
def test_out_and_save_are_two_files(listed: Path, other: str) -> None:
    (listed / "sub").mkdir()
    before = held(listed)
    done = darby("estimate", "job.toml", "--format", "json", "--out", "a.json", "--save", other, "--force", cwd=listed)
    assert done.returncode == 2
    assert "name two files" in done.stderr
    assert held(listed) == before


def test_files_outside_of_the_folder_are_read_with_leave_alone(listed: Path) -> None:
    inner = listed / "inner"
    inner.mkdir()
    text = (listed / "job.toml").read_text(encoding="utf-8")
    for name in ("section.txt", "house.txt", "rooms.csv"):
        text = text.replace(f'"{name}"', f'"../{name}"')
    (inner / "job.toml").write_text(text, encoding="utf-8")
    for command in (("estimate",), ("rooms",), ("explain", "primer"), ("compare", "job.toml")):
        first, *rest = command
        done = darby(first, "job.toml", *rest, cwd=inner)
        assert done.returncode == 2
        assert done.stderr.count("lies outside of the folder of the job") >= 1
        assert darby(first, "job.toml", *rest, "--files-anywhere", cwd=inner).returncode == 0


def test_a_plugin_file_outside_of_the_folder_is_not_run(listed: Path) -> None:
    inner = listed / "inner"
    inner.mkdir()
    (listed / "mine.py").write_text("raise SystemExit('it ran')\n", encoding="utf-8")
    (inner / "job.toml").write_text('name = "j"\nunits = "us"\n[plugins]\nfiles = ["../mine.py"]\n', encoding="utf-8")
    done = darby("estimate", "job.toml", "--run-plugins", cwd=inner)
    assert done.returncode == 2
    assert "../mine.py lies outside of the folder of the job" in done.stderr
    assert "it ran" not in done.stderr


@pytest.mark.skipif(sys.platform != "linux", reason="no such devices")
@pytest.mark.parametrize("command", ["--help", "demo", "why", "demo --format json"])
def test_an_output_that_takes_no_more_is_said_and_is_not_our_fault(command: str) -> None:
    for to, why in (
        ("/dev/full", "cannot be written: no space left on device"),
        ("&-", "is closed; nothing can be shown"),
    ):
        run = f'"{sys.executable}" "{DARBY}" {command} >{to}'
        done = subprocess.run(("bash", "-c", run), capture_output=True, text=True, check=False)
        assert done.returncode == 2
        assert f"standard output {why}" in done.stderr
        assert "our fault" not in done.stderr
        assert "Exception" not in done.stderr
    heard = subprocess.run(
        ("bash", "-c", f'"{sys.executable}" "{DARBY}" {command} 2>&-'), capture_output=True, text=True, check=False
    )
    assert heard.returncode == 0
    assert heard.stdout


@pytest.mark.skipif(sys.platform != "linux", reason="no such devices")
def test_a_full_device_is_said_where_a_document_or_a_journal_goes_there(listed: Path) -> None:
    done = started("estimate", "job.toml", "--format", "csv", "--out", "/dev/full", cwd=listed)
    assert done.returncode == 2
    assert "/dev/full cannot be written: No space left on device" in done.stderr
    (listed / "kept").mkdir()
    assert darby("estimate", "job.toml", "--save", "kept/a.json", cwd=listed).returncode == 0
    journal = started("replay", "kept", "--journal", "/dev/full", cwd=listed)
    assert journal.returncode == 2
    assert "is no journal of a replay" in journal.stderr
