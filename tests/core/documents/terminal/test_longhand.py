"""The working of a line on a terminal, with its clauses."""

from __future__ import annotations

import made
from darby.documents.terminal import longhand as longhand_terminal
from darby.documents.terminal.parts import clause, plain, written
from darby.text.spans import Source


def test_the_longhand_quotes_each_clause_with_its_place():
    console, stream = plain(100)
    longhand_terminal.show(made.estimate().items[1], made.estimate(), console)
    text = written(stream)
    assert "“Primer: 200 sq ft per gallon”, addendum 1" in text
    assert "job.toml:11, 12" in text or "job.toml:7, 11, 12" in text


def test_a_clause_is_quoted_on_one_line_and_cut_where_it_is_very_long():
    text = "A. Spread primer at 200 sq ft per gallon over\n   filled plaster." + " And so on." * 40
    rule = made.said(Source("house.txt", text), text, "coverage", "primer", "200 sq ft", per="1 gal")
    assert clause(rule).startswith("“A. Spread primer at 200 sq ft per gallon over filled plaster. And")
    assert clause(rule).endswith("…”")


def test_the_longhand_shows_the_rules_that_gave_way():
    console, stream = plain(100)
    longhand_terminal.show(made.estimate().items[1], made.estimate(), console)
    after = written(stream).partition("Also said, and not used")[2]
    assert "primer coverage: 250 sq ft per gal  [section.txt:2, specification]" in after
    assert "gives way to 200 sq ft per gal" in after
