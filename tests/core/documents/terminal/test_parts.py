"""What all documents of the terminal share: problems, carets, widths, colours, no control sign of anybody's."""

from __future__ import annotations

import io

import pytest

import made
from darby.documents.terminal import estimate as to_terminal
from darby.documents.terminal.parts import console_for, plain, safe, show_place, show_problems, written
from darby.estimate.line_item import LineItem
from darby.estimate.trade import Caution
from darby.quantities.amounts import Amount
from darby.text.diagnostics import problem
from darby.text.spans import Source


def shown(width: int = 100, **changes) -> str:
    console, stream = plain(width)
    to_terminal.show(made.estimate(**changes), console)
    return written(stream)


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
