"""What is read of a file has bounds."""

from __future__ import annotations

from pathlib import Path

import pytest

from darby.text import files
from darby.text.files import decode, open_file


def test_a_file_and_a_text_have_bounds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "LARGEST_FILE", 1_000_000)
    monkeypatch.setattr(files, "LARGEST_TEXT", 100_000)
    monkeypatch.setattr(files, "LARGEST_TABLE", 200_000)
    for size, read, as_table in (
        (100_000, True, True),
        (100_001, False, True),
        (200_001, False, False),
        (1_000_001, False, False),
    ):
        (tmp_path / "a.txt").write_bytes(b"a" * size)
        for table, wanted in ((False, read), (True, as_table)):
            source, told = open_file(tmp_path / "a.txt", "a.txt", table=table)
            assert (source is not None) is wanted, size
            assert [d.code for d in told] == ([] if wanted else ["file-too-large"])


def test_a_file_that_is_no_text_is_told_with_the_line_that_shows_it() -> None:
    for data in (b"one\ntwo\nth\0ree\n", b"\x01\x02\x03\xff\xfe"):
        _, (told,) = decode(data, "spec.txt")
        line = 3 if data.startswith(b"one") else 1
        assert told.message == f"spec.txt is no text file: line {line} holds signs that no text has."


def test_no_more_of_a_file_is_read_than_its_bound(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "LARGEST_FILE", 1_000)
    with (tmp_path / "sparse.txt").open("wb") as file:
        file.truncate(3_000_000_000_000)  # a hole of 3 TB: who reads it whole comes to no end
    assert open_file(tmp_path / "sparse.txt")[1][0].code == "file-too-large"
    assert decode(b"a" * 1_001, "standard input")[1][0].code == "file-too-large"
