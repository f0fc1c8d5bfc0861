"""The commands from outside: what they print where, and with which code they end."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from commands import checked, darby, started


def test_an_estimate_orders_what_the_longhand_says(folder: Path) -> None:
    done = darby("estimate", str(folder / "job.toml"), "--format", "json")
    assert done.returncode == 0, done.stderr
    (primer,) = (i for i in checked("estimate", done.stdout)["items"] if i["product"] == "primer")
    assert Fraction(primer["need"]["value"]) == Fraction(24 * 8, 200)  # one coat, 192 sq ft at 200 sq ft per gal
    assert primer["order"]["count"] == 1


def test_the_same_job_gives_the_same_bytes(folder: Path) -> None:
    one, other = (started("estimate", "job.toml", "--format", "json", cwd=folder).stdout for _ in range(2))
    assert one == other != ""


def test_strict_ends_with_1_where_something_is_left_to_ask(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--strict", cwd=folder)
    assert done.returncode == 1
    assert "Questions for the specifier" in done.stdout


def test_units_of_the_command_line_beat_those_of_the_job(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--format", "json", "--units", "metric", cwd=folder)
    assert checked("estimate", done.stdout)["job"]["units"] == "metric"


def test_a_trade_can_be_left_out(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--format", "json", "--without", "coatings", cwd=folder)
    assert "coatings" not in {i["trade"] for i in checked("estimate", done.stdout)["items"]}


@pytest.mark.parametrize(
    ("options", "environment"), [(("--only", "coatings"), {}), ((), {"DARBY_PLUGINS": " coatings ,"})]
)
def test_only_one_trade_can_be_used_and_reading_goes_on(
    folder: Path, options: tuple[str, ...], environment: dict[str, str]
) -> None:
    done = darby("estimate", "job.toml", "--format", "json", *options, cwd=folder, **environment)
    data = checked("estimate", done.stdout)
    assert {i["trade"] for i in data["items"]} == {"coatings"}
    assert any(r["layer"] == "specification" for i in data["items"] for r in i["rules"])
