"""Whole jobs from their files to the order list, worked out again here by hand."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

import pytest

from checkout import ROOT
from whole_jobs import estimate_printed

JOBS = ROOT / "fixtures" / "jobs"

WALLS = 2 * Fraction("7.2") * Fraction("2.7") + 2 * Fraction("4.8") * Fraction("2.7")
CEILING = Fraction("7.2") * Fraction("4.8")
LINED = WALLS + CEILING

SEED_LIBRARY: Mapping[tuple[str, str], tuple[Fraction, str, int]] = {
    # product and sheen: need, its unit, packages. The hatch stays in, as nobody says to take openings out.
    ("gypsum board", ""): (LINED * Fraction("1.05"), "m2", 37),  # 104.328 m2 over 2.88 m2 sheets
    ("joint compound", ""): (LINED * Fraction("0.6"), "kg", 4),  # 59.616 kg over 15 kg pails
    ("joint tape", ""): (LINED * Fraction("1.3"), "m", 2),  # 129.168 m over 75 m rolls
    ("primer", ""): (LINED / 11, "L", 2),  # 9.03 L over 5 L pails
    ("finish paint", "satin"): (2 * WALLS / 13, "L", 4),  # 9.97 L over 2.5 L cans
    ("finish paint", "flat"): (2 * CEILING / 13, "L", 3),  # 5.32 L over 2.5 L cans
    ("drywall clip", ""): (Fraction(24), "each", 24),  # 2.7 m / 400 mm = 6.75: 7 spaces, 6 clips, 4 corners
}


@pytest.fixture(scope="module")
def seed_library() -> dict[str, Any]:
    return estimate_printed(JOBS / "seed-library")


@pytest.mark.parametrize(("product", "sheen"), SEED_LIBRARY)
def test_the_metric_job_orders_what_the_longhand_gives(seed_library: dict[str, Any], product: str, sheen: str) -> None:
    need, unit, count = SEED_LIBRARY[product, sheen]
    (item,) = (i for i in seed_library["items"] if i["product"] == product and i["pool"].get("sheen", "") == sheen)
    assert (Fraction(item["need"]["value"]), item["need"]["unit"]) == (need, unit)
    assert item["order"]["count"] == count


def test_the_metric_job_leaves_no_number_unread(seed_library: dict[str, Any]) -> None:
    assert not seed_library["unread"]


def test_every_job_in_the_fixtures_is_claimed_by_a_test() -> None:
    assert {p.name for p in JOBS.iterdir()} == {
        "seed-library",
        "finishes",
        "whole",
    }  # test_finishes.py and test_jobs_by_hand.py claim theirs
