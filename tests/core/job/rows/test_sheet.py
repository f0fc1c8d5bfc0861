"""A file being read: mistakes noted, names guessed, texts cut for messages."""

from __future__ import annotations

import pytest

from darby.job.rows.sheet import Sheet, shown
from darby.text.diagnostics import Label, Severity
from darby.text.spans import Source
from darby.text.toml_places import read_toml


def sheet() -> Sheet:
    return Sheet(read_toml(Source("job.toml", 'a = "x"\n'))[1])


@pytest.mark.parametrize(
    ("text", "told"),
    [("a  b\n c", "a b c"), ("x" * 60, "x" * 60), ("x" * 61, "x" * 60 + "..."), ("", "")],
)
def test_a_text_is_shown_on_one_line_of_at_most_sixty_letters(text: str, told: str) -> None:
    assert shown(text) == told


def test_a_mistake_is_an_error_and_a_doubt_a_warning_with_all_their_places() -> None:
    one = sheet()
    span = one.places.source.span(0, 1)
    one.say("job-units", span, "wrong", "do so", [Label(span, "here too")])
    one.say("job-units", span, "odd", warn=True)
    assert [(d.code, d.severity, d.message, d.help) for d in one.found] == [
        ("job-units", Severity.ERROR, "wrong", "do so"),
        ("job-units", Severity.WARNING, "odd", ""),
    ]
    assert [label.text for label in one.found[0].labels] == ["", "here too"]


def test_the_nearest_name_is_found_in_any_case_and_given_as_it_is_spelled() -> None:
    assert sheet().nearest("NORHT wall", ["South wall", "North wall"]) == "North wall"
    assert sheet().nearest("elephant", ["South wall", "North wall"]) == ""
    assert sheet().nearest("x", []) == ""


def test_no_name_is_guessed_any_more_where_everything_is_wrong() -> None:
    one = sheet()
    for number in range(50):
        assert one.nearest("nort wall", ["north wall"]) == "north wall", number
        one.say("job-units", one.places.source.span(0, 1), "wrong")
    assert one.nearest("nort wall", ["north wall"]) == ""
