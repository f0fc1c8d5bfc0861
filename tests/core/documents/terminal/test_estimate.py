"""What the terminal shows: in this order, at any width, harmless whatever the text holds."""

from __future__ import annotations

import io

import pytest
from attrs import evolve

import kit
import made
from darby.documents.terminal import estimate as to_terminal
from darby.documents.terminal import longhand as longhand_terminal
from darby.documents.terminal import reading as reading_terminal
from darby.documents.terminal.parts import clause, console_for, plain, safe, show_place, show_problems, written
from darby.estimate.line_item import LineItem
from darby.estimate.trade import Caution
from darby.quantities.amounts import Amount
from darby.reading.ledger import Number
from darby.reading.read import Reading
from darby.rules.rule import SPECIFICATION
from darby.text.diagnostics import Severity, problem
from darby.text.spans import Source

WIDTHS = (60, 80, 120)


def shown(width: int = 100, **changes) -> str:
    console, stream = plain(width)
    to_terminal.show(made.estimate(**changes), console)
    return written(stream)


def test_the_order_list_comes_before_all_that_is_open():
    text = shown()
    parts = [
        "To order",
        "For the specifier",
        "For the supplier",
        "Said in two ways",
        "Take care",
        "Not read",
        "To look at",
    ]
    assert sorted(parts, key=text.index) == parts


def test_an_order_is_told_as_one_would_ring_it_up():
    assert "2 cans of 1 gal" in shown()
    assert "package not known" in shown()


@pytest.mark.parametrize("width", WIDTHS)
def test_no_line_is_wider_than_the_terminal(width):
    assert max(map(len, shown(width).splitlines())) <= width
    for item in made.estimate().items:
        console, stream = plain(width)
        longhand_terminal.show(item, made.estimate(), console)
        assert max(map(len, written(stream).splitlines())) <= width


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_of_the_order_list_is_lost_on_a_narrow_terminal(width):
    words = " ".join(shown(width).split())
    for part in ("joint compound", "54.88 lb", "1 pail of 64 lb", "1.96 gal", "2 cans of 1 gal"):
        assert part in words


def test_a_need_is_told_in_the_units_of_the_job():
    metric = LineItem("tape", Amount.read("30.48 m"), {}, None, "joints")
    assert "100 ft" in shown(items=(metric,))


def test_a_conflict_quotes_both_places():
    text = shown()
    assert "used 200 sq ft per gal  [addendum-1.txt:1, addendum 1]" in text
    assert "also 300 sq ft per gal  [addendum-1.txt:2, addendum 1]" in text


def test_an_incomplete_estimate_says_so_before_anything_else():
    assert shown(missing=("coatings",)).splitlines()[1].startswith("Incomplete: the lines of coatings are missing")


def test_a_job_with_nothing_to_do_says_so():
    assert "Nothing to order" in shown(items=())


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


def test_a_reading_marks_facts_in_place_and_names_them():
    console, stream = plain(100)
    reading_terminal.show([made.reading()], console)
    lines = written(stream).splitlines()
    at = lines.index("  2 │ A. Primer: 250 sq ft per gallon.")
    assert lines[at + 1] == "    │    ^^^^^^^^^^^^^^^^^^^^^^^^^^^^  primer coverage: 250 sq ft per gal"


def test_a_reading_ends_with_what_was_not_read_and_the_tally():
    console, stream = plain(100)
    reading_terminal.show([made.reading()], console)
    text = written(stream)
    assert "section.txt:6  “840”: a number with no unit" in text.partition("Not read")[2]
    assert text.splitlines()[-1] == "6 numbers: 2 read, 3 set aside, 1 not read. 2 rules, 1 question."


def test_why_a_number_was_set_aside_is_told_when_asked():
    console, stream = plain(100)
    reading_terminal.show([made.reading()], console, explain=True)
    assert "set aside: a year" in written(stream)


def test_a_name_without_room_behind_its_mark_stands_before_it():
    text = "Somewhere in the middle of a rather long line of text stand 840"
    source = Source("s.txt", text)
    numbers = (Number(source.span(60, 63), "unread", "no unit"),)
    console, stream = plain(75)
    reading_terminal.show([Reading(source, SPECIFICATION, (), numbers, ())], console)
    assert f"    │ {'not read: no unit  '.rjust(60)}???" in written(stream).splitlines()


def test_a_question_is_marked_in_place_and_told_in_one_line_at_the_end():
    source = Source("s.txt", "Walls: two or three coats.")
    number = Number(source.span(7, 10), "unread", "a choice that nobody has made")
    asked = problem("unclear", "“two”: a choice that nobody has made", source.span(7, 10), severity=Severity.QUESTION)
    console, stream = plain(80)
    reading_terminal.show([Reading(source, SPECIFICATION, (), (number,), (asked,))], console)
    text = written(stream)
    assert "    │        ???  question: a choice that nobody has made" in text.splitlines()
    assert "  s.txt:1  “two”: a choice that nobody has made" in text.partition("Questions")[2].splitlines()
    assert "Not read" not in text


def test_explaining_tells_what_bound_each_part_and_counts_what_was_set_aside():
    console, stream = plain(100)
    reading_terminal.show([made.reading()], console, explain=True)
    text = written(stream)
    assert "1 as a year" in text.partition("Set aside")[2]
    source = Source("s.txt", "Primer: 250")
    rule = evolve(kit.rule("coats", "primer", "2"), span=source.span(8, 11))
    rule = evolve(rule, bound_by=(("subject", "the label"), ("surface", "the label"), ("unit", "the number before it")))
    console, stream = plain(100)
    reading_terminal.show([Reading(source, SPECIFICATION, (rule,), (), ())], console, explain=True)
    assert "subject and surface from the label; unit from the number before it" in written(stream)


