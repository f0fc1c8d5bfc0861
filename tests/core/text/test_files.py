"""Files to sources: what is text, in which encoding, and what is said of the rest."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.text.diagnostics import Severity
from darby.text.files import decode, missing_file, nearest, open_file
from darby.text.spans import Source

TEXT = 'Walls: ½" boards – two coats, 70 °F.\r\nCeilings: one coat “flat”.\n'


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-32"])
def test_unicode_is_read_with_and_without_its_mark(encoding: str) -> None:
    source, notes = decode(TEXT.encode(encoding), "s.txt")
    assert source is not None
    assert source.text == TEXT
    assert source.name == "s.txt"
    assert notes == ()


@pytest.mark.parametrize(("mark", "encoding"), [(b"\xfe\xff", "utf-16-be"), (b"\xff\xfe", "utf-16-le")])
def test_both_byte_orders_of_utf_16_are_read(mark: bytes, encoding: str) -> None:
    source, _ = decode(mark + TEXT.encode(encoding), "s.txt")
    assert source is not None
    assert source.text == TEXT


def test_windows_1252_is_read_with_a_note() -> None:
    source, notes = decode(TEXT.encode("cp1252"), "s.txt")
    assert source is not None
    assert source.text == TEXT
    assert [(n.code, n.severity) for n in notes] == [("encoding-guessed", Severity.NOTE)]


@pytest.mark.parametrize(
    "data",
    [
        "Стены: два слоя краски. Потолки: один слой.".encode("cp1251"),
        "壁:塗装二回。天井:塗装一回。".encode("shift-jis"),
        "Walls – two coats, 70 °F. ".encode() + b"\xff" + b" and ceilings too.",
        b"Walls: two coats \x81 of it.",
    ],
    ids=["Cyrillic", "Japanese", "damaged UTF-8", "no character"],
)
def test_what_does_not_read_like_windows_1252_is_refused_with_its_line(data: bytes) -> None:
    source, problems = decode(b"PART 1\n" + data, "s.txt")
    assert source is None
    assert [p.code for p in problems] == ["encoding-unknown"]
    assert "line 2" in problems[0].message
    assert problems[0].help


def test_half_a_utf_16_character_is_refused() -> None:
    source, problems = decode(TEXT.encode("utf-16")[:-1], "s.txt")
    assert source is None
    assert [p.code for p in problems] == ["encoding-unknown"]


@pytest.mark.parametrize(
    "data",
    [
        b"PK\x03\x04rest",
        b"{\\rtf1 Walls}",
        b"abc\x00def",
        bytes(range(256)),
        bytes(range(1, 32)) * 4,
        TEXT.encode("utf-16-le"),
        b"\x7fELF\x02\x01\x01" + b"\x00" * 9,
    ],
)
def test_what_is_no_text_is_refused_with_a_way_out(data: bytes) -> None:
    source, problems = decode(data, "s.txt")
    assert source is None
    assert [p.code for p in problems] == ["file-binary"]
    assert problems[0].file == "s.txt"
    assert "plain text" in problems[0].help


@pytest.mark.parametrize("data", [b"", b"\xef\xbb\xbf", b" \r\n\t\n", b"\xff\xfe", b"\x1a"])
def test_an_empty_file_is_told(data: bytes) -> None:
    source, problems = decode(data, "s.txt")
    assert source is None
    assert [p.code for p in problems] == ["file-empty"]


def test_page_breaks_and_the_old_end_mark_are_text() -> None:
    source, problems = decode(b"Walls.\x0cCeilings.\r\n\x1a", "s.txt")
    assert source is not None
    assert problems == ()


@given(st.binary(max_size=200))
def test_any_bytes_give_a_source_or_a_reason(data: bytes) -> None:
    source, problems = decode(data, "s.txt")
    assert (source is None) == any(p.severity is Severity.ERROR for p in problems)


@given(st.text(max_size=100))
def test_any_text_saved_as_utf_8_comes_back_as_it_was(text: str) -> None:
    source, _ = decode(text.encode("utf-8", "ignore"), "s.txt")
    if source is not None:
        assert source.text == text.encode("utf-8", "ignore").decode("utf-8-sig")


def test_a_file_is_opened_under_the_name_the_user_gave_it(tmp_path: Path) -> None:
    (tmp_path / "section.txt").write_bytes(b"Walls: two coats.")
    source, problems = open_file(tmp_path / "section.txt", "docs/section.txt")
    assert source is not None
    assert (source.name, source.text, problems) == ("docs/section.txt", "Walls: two coats.", ())


def test_a_missing_file_is_told_with_the_nearest_name_and_the_place_that_names_it(tmp_path: Path) -> None:
    (tmp_path / "Section-09.txt").touch()
    (tmp_path / "unlike").touch()
    job = Source("job.toml", 'specification = ["secton-09.txt"]')
    span = job.span(18, 33)
    source, problems = open_file(tmp_path / "secton-09.txt", "secton-09.txt", span)
    assert source is None
    assert [(p.code, p.span) for p in problems] == [("file-missing", span)]
    assert problems[0].help == "Did you mean Section-09.txt?"


def test_a_missing_folder_is_told_with_the_nearest_name(tmp_path: Path) -> None:
    (tmp_path / "documents").mkdir()
    found = missing_file(tmp_path / "document" / "a.txt", "document/a.txt")
    assert "no folder document" in found.message
    assert found.help == "Did you mean documents?"
    lost = missing_file(tmp_path / "x" / "y" / "a.txt", "x/y/a.txt")
    assert lost.help == ""


def test_a_path_through_a_file_is_a_missing_file(tmp_path: Path) -> None:
    (tmp_path / "a.txt").touch()
    source, problems = open_file(tmp_path / "a.txt" / "b.txt")
    assert source is None
    assert [p.code for p in problems] == ["file-missing"]


def test_a_folder_and_a_device_are_no_text_files(tmp_path: Path) -> None:
    (tmp_path / "b.txt").touch()
    for path, code in ((tmp_path, "file-is-folder"), (Path("/dev/null"), "file-unreadable")):
        if path.exists():
            source, problems = open_file(path)
            assert source is None
            assert [p.code for p in problems] == [code]
    assert "b.txt" in open_file(tmp_path)[1][0].help


@pytest.mark.parametrize("name", ["a\0b", "x" * 5000, "\ud800"])
def test_a_name_no_system_takes_is_told(tmp_path: Path, name: str) -> None:
    source, problems = open_file(tmp_path / name)
    assert source is None
    assert problems[0].code in {"file-unreadable", "file-missing"}


def test_a_link_that_leads_in_a_circle_is_told(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    source, problems = open_file(tmp_path / "a")
    assert source is None
    assert problems[0].code == "file-unreadable"


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="who may read everything is refused nothing")
def test_a_file_that_may_not_be_read_is_told(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    path.touch(mode=0)
    source, problems = open_file(path)
    assert source is None
    assert [p.code for p in problems] == ["file-unreadable"]


def test_the_nearest_name_ignores_case_and_may_be_none() -> None:
    assert nearest("COATINGS", ["board", "coatings"]) == "coatings"
    assert nearest("coatngs", ["board", "Coatings"]) == "Coatings"
    assert nearest("coatngs", ["board"]) == ""
    assert nearest("x", []) == ""
