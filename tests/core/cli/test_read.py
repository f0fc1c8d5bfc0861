"""Texts read by the command: marked, tallied, and refused in a sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from commands import SECTION, checked, darby


def test_a_pasted_section_is_read_from_standard_input() -> None:
    done = darby("read", "-", "--format", "json", given=SECTION)
    assert done.returncode == 0, done.stderr
    data = checked("reading", done.stdout)
    assert {(r["kind"], r["subject"]) for r in data["rules"]} == {("coverage", "primer"), ("coats", "primer")}
    assert {n["file"] for n in data["numbers"]} == {"standard input"}
    assert darby("read", "--format", "json", given=SECTION).stdout == done.stdout


def test_several_files_give_one_object(folder: Path) -> None:
    (folder / "more.txt").write_text("Finish paint: 350 sq ft per gal.\n", encoding="utf-8")
    done = darby("read", "section.txt", "more.txt", "--format", "json", cwd=folder)
    assert {r["source"]["file"] for r in checked("reading", done.stdout)["rules"]} == {"section.txt", "more.txt"}


def test_read_marks_the_text_and_tells_the_tally(folder: Path) -> None:
    done = darby("read", "section.txt", cwd=folder)
    assert done.returncode == 0
    assert "2 │ A. Primer: 200 sq ft per gallon." in done.stdout
    assert "primer coverage: 200 sq ft per gal" in done.stdout
    assert done.stdout.splitlines()[-1].endswith("2 rules, 0 questions.")


def test_read_strict_ends_with_1_where_a_number_is_unread() -> None:
    assert darby("read", "-", "--strict", given=SECTION).returncode == 0
    done = darby("read", "-", "--strict", given="Primer: apply 840 of it.\n")
    assert done.returncode == 1
    assert "840" in done.stdout.partition("Not read")[2]


@pytest.mark.parametrize(
    ("given", "code"),
    [(b"", "file-empty"), (b"\x00\x01\x02" * 50, "file-binary"), (b"%PDF-1.7 ...", "file-no-text")],
)
def test_what_is_no_text_is_said_to_be_none(given: bytes, code: str) -> None:
    done = darby("read", "-", given=given)
    assert done.returncode == 2
    assert code in done.stderr
    as_json = darby("read", "-", "--format", "json", given=given)
    assert (as_json.returncode, [d["code"] for d in checked("reading", as_json.stdout)["diagnostics"]]) == (2, [code])


def test_a_missing_file_suggests_the_nearest(folder: Path) -> None:
    done = darby("read", "secton.txt", cwd=folder)
    assert done.returncode == 2
    assert "Did you mean section.txt?" in done.stderr


def test_escapes_in_a_text_do_not_reach_the_terminal() -> None:
    done = darby("read", "-", given="Primer \x1b[31m: 200 sq ft per gallon \x1b]0;x\x07 \u202egnihtyna 840.\n")
    assert not {"\x1b", "\x07", "\u202e"} & set(done.stdout + done.stderr)


DOUBTFUL = "A. Quorble the frobnic quux with grimbly sheenery: two coats finish paint upon walls.\n"
"""Four words that nobody knows beside a fact."""


def test_read_ends_with_1_under_strict_and_says_what_to_look_at() -> None:
    done = darby("read", "-", "--strict", given=DOUBTFUL)
    assert done.returncode == 1
    assert "To confirm" in done.stdout
    assert ", 1 to confirm, " in done.stdout.splitlines()[-1]
    assert darby("read", "-", given=DOUBTFUL).returncode == 0
    assert darby("read", "-", "--strict", given="A. Walls: two coats finish paint.\n").returncode == 0
