"""A check says what it is about, and shows a few of many places."""

from __future__ import annotations

from darby.job.checks.check import check, counted, several
from darby.text.spans import Source

SOURCE = Source("job.toml", "abcdefgh")


def test_counts_are_in_the_singular_and_the_plural() -> None:
    assert [counted(n, "row") for n in (0, 1, 2, 1_200)] == ["0 rows", "1 row", "2 rows", "1,200 rows"]
    assert counted(2, "more", "more") == "2 more"


def test_a_few_places_of_many_are_shown_each_once() -> None:
    spans = [SOURCE.span(n, n + 1) for n in (0, 0, 1, 2, 3, 4)]
    assert [label.span.text for label in several(spans)] == ["a", "b", "c"]
    one = check("measure-twice", ("x", "y"), "said", spans[0], "help", several(spans[1:]))
    assert one.about == ("x", "y")
    assert [label.span.text for label in one.said.labels] == ["a", "a", "b", "c"]
