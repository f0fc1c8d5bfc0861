"""Alternates and other ways of doing the work beside the order: their sums are those of the bid sheet, and a press takes one."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from html import unescape
from pathlib import Path

import pytest

from desk_runs import DARBY
from desks import JOB, SPEC, Visitor, loft

ALTERNATES = """
ALTERNATES
Alternate No. 1: Stove room walls: four coats eggshell.
Alternate No. 2: Omit painting of ceilings.
Alternate No. 3: <i>Stair</i>.
"""
PRICES = (
    "product,package,price,supplier\nprimer,1 gal can,20.00,Quay supply\nfinish paint,1 gal can,31.00,Quay supply\n"
)
TERMS = """
[bid]
currency = "USD"
prices = ["prices.csv"]

[[bid.ways]]
name = "one coat less"
lines = ["Walls: one coat primer, one coat eggshell."]
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    loft(tmp_path)
    (tmp_path / "finishes.txt").write_text(SPEC + ALTERNATES, encoding="utf-8")
    (tmp_path / "prices.csv").write_text(PRICES, encoding="utf-8")
    return tmp_path


def part(visitor: Visitor) -> str:
    answer = visitor.get("/otherwise", headers={"x-panes": "1"})
    assert answer.headers["x-stamp"] == visitor.get("/state").json()["stamp"]
    return unescape(answer.text)


def test_the_sums_are_those_of_the_bid_sheet(folder: Path) -> None:
    (folder / "job.toml").write_text(JOB + TERMS, encoding="utf-8")
    command = [
        sys.executable,
        str(DARBY),
        "bid",
        str(folder / "job.toml"),
        "--alternates",
        "--ways",
        "--format",
        "json",
    ]
    bid = json.loads(subprocess.run(command, capture_output=True, text=True, check=False).stdout)
    visitor = Visitor(folder)
    assert "Alternates and other ways of doing the work" in visitor.get("/").text
    told = part(visitor)
    sums = re.findall(r'class="money">(add|deduct|no change|not known) ?([\d,.]*)', told)
    known = [f"{abs(float(one['sum'])):,.2f}" if one["sum"] else "" for one in bid["alternates"]]
    assert len(sums) == len(known) == 3
    assert [said for _, said in sums] == known
    assert [way for way, _ in sums] == ["add", "deduct", "not known"]
    assert "one coat less" in told
    assert f"{float(bid['ways'][0]['price']):,.2f}" in told
    assert "<i>Stair" not in visitor.get("/otherwise", headers={"x-panes": "1"}).text


def test_one_is_taken_by_a_press_left_by_another_and_both_are_undone(folder: Path) -> None:
    visitor = Visitor(folder)
    before = visitor.get("/").text
    assert "Alternates</summary>" in before
    told = part(visitor)
    assert "Take Alternate 1" in told
    assert "money" not in told  # the job states no prices
    assert "without it" in told
    answer = visitor.do("alternate-take", name="Alternate 1").json()
    assert "is taken" in answer["told"]
    assert tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))["bid"] == {"take": ["Alternate 1"]}
    assert '<li id="i' in answer["panes"]["order"]
    assert 'id="bid"' not in answer["panes"]["order"]  # to take one is no bid yet
    assert "Leave Alternate 1" in part(visitor)
    assert (folder / "job.toml").read_text(encoding="utf-8").startswith(JOB[:60])
    assert "already" not in visitor.do("alternate-take", name="alt. 1").json()["told"]
    assert len(visitor.bench.folder.done) == 1
    visitor.do("alternate-leave", name="Alternate No. 1")
    assert "bid" not in tomllib.loads((folder / "job.toml").read_text(encoding="utf-8")) or "take" not in tomllib.loads(
        (folder / "job.toml").read_text(encoding="utf-8")
    )["bid"]  # fmt: skip
    visitor.do("undo")
    visitor.do("undo")
    assert (folder / "job.toml").read_text(encoding="utf-8") == JOB


def test_what_is_no_alternate_is_refused_and_wrong_terms_are_told(folder: Path) -> None:
    visitor = Visitor(folder)
    for deed, name in (("alternate-take", ""), ("alternate-take", "the stair"), ("alternate-leave", "Alternate 1")):
        assert visitor.do(deed, name=name).json()["refused"], (deed, name)
    (folder / "job.toml").write_text(JOB + TERMS.replace("prices.csv", "lost.csv"), encoding="utf-8")
    assert "lost.csv" in part(visitor)


def test_a_job_without_any_shows_none(tmp_path: Path) -> None:
    visitor = Visitor(loft(tmp_path))
    assert "/otherwise" not in visitor.get("/").text
    assert "No document opens an alternate" in part(visitor)
    assert "<h1>The job made otherwise</h1>" in visitor.get("/otherwise").text
