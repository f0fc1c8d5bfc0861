"""Mistakes that are alike in one schedule are one; all others stay as they are."""

from __future__ import annotations

from darby.job.schedules.causes import by_cause
from darby.text.diagnostics import Diagnostic, problem
from darby.text.spans import Source

SHEET, JOB = Source("rooms.csv", "abcdefghij"), Source("job.toml", "abcdefghij")


def wrong(at: int, message: str = "length of w is 9", source: Source = SHEET, code: str = "job-no-unit") -> Diagnostic:
    return problem(code, message, source.span(at, at + 1), help="h")


def test_a_few_alike_stay_apart_and_more_become_one() -> None:
    three = [wrong(n) for n in range(3)]
    assert by_cause(three, [SHEET]) == three
    (one,) = by_cause([wrong(n) for n in range(9)], [SHEET])
    assert one.message == "length of w is 9; so it is with 8 more rows"
    assert [label.span.text for label in one.labels] == list("abcd")


def test_other_columns_codes_files_and_what_has_no_place_stay_apart() -> None:
    others = [problem("file-missing", "x", None)] * 5 + [wrong(n, source=JOB) for n in range(5)]
    assert by_cause(others, [SHEET]) == others
    mixed = [wrong(n, f"{key} of w is 9") for n in range(5) for key in ("length", "height")]
    assert [d.message.split()[0] for d in by_cause(mixed, [SHEET])] == ["length", "height"]
