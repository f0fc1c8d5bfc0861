"""Text from outside is data, a test for each door: what leaves by the command line, into files and terminals.

The doors of single documents are held beside them: markup and script in test_page, formulas in test_csv and
test_workbook, Markdown in test_letter.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import handed
import real_readers
from checkout import ROOT
from commands import darby
from darby.cli.shared.jobs import Wanted, estimate_of
from darby.documents.catalogue import documents

JOB = """name = "../../escaped/{name}"
units = "us"
[documents]
specification = ["section.txt"]
[[walls]]
name = "{name}"
length = "24 ft"
height = "8 ft"
faces = 1
"""
SECTION = "Primer: 200 sq ft per gallon. {name}\nWalls: one coat primer. Apply 840 of {name}.\n"
BAD = "\x1b]0;owned\x07\x1b[31m \x9b2J \u202e<script>=1+1"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    inside = tmp_path / "inside"
    inside.mkdir()
    escaped = BAD.encode("unicode_escape").decode().replace("\\x", "\\u00")
    (inside / "job.toml").write_text(JOB.format(name=escaped), encoding="utf-8")
    (inside / "section.txt").write_text(SECTION.format(name=BAD), encoding="utf-8")
    return inside


def unseen(text: str) -> list[str]:
    return [c for c in text if (ord(c) < 32 and c not in "\n\r\t") or 127 <= ord(c) < 160 or c == "\u202e"]


def test_a_hostile_job_goes_through_every_document_and_no_control_sign_comes_out(folder: Path) -> None:
    outcome = estimate_of(Wanted(str(folder / "job.toml")))
    assert outcome.estimate is not None, outcome.problems
    for document in documents():
        out = document.make(outcome.estimate)
        if document.name not in {"xlsx", "json"}:  # JSON escapes them, and says so in its own tests
            assert not unseen(out if isinstance(out, str) else out.decode("utf-8-sig")), document.name


def test_the_terminal_shows_a_hostile_job_and_does_nothing_it_says(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--longhand", cwd=folder)
    assert done.returncode == 0, done.stderr
    assert not unseen(done.stdout + done.stderr)
    assert "<script>=1+1" in done.stdout


@pytest.mark.parametrize("ending", ["xlsx", "html", "txt"])
def test_a_document_goes_to_the_file_that_was_named_and_nowhere_else(folder: Path, ending: str) -> None:
    before = set(folder.parent.rglob("*"))
    done = darby("estimate", "job.toml", "--out", f"mine.{ending}", cwd=folder)
    assert done.returncode == 0, done.stderr
    assert set(folder.parent.rglob("*")) - before == {folder / f"mine.{ending}"}
    assert (folder / f"mine.{ending}").stat().st_size > 200
    assert not done.stdout


def test_what_is_written_to_a_file_is_what_goes_to_a_pipe(folder: Path) -> None:
    for name in ("xlsx", "letter.md"):
        assert darby("estimate", "job.toml", "--format", name, "--out", "a file", "--force", cwd=folder).returncode == 0
        assert (folder / "a file").read_bytes() == darby("estimate", "job.toml", "--format", name, cwd=folder).written


@pytest.mark.parametrize("target", ["job.toml", "../inside/section.txt", "link.html"])
def test_no_document_is_written_over_what_it_is_made_from(folder: Path, target: str) -> None:
    (folder / "link.html").symlink_to("section.txt")
    kept = {n: (folder / n).read_bytes() for n in ("job.toml", "section.txt")}
    done = darby("estimate", "job.toml", "--format", "html", "--out", target, cwd=folder)
    assert done.returncode == 2
    assert "is what the estimate is made from" in done.stderr
    assert {n: (folder / n).read_bytes() for n in kept} == kept


@pytest.mark.parametrize(
    ("target", "says"),
    [
        (".", "is a folder"),
        ("x" * 300 + ".html", "cannot be written"),
        ("mine\x1b]0;owned\x07.html/x.html", "There is no folder"),
    ],
)
def test_a_file_that_cannot_be_written_is_told_and_leaves_nothing_behind(folder: Path, target: str, says: str) -> None:
    before = set(folder.iterdir())
    done = darby("estimate", "job.toml", "--format", "html", "--out", target, cwd=folder)
    assert done.returncode == 2
    assert says in done.stderr
    assert not unseen(done.stderr)
    assert set(folder.iterdir()) == before


def test_an_older_file_is_replaced_whole_and_keeps_its_rights(folder: Path) -> None:
    old = folder / "mine.csv"
    old.write_text("zzz " * 9_000, encoding="utf-8")
    old.chmod(0o640)
    assert darby("estimate", "job.toml", "--out", "mine.csv", "--force", cwd=folder).returncode == 0
    assert b"zzz" not in old.read_bytes()
    assert old.stat().st_mode & 0o777 == 0o640


def test_an_ending_that_is_no_document_is_refused(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--out", "mine.pdf", cwd=folder)
    assert done.returncode == 2
    assert "no document goes by the ending .pdf" in done.stderr
    assert not (folder / "mine.pdf").exists()


def test_a_format_that_is_none_lists_those_there_are(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--format", "\x1b[31mxls", cwd=folder)
    assert done.returncode == 2
    assert "letter.html" in done.stderr
    assert "\x1b" not in done.stderr


def test_formats_lists_every_document_with_what_it_is(tmp_path: Path) -> None:
    text = darby("formats", cwd=tmp_path).stdout
    assert [line.split()[0] for line in text.splitlines()] == [*(d.name for d in documents()), "cuts.csv"]
    assert all(len(line.split(None, 1)) == 2 for line in text.splitlines())


def test_a_document_is_a_function_of_the_estimate_alone() -> None:
    for document in documents():
        assert document.make(handed.demo()) == document.make(handed.demo()), document.name


# --- the programs that open the documents


def test_a_program_that_is_not_there_skips_its_tests_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("DARBY_ALL_READERS", raising=False)
    with pytest.raises(pytest.skip.Exception, match="The Thing is not installed"):
        real_readers.program(("no-such-program-at-all",), "The Thing")


def test_where_all_are_asked_for_a_missing_program_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DARBY_ALL_READERS", "1")
    with pytest.raises(pytest.fail.Exception, match="DARBY_ALL_READERS"):
        real_readers.program(("no-such-program-at-all",), "The Thing")


def test_the_whole_check_installs_both_and_asks_for_them() -> None:
    check = (ROOT / ".ci/run").read_text(encoding="utf-8")
    assert "libreoffice-calc chromium" in check
    assert "export DARBY_ALL_READERS=1" in check
