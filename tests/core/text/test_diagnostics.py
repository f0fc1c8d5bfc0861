"""What is to be said of an input: an error, a warning or a note, with its places."""

from __future__ import annotations

from darby.text.diagnostics import Label, Severity, is_error, problem
from darby.text.spans import Source

TEXT = Source("a.txt", "one two")


def test_a_problem_is_an_error_with_its_place_first_and_other_places_behind() -> None:
    one = problem("job-units", "wrong", TEXT.span(0, 3), help="do so", more=[Label(TEXT.span(4, 7), "and here")])
    assert (one.code, one.severity, one.message, one.help) == ("job-units", Severity.ERROR, "wrong", "do so")
    assert one.span == TEXT.span(0, 3)
    assert [label.text for label in one.labels] == ["", "and here"]


def test_a_problem_without_a_place_has_none_and_may_name_its_file() -> None:
    one = problem("file-missing", "gone", file="a.txt")
    assert (one.span, one.file, one.labels) == (None, "a.txt", ())


def test_one_error_among_warnings_and_notes_is_an_error() -> None:
    note, warning = (problem("job-units", "x", severity=s) for s in (Severity.NOTE, Severity.WARNING))
    assert not is_error([])
    assert not is_error([note, warning])
    assert is_error([note, problem("job-units", "x"), warning])
