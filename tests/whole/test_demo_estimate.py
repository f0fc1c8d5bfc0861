"""The demo's estimate, held whole. Renew it with `pytest tests/whole/test_demo_estimate.py --force-regen`, then read the
change line by line."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from pytest_regressions.file_regression import FileRegressionFixture

from checkout import ROOT
from commands import Done, darby

GOLDEN = ROOT / "fixtures" / "estimates"
WIDTH = 120
CLAIMED = {"demo.json"}
"""Every file in `fixtures/estimates` that a test reads."""


@pytest.fixture
def original_datadir() -> Path:
    """Where pytest-regressions keeps its files: with the other fixtures, not beside the test."""
    return GOLDEN


@cache
def demo(*options: str) -> Done:
    return darby("demo", *options)


def estimate() -> dict[str, Any]:
    done = demo("--format", "json")
    assert done.returncode == 0, done.stderr
    data = json.loads(done.stdout)
    for trade in data["trades"]:
        del trade["version"]  # a release is no change of the estimate
    return data


def brief(value: Any) -> Any:
    """The same data on fewer lines: a place as `file:line:column`, an amount as `2/3 gal`, for whoever reads the change."""
    if isinstance(value, list):
        return [brief(part) for part in value]
    if not isinstance(value, dict):
        return value
    if value.keys() == {"value", "unit"}:
        return f"{value['value']} {value['unit']}"
    short = {key: brief(part) for key, part in value.items() if key not in {"line", "column", "end_line", "end_column"}}
    if "line" in value:
        short["file"] = f"{value['file']}:{value['line']}:{value['column']}"
        if "end_line" in value:
            short["file"] += f" to {value['end_line']}:{value['end_column']}"
    return short["file"] if short.keys() == {"file"} else short


def laid_out(value: Any, indent: int = 0) -> str:
    """JSON with sorted keys in which whatever fits on a line stands on one."""
    flat = json.dumps(value, sort_keys=True, ensure_ascii=False)
    if len(flat) + indent <= WIDTH or not isinstance(value, dict | list):
        return flat
    if isinstance(value, dict):
        parts = [f"{json.dumps(key)}: {laid_out(value[key], indent + 1)}" for key in sorted(value)]
    else:
        parts = [laid_out(part, indent + 1) for part in value]
    first, last = "{}" if isinstance(value, dict) else "[]"
    return f"{first}\n" + ",\n".join(" " * (indent + 1) + part for part in parts) + f"\n{' ' * indent}{last}"


def strings(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for part in value.values():
            yield from strings(part)
    elif isinstance(value, list):
        for part in value:
            yield from strings(part)
    elif isinstance(value, str):
        yield value


def test_the_demo_orders_what_it_ordered_before(file_regression: FileRegressionFixture) -> None:
    canonical = laid_out(brief(estimate())) + "\n"
    file_regression.check(canonical, basename="demo", extension=".json", encoding="utf-8")


def test_every_saved_estimate_is_claimed_by_a_test() -> None:
    assert {p.name for p in GOLDEN.iterdir()} == CLAIMED


def test_a_saved_estimate_holds_no_path_of_a_machine_and_no_date() -> None:
    saved = list(strings(json.loads((GOLDEN / "demo.json").read_text(encoding="utf-8"))))
    assert not [s for s in saved if s.startswith("/") or re.search(r"(^|\s)(/\w+){2,}|\b20\d\d-\d\d-\d\d\b", s)]
