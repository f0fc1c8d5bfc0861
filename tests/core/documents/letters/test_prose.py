"""Plain text and Markdown that show any text and run none."""

from __future__ import annotations

import html
import re

import pytest
from markdown_it import MarkdownIt

import handed
from darby.documents.letters.prose import Heading, Paragraph, Prose, Table, as_markdown, as_text, entries, marked

SHORT = ("order", "letter", "scope")


def words(markup: str) -> list[str]:
    """What a reader sees of HTML, as words; marks of lists and rules of tables are no words."""
    body = re.sub(r"<(style|title)>.*?</\1>", " ", markup, flags=re.DOTALL)
    return html.unescape(re.sub(r"<[^>]*>", " ", body)).split()


@pytest.mark.parametrize("name", SHORT)
def test_plain_text_fits_a_sheet(name: str) -> None:
    assert max(map(len, handed.text(name).splitlines())) <= 78


@pytest.mark.parametrize("nasty", handed.NASTY)
def test_markdown_shows_any_text_and_runs_none(nasty: str) -> None:
    prose = Prose(nasty, (Heading(nasty), Paragraph(nasty, nasty), entries([nasty]), Table((nasty,), ((nasty,),))))
    rendered = MarkdownIt("commonmark", {"html": True}).enable("table").render(as_markdown(prose))
    tags = set(re.findall(r"</?([a-z0-9]+)", rendered))
    assert tags <= {"h1", "h2", "p", "strong", "ul", "li", "table", "thead", "tbody", "tr", "th", "td"}
    assert words(rendered).count(as_text(prose).split()[0]) >= 1


def test_only_what_markdown_would_take_for_markup_is_escaped() -> None:
    assert marked("09-29-00-gypsum-board.txt (line 4)") == "09-29-00-gypsum-board.txt (line 4)"
    assert marked("2. *x* <b>") == r"2\. \*x\* \<b\>"


@pytest.mark.parametrize("nasty", handed.NASTY)
@pytest.mark.parametrize("name", SHORT)
def test_no_control_sign_of_a_hostile_job_is_in_the_text(name: str, nasty: str) -> None:
    for form in ("", ".md", ".html"):
        text = handed.text(name + form, handed.hostile(nasty))
        assert not [c for c in text if (ord(c) < 32 and c != "\n") or 127 <= ord(c) < 160 or c in "\u202e\u2066\u200b"]