@pytest.mark.parametrize("width", [20, 30, 60])
def test_a_long_line_is_cut_at_a_space_and_its_marks_follow(width):
    console, stream = plain(width)
    reading_terminal.show([made.reading()], console)
    assert "840" in written(stream)
    assert max(map(len, written(stream).splitlines())) <= width


def test_every_mark_of_a_line_cut_in_pieces_is_shown_once():
    text = " ".join(f"{n} gal," for n in range(100, 300))
    source = Source("s.txt", text)
    found = [source.span(at, at + 3) for at in range(0, len(text), 9)]
    numbers = tuple(Number(span, "unread", f"number {span.text}") for span in found)
    console, stream = plain(60)
    reading_terminal.show([Reading(source, SPECIFICATION, (), numbers, ())], console)
    marked = written(stream).partition("Not read")[0]
    assert [marked.count(f"not read: number {n}") for n in range(100, 300)] == [1] * 200
    assert marked.count("???") == 200


NASTY = "\x1b[31mred\x1b]0;title\x07 \x9b2J \u202eevil\u2066 [bold]not markup[/bold] \r\x00"


def test_controls_become_one_sign_each_so_that_carets_stay_right():
    assert len(safe(NASTY)) == len(NASTY)


def test_no_control_character_of_the_user_reaches_the_terminal():
    source = Source("a\x1b[2Jb.txt", NASTY)
    bad = problem("x-y", f"wrong {NASTY}", source.span(0, 5), help=NASTY)
    console, stream = plain(80)
    show_problems(console, [bad])
    to_terminal.show(
        made.estimate(
            items=(LineItem(NASTY, Amount.of(3), {"room": NASTY}, None, NASTY, notes=(NASTY,)),),
            cautions=(Caution(NASTY, NASTY, NASTY),),
            unread=((source.span(0, 3), NASTY),),
            missing=(NASTY,),
        ),
        console,
    )
    text = stream.getvalue()
    assert not [c for c in text if (ord(c) < 32 and c != "\n") or 127 <= ord(c) < 160 or 0x202A <= ord(c) <= 0x2069]
    assert "[bold]not markup[/bold]" in text


def test_a_problem_tells_headline_place_carets_help_and_page():
    span = made.JOB.span(made.JOB.text.index("8 ft"), made.JOB.text.index("8 ft") + 4)
    console, stream = plain(80)
    show_problems(console, [problem("job-odd", "this wall is odd", span, help="measure it again")])
    assert written(stream).strip().splitlines() == [
        "error: this wall is odd",
        "  job.toml:7:11",
        '  7 │ height = "8 ft"',
        "    │           ^^^^",
        "  help: measure it again",
        "",
        "More on this: darby why job-odd",
    ]


def test_no_problems_are_no_lines():
    console, stream = plain(80)
    show_problems(console, [])
    assert stream.getvalue() == ""


def test_help_that_several_share_is_told_once():
    console, stream = plain(80)
    show_problems(console, [problem("x-y", "one", help="mend it"), problem("x-y", "two", help="mend it")])
    assert written(stream).count("mend it") == 1
    assert written(stream).index("two") < written(stream).index("mend it")


def test_unread_numbers_of_one_line_are_shown_together():
    source = Source("s.txt", "mix 4 parts to 9\n")
    spans = [source.span(source.text.index(n), source.text.index(n) + 1) for n in "49"]
    text = shown(unread=tuple((span, "no unit") for span in spans)).partition("Not read")[2]
    assert "  1 │ mix 4 parts to 9\n    │     ^          ^  no unit\n" in text


@pytest.mark.parametrize("width", [30, 60, 100])
def test_a_place_far_to_the_right_is_brought_into_view(width):
    source = Source("s.txt", "x " * 300 + "840 of it, and 12 more")
    spans = [source.span(source.text.index(n), source.text.index(n) + len(n)) for n in ("840", "12")]
    console, stream = plain(width)
    show_place(console, *spans, said="no unit")
    _, line, marks, *_ = written(stream).splitlines()
    assert "840" in line
    assert marks.index("^") == line.index("840")
    assert max(map(len, written(stream).splitlines())) <= width


def test_carets_stand_right_below_wide_characters_and_accents():
    text = "漢字e\u0301: 840"
    source = Source("s.txt", text)
    console, stream = plain(80)
    show_place(console, source.span(text.index("840"), len(text)))
    assert written(stream).splitlines()[2] == "    │ " + " " * (2 + 2 + 1 + 2) + "^^^"


def test_a_pipe_gets_no_colours(monkeypatch):
    monkeypatch.delenv("FORCE_COLOR", raising=False)
    stream = io.StringIO()
    to_terminal.show(made.estimate(), console_for(stream))
    assert "\x1b" not in stream.getvalue()


def test_no_color_is_honoured_on_a_terminal(monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("TERM", "xterm-256color")

    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    stream = Terminal()
    show_problems(console_for(stream), [problem("x-y", "wrong")])
    assert "\x1b[3" not in stream.getvalue()


def test_columns_sets_the_width_of_a_pipe(monkeypatch):
    monkeypatch.setenv("COLUMNS", "60")
    assert console_for(io.StringIO()).width == 60
