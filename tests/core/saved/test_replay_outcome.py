"""Results of replays: told as plain data and back, counted, and added up over all jobs."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

from darby.saved.comparison import Moved
from darby.saved.model import Line, Measure
from darby.saved.replay_outcome import Replayed, Summary, as_json, of_json

PAIL = Measure(Fraction(64), "lb")


def line(product: str, need: int, count: int | None, package: Measure | None = PAIL, container: str = "pail") -> Line:
    return Line(
        f"joints:{product}",
        "joints",
        product,
        (("type", "x"),),
        Measure(Fraction(need), "lb"),
        count,
        package,
        container,
    )


def one(file: str, *moved: Moved, became: Any = "moved", problem: str = "") -> Replayed:
    return Replayed(file, became, "d1", file.upper(), moved, problem)


MORE = Moved(line("compound", 100, 2), line("compound", 300, 5))
LESS = Moved(line("tape", 100, 4), line("tape", 50, 1))
SAME_ORDER = Moved(line("bead", 100, 2), line("bead", 101, 2))
NEW, GONE = Moved(None, line("skim", 9, 3)), Moved(line("skim", 9, 7), None)
UNKNOWN = Moved(line("texture", 9, None, None, ""), line("texture", 99, None, None, ""))
OTHER_SIZE = Moved(line("mud", 64, 1), line("mud", 64, 2, Measure(Fraction(32), "lb")))


@pytest.mark.parametrize("moved", [MORE, LESS, SAME_ORDER, NEW, GONE, UNKNOWN, OTHER_SIZE])
def test_a_result_goes_into_a_journal_and_comes_back_the_same(moved: Moved) -> None:
    result = one("a.json", moved, problem="odd")
    back = of_json(json.loads(json.dumps(as_json(result))))
    assert back == result
    assert back.moved[0].line.pool == (("type", "x"),)


@pytest.mark.parametrize(
    "change", [{"became": "lost"}, {"became": None}, {"moved": 3}, {"moved": [[None]]}, {"moved": [[["x"], None]]}]
)
def test_what_is_no_result_is_refused(change: dict[str, Any]) -> None:
    with pytest.raises((KeyError, TypeError, ValueError)):
        of_json(as_json(one("a.json", MORE)) | change)
    data = as_json(one("a.json", MORE))
    for key in data:
        with pytest.raises(KeyError):
            of_json({k: v for k, v in data.items() if k != key})


def test_packages_of_all_jobs_are_added_up_by_product_and_size_what_changed_most_first() -> None:
    files = (
        one("a.json", MORE, LESS, SAME_ORDER, UNKNOWN),
        one("b.json", MORE, OTHER_SIZE),
        one("c.json", NEW),
        one("d.json", GONE),
        one("e.json", MORE, became="incomplete"),  # not all of it was worked out
    )
    totals = [(t.product, t.container, t.package, t.packages, t.jobs) for t in Summary(files).totals]
    assert totals == [
        ("compound", "pail", PAIL, 6, 2),
        ("skim", "pail", PAIL, -4, 2),
        ("tape", "pail", PAIL, -3, 1),
        ("mud", "pail", Measure(Fraction(32), "lb"), 2, 1),
        ("mud", "pail", PAIL, -1, 1),
    ]


def test_moves_come_largest_first_and_of_equals_by_file_and_line() -> None:
    summary = Summary((one("b.json", MORE, SAME_ORDER), one("a.json", MORE, GONE)))
    assert [(f.file, m.id) for f, m in summary.moves] == [
        ("a.json", "joints:skim"),
        ("a.json", "joints:compound"),
        ("b.json", "joints:compound"),
        ("b.json", "joints:bead"),
    ]


def test_files_are_counted_by_what_became_of_them_and_those_with_a_problem_are_told() -> None:
    bad = one("b.json", became="failed", problem="gone")
    summary = Summary((one("a.json", became="same"), bad, one("c.json", became="same")))
    assert dict(summary.counts) == {"same": 2, "failed": 1}
    assert summary.unsound == (bad,)
    assert Summary(()).totals == ()
