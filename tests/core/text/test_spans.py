"""Places in a text: lines, pages and paragraphs as one looks them up, and views that still point at what was given."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.text.spans import Source, View, excerpt

LINES = Source("a.txt", "one\r\ntwo\rthree\n\nfive")
PAGES = Source("a.pdf", "one\ntwo\fthree\nfour", "page")
PARAGRAPHS = Source("a.docx", "one\n\ntwo\n---\nthree\n", "paragraph")


@pytest.mark.parametrize(
    ("source", "word", "told", "where"),
    [
        (LINES, "one", "a.txt:1:1", "line 1"),
        (LINES, "wo", "a.txt:2:2", "line 2"),
        (LINES, "three", "a.txt:3:1", "line 3"),
        (LINES, "five", "a.txt:5:1", "line 5"),
        (PAGES, "two", "a.pdf, page 1, line 2, column 1", "page 1, line 2"),
        (PAGES, "three", "a.pdf, page 2, line 1, column 1", "page 2, line 1"),
        (PAGES, "our", "a.pdf, page 2, line 2, column 2", "page 2, line 2"),
        (PARAGRAPHS, "one", "a.docx, paragraph 1, column 1", "paragraph 1"),
        (PARAGRAPHS, "two", "a.docx, paragraph 2, column 1", "paragraph 2"),
        (PARAGRAPHS, "three", "a.docx, paragraph 3, column 1", "paragraph 3"),
    ],
)
def test_a_place_is_told_as_one_looks_it_up(source: Source, word: str, told: str, where: str) -> None:
    start = source.text.index(word)
    span = source.span(start, start + len(word))
    assert (str(span), span.where, span.text) == (told, where, word)


def test_a_line_is_given_without_its_end_and_a_span_knows_its_last_character() -> None:
    assert [LINES.line_text(n) for n in range(1, 6)] == ["one", "two", "three", "", "five"]
    assert [PAGES.line_text(n) for n in range(1, 5)] == ["one", "two", "three", "four"]
    assert LINES.span(0, 8).last == (2, 3)
    assert LINES.span(3, 3).last == (1, 4)


def test_spans_of_one_source_are_joined_and_of_two_are_not() -> None:
    assert LINES.span(5, 8).join(LINES.span(0, 2)) == LINES.span(0, 8)
    with pytest.raises(ValueError, match="two sources"):
        LINES.span(0, 1).join(PAGES.span(0, 1))


def test_an_excerpt_shows_the_line_with_carets_below_and_of_a_long_line_what_lies_around() -> None:
    start = LINES.text.index("three")
    assert excerpt(LINES.span(start, start + 2)) == ["three", "^^"]
    assert excerpt(LINES.span(start + 1, start + 1)) == ["three", " ^"]
    long = Source("x", "a" * 200 + "HERE" + "b" * 200)
    shown, marks = excerpt(long.span(200, 204), 40)
    assert len(shown) == 40
    assert shown[marks.index("^") : marks.rindex("^") + 1] == "HERE"


TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)


@given(TEXT, st.data())
def test_every_character_of_a_mended_view_points_at_what_was_given(text: str, data: st.DataObject) -> None:
    view = View.of(Source("x", text))
    marks = sorted(data.draw(st.lists(st.integers(0, len(text)), max_size=6)))
    edits = [
        (a, b, data.draw(st.sampled_from(["", "-", "xyz"]))) for a, b in zip(marks[::2], marks[1::2], strict=False)
    ]
    mended = view.replace(edits)
    wanted, done = "", 0
    for start, end, put in edits:
        wanted, done = wanted + text[done:start] + put, end
    assert mended.text == wanted + text[done:]
    for low in range(0, len(mended.text), 3):
        part = mended.cut(low, low + 4)
        assert part.text == mended.text[low : low + 4]
        span = mended.span(low, low + 1)
        assert 0 <= span.start <= span.end <= len(text)


def test_views_are_joined_with_a_glue_for_what_lay_between_them() -> None:
    view = View.of(Source("x", "one two three"))
    glued = View.join([view.cut(0, 3), view.cut(8, 13)])
    assert glued.text == "one three"
    assert [glued.span(n, n + 1).text for n in (0, 4)] == ["o", "t"]
    assert glued.span(4, 9).text == "three"
