"""Whole jobs that an estimator worked out by hand before they were run: fixtures/jobs/whole/*/worked_by_hand.py.

Each lists its order: product, the words that must stand in the name of the line (`one; another; this|or that`), the need by plain
arithmetic, its unit, and what a package holds; where that is None, the need is the count, and what it measures is not looked at. A line of
the order that nobody worked out is one too many. `python tests/whole/test_jobs_by_hand.py [JOB]` shows what differs.
"""

from __future__ import annotations

import runpy
import sys
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from math import ceil
from typing import Any, TypeAlias

import pytest

from checkout import ROOT
from whole_jobs import estimate_printed

JOBS = ROOT / "fixtures" / "jobs" / "whole"
NAMES = sorted(p.parent.name for p in JOBS.glob("*/worked_by_hand.py"))
WRONG = JOBS / "not-yet.toml"
"""Lines that are not ordered right yet, by cause; each leaves that list once it is."""

Line: TypeAlias = tuple[str, str, Fraction, str, Fraction | None]


def lines_of(name: str) -> list[Line]:
    """The order as it was worked out by hand."""
    made = runpy.run_path(str(JOBS / name / "worked_by_hand.py"))["LINES"]
    return [(p, a, Fraction(n), u, None if size is None else Fraction(size)) for p, a, n, u, size in made]


def called(item: Mapping[str, Any]) -> str:
    """The words that an item goes by."""
    return ", ".join(str(said) for said in item["pool"].values()).casefold()


def told_apart(line: Line) -> list[str]:
    return [word.strip() for word in line[1].casefold().split(";") if word.strip()]


def meant(line: Line, item: Mapping[str, Any]) -> bool:
    """Whether an item goes by the words of a line."""
    name = called(item)
    words = told_apart(line)
    return item["product"] == line[0] and all(any(one in name for one in word.split("|")) for word in words)


def right(line: Line, item: Mapping[str, Any]) -> bool:
    """Whether need and packages are those of a line."""
    *_, need, unit, size = line
    count = item["order"]["count"]
    if size is None:
        return bool(count == need)
    return (Fraction(item["need"]["value"]), item["need"]["unit"], count) == (need, unit, ceil(need / size))


def shown(item: Mapping[str, Any]) -> str:
    """An item in one line."""
    need = float(Fraction(item["need"]["value"]))
    return f"{item['product']} | {called(item)} | {need:,.2f} {item['need']['unit']} | {item['order']['count']}"


def written(line: Line) -> str:
    """A line as it was worked out."""
    product, apart, need, unit, size = line
    return f"{product} | {apart} | {float(need):,.2f} {unit} | {need if size is None else ceil(need / size)}"


def compared(lines: Sequence[Line], items: Iterable[Mapping[str, Any]]) -> tuple[dict[str, str], list[str]]:
    """What stands for each line, "" where it is right; and the items too many."""
    left, verdicts = list(items), {}
    # what is told apart by most words first, and right ones before any other, so that a plain line takes what is left
    for good in (True, False):
        for line in sorted(lines, key=lambda one: -len(told_apart(one))):
            if written(line) in verdicts:
                continue
            found = next((i for i in left if meant(line, i) and (right(line, i) or not good)), None)
            if found is not None:
                left.remove(found)
                verdicts[written(line)] = "" if good else f"got {shown(found)}"
            elif not good:
                verdicts[written(line)] = "got nothing"
    return verdicts, [shown(item) for item in left]


def key(line: Line) -> str:
    """What a line goes by in the list of wrong ones."""
    return " | ".join(part for part in (line[0], line[1]) if part)


def not_yet() -> Mapping[tuple[str, str], str]:
    """Why a line of a job is wrong; `too many` for what nobody wants."""
    causes = tomllib.loads(WRONG.read_text(encoding="utf-8"))["cause"]
    return {(name, line): c["why"] for c in causes for name, lines in c["lines"].items() for line in lines}


def marked(name: str, line: str) -> Any:
    why = not_yet().get((name, line))
    return pytest.param(
        name, line, marks=[pytest.mark.xfail(reason=why, strict=True)] if why else [], id=f"{name}: {line}"
    )


@pytest.mark.parametrize(("name", "line"), [marked(n, key(one)) for n in NAMES for one in lines_of(n)])
def test_a_line_is_the_one_worked_by_hand(name: str, line: str) -> None:
    lines = lines_of(name)
    (wanted,) = (one for one in lines if key(one) == line)
    assert not compared(lines, estimate_printed(JOBS / name)["items"])[0][written(wanted)]


@pytest.mark.parametrize(("name", "line"), [marked(n, "too many") for n in NAMES])
def test_nothing_is_ordered_that_nobody_wants(name: str, line: str) -> None:
    assert not compared(lines_of(name), estimate_printed(JOBS / name)["items"])[1], line


def test_every_line_that_is_wrong_is_a_line() -> None:
    assert set(not_yet()) <= {(n, k) for n in NAMES for k in (*map(key, lines_of(n)), "too many")}


def main() -> None:
    """What is right and what differs, job by job."""
    for name in sys.argv[1:] or NAMES:
        lines = lines_of(name)
        verdicts, extra = compared(lines, estimate_printed(JOBS / name)["items"])
        print(f"{name}: {sum(not v for v in verdicts.values())} of {len(lines)}, {len(extra)} too many")
        for line in lines:
            print(f"    {'right ' if not verdicts[written(line)] else 'WRONG '} {written(line)}")
            if verdicts[written(line)]:
                print(f"           {verdicts[written(line)]}")
        for line in extra:
            print(f"    too many: {line}")


if __name__ == "__main__":
    main()
