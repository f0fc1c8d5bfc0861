"""The working of a line on a terminal, with its clauses."""

from __future__ import annotations

import re

import desk
import made
from darby.documents.needs import needs
from darby.documents.terminal import longhand as longhand_terminal
from darby.documents.terminal.parts import clause, plain, written
from darby.text.spans import Source


def test_the_longhand_quotes_each_clause_with_its_place():
    console, stream = plain(100)
    longhand_terminal.show(needs(made.estimate())[1], made.estimate(), console)
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
    longhand_terminal.show(needs(made.estimate())[1], made.estimate(), console)
    after = written(stream).partition("Also said, and not used")[2]
    assert "primer coverage: 250 sq ft per gal  [section.txt:2, specification]" in after
    assert "overridden by 200 sq ft per gal" in after


def roomy(rooms: int) -> str:
    """A job of so many rooms of four walls of 10 by 8 ft."""
    room = "[[rooms]]\nname = 'Room {n}'\nlength = '10 ft'\nwidth = '10 ft'\nheight = '8 ft'\n"
    return "\n".join(room.format(n=n) for n in range(1, rooms + 1))


def explained(rooms: int, *, in_full: bool = False) -> str:
    estimate = desk.estimated(roomy(rooms), "Walls: one coat primer.\n", "us")
    need = next(n for n in needs(estimate) if n.first.product == "primer")
    console, stream = plain(120)
    longhand_terminal.show(need, estimate, console, in_full=in_full)
    return written(stream)


def test_very_many_rows_are_added_up_by_room_and_unfolded_on_request():
    text = explained(20)
    assert re.search(r"^Room 7 +4 rows = 320 sq ft", text, re.MULTILINE)
    assert "Room 7 wall 1" not in text
    assert "--rows shows each one" in text
    assert "Room 7 wall 1" in explained(20, in_full=True)


def test_a_short_working_is_never_folded():
    assert "Room 2 wall 4" in explained(2)
    assert "--rows" not in explained(2)


def test_of_very_many_rooms_the_first_are_told_and_the_rest_added_up():
    text = explained(100)
    assert re.search(r"^76 more rooms +304 rows = 24,320 sq ft", text, re.MULTILINE)
    assert len(text.splitlines()) < 80
