"""One line of an order taken apart, by its number, its product or a part of its name."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from commands import checked, darby


def test_explain_shows_the_clause_and_the_measured_rows(folder: Path) -> None:
    done = darby("explain", "job.toml", "primer", cwd=folder)
    assert done.returncode == 0, done.stderr
    assert "24 ft × 8 ft" in done.stdout
    assert "section.txt:2" in done.stdout
    assert "job.toml:9, 10" in done.stdout


def test_explain_takes_a_number_a_product_and_a_part_of_an_id(folder: Path) -> None:
    items = checked("estimate", darby("estimate", "job.toml", "--format", "json", cwd=folder).stdout)["items"]
    at = next(n for n, i in enumerate(items, 1) if i["product"] == "primer")
    shown = [darby("explain", "job.toml", name, cwd=folder).stdout for name in (str(at), "Primer", items[at - 1]["id"])]
    assert shown[0] == shown[1] == shown[2] != ""


def test_explain_gives_the_line_as_json(folder: Path) -> None:
    done = darby("explain", "job.toml", "primer", "--format", "json", cwd=folder)
    assert json.loads(done.stdout)["item"]["working"][-1]["unit"] == "can"


@pytest.mark.parametrize("name", ["priner", "999", "a"])
def test_explain_names_the_lines_that_may_be_meant(folder: Path, name: str) -> None:
    done = darby("explain", "job.toml", name, cwd=folder)
    assert done.returncode == 2
    assert "coatings:primer" in done.stderr
