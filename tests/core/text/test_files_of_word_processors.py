"""Word processor files, PDFs and web pages are read like text, and their places are those a reader looks up."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from darby.text.files import decode
from darby.text.spans import Source
from pages import pdf
from papers import rules_of, words


@pytest.mark.parametrize("length", [8, 60, 400])
def test_a_damaged_file_is_a_sentence_and_no_traceback(length: int) -> None:
    for data in (pdf([(72, 720, "Two coats")])[:length], words("Two coats")[:length]):
        source, problems = decode(data, "s.pdf")
        assert source is None
        assert problems[0].code in ("file-no-text", "file-binary")


@pytest.mark.parametrize(("library", "data", "extra"), [("docx", words("x"), "docx"), ("pypdf", pdf([]), "pdf")])
def test_a_missing_library_is_named_with_the_way_to_install_it(
    library: str, data: bytes, extra: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, library, None)
    source, problems = decode(data, "s")
    assert source is None
    assert problems[0].code == "library-missing"
    assert f"pip install 'darby[{extra}]'" in problems[0].help


def test_a_saved_web_page_is_read_where_it_stands(tmp_path: Path) -> None:
    path = tmp_path / "s.html"
    path.write_text(
        "<!DOCTYPE html>\n<html><body>\n<h2>2.2 SPREADING RATES</h2>\n<p>A. Primer: 300&nbsp;sq ft per gallon.</p>\n"
        "<table><tr><th>Room</th><th>Walls</th></tr>\n<tr><td>Hall</td><td>2 coats satin</td></tr></table></body></html>"
    )
    rate, coats = rules_of(path)
    assert (rate["source"]["line"], rate["source"]["text"]) == (4, "300&nbsp;sq ft per gallon")
    assert (coats["scope"]["room"], coats["source"]["line"]) == ("hall", 6)


def test_plain_text_with_form_feeds_still_counts_lines_only() -> None:
    source = Source("s.txt", "a\n\x0cb\nc")
    assert (source.where(5), source.place(5)) == ("line 3", (3, 1))
