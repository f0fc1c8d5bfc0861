"""The three forms of a letter say the same."""

from __future__ import annotations

import html
import re

import pytest
from markdown_it import MarkdownIt

import handed

SHORT = ("order", "letter", "scope")


def words(markup: str) -> list[str]:
    """What a reader sees of HTML, as words; marks of lists and rules of tables are no words."""
    body = re.sub(r"<(style|title)>.*?</\1>", " ", markup, flags=re.DOTALL)
    return html.unescape(re.sub(r"<[^>]*>", " ", body)).split()


def plain_words(text: str) -> list[str]:
    return [w for w in text.split() if not re.fullmatch(r"-+|=+|[0-9]+\.", w)]


@pytest.mark.parametrize("name", SHORT)
def test_the_three_forms_say_the_same_in_the_same_order(name: str) -> None:
    text = plain_words(handed.text(name))
    assert plain_words(" ".join(words(handed.text(f"{name}.html")))) == text
    assert words(MarkdownIt("commonmark").enable("table").render(handed.text(f"{name}.md"))) == text
