"""Documents on the page: shown whole, every number marked as what became of it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

import handed
import made
from darby.documents.page.marked_text import shelf
from darby.rules.rule import SPECIFICATION
from darby.text.spans import Source

if TYPE_CHECKING:
    pass


def test_every_document_is_shown_whole_with_its_lines_as_they_are() -> None:
    for document in shelf(handed.demo()).documents:
        shown = ["".join(piece.text for piece in line) for line in document.lines]
        assert shown == document.source.text.split("\n")[: len(shown)]
        assert "".join(document.source.text.split("\n")[len(shown) :]) == ""


def test_every_number_of_the_documents_is_marked_as_what_became_of_it() -> None:
    demo = handed.demo()
    books = shelf(demo)
    weight = ("unread", "asked", "used", "measured", "read", "aside")
    for kind, spans in (("unread", demo.unread), ("aside", demo.set_aside)):
        assert spans
        for span, _ in spans:
            mark = books.mark_at(span)
            assert mark is not None
            assert weight.index(mark.kind) <= weight.index(kind)
    for rule in demo.rules:
        if rule.layer.rank >= SPECIFICATION.rank:
            assert books.mark_at(rule.span) is not None


@pytest.mark.parametrize("text", ["", "\n", "a\r\nb\rc\n", "no end", "x\n\n\ny\n"])
def test_a_document_of_any_line_ends_is_shown_line_by_line(text: str) -> None:
    (document,) = (
        d for d in shelf(made.estimate(papers=((Source("s", text), SPECIFICATION),))).documents if d.source.name == "s"
    )
    lines = re.split(r"\r\n|\r|\n", text)
    assert ["".join(p.text for p in line) for line in document.lines] == (lines[:-1] if text.endswith("\n") else lines)


def test_marks_that_lie_on_one_another_become_one() -> None:
    source = Source("s.txt", "Walls: one coat primer and 840 of it.\n")
    spans = [source.span(7, 15), source.span(11, 22), source.span(27, 30)]
    books = shelf(made.estimate(papers=((source, SPECIFICATION),), unread=tuple((s, "why") for s in spans)))
    assert [(m.span.start, m.span.end) for d in books.documents if d.source is source for m in d.marks] == [
        (7, 22),
        (27, 30),
    ]
