"""Bids in `fixtures/bids`, each with its plain arithmetic beside it, as the command makes them; and their workbooks, calculated anew.

Ten have it in a few lines (`expected.toml`); three are worked out in full beside the program, from the measured rows to the price, before
it was asked (`worked_by_hand.py`).
"""

from __future__ import annotations

import json
import runpy
import shutil
import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from calculated import recalculated, sums
from checkout import FIXTURES
from commands import darby as run

PLAIN = sorted(path.parent for path in (FIXTURES / "bids").glob("*/expected.toml"))
IN_FULL = sorted(path.parent for path in (FIXTURES / "bids").glob("*/worked_by_hand.py"))
BIDS = [*PLAIN, *IN_FULL]


def expected(folder: Path) -> dict[str, Any]:
    if folder in IN_FULL:
        return dict(runpy.run_path(str(folder / "worked_by_hand.py"))["EXPECTED"])
    return tomllib.loads((folder / "expected.toml").read_text(encoding="utf-8"))


def made(folder: Path) -> dict[str, Any]:
    done = run("bid", str(folder / "job.toml"), "--alternates", "--ways", "--format", "json")
    assert done.returncode == 0, done.stderr
    return dict(json.loads(done.stdout))


def told(bid: dict[str, Any]) -> dict[str, Any]:
    """What a bid says, as `expected.toml` says it."""
    return {
        "price": bid["price"],
        "direct": bid["direct"],
        "material": {line["product"]: line["offer"]["sum"] for line in bid["material"] if line["offer"]},
        "labor": {
            f"{line['operation']}, {line['about']['surface']}": line["sum"] for line in bid["labor"] if line["sum"]
        },
        "markups": {one["label"]: one["sum"] for one in bid["markups"]},
        "suppliers": {one["suppliers"][0]: one["sum"] for one in bid["suppliers"]},
        "days": {one["trade"]: one["days"] for one in bid["crews"] if "days" in one},
        "phases": {one["name"]: one["price"] for one in bid["phases"]},
        "floors": {one["name"]: one["price"] for one in bid["floors"]},
        "by_phase": str(sum(Decimal(one["sum"]) for one in bid["by_phase"])),
        "alternates": {one["name"]: one["sum"] for one in bid.get("alternates", ())},
        "ways": {one["name"]: one["price"] for one in bid.get("ways", ())},
        "cheapest": bid.get("cheapest", {}).get("name"),
        "unit_prices": {one["name"]: one["sum"] for one in bid.get("unit_prices", ())},
        "each": {one["what"]: one["sum"] for one in bid.get("unit_prices", ())},
        "rooms": {one["name"]: one["price"] for one in bid["rooms"]},
        "orders": {
            name: [line["order"] for line in bid["material"] if line["product"] == name]
            for name in {line["product"] for line in bid["material"]}
        },
        "sums": sorted(line["sum"] for line in bid["labor"]),
    }


def test_ten_tell_how_they_are_worked_out_and_three_are_in_full() -> None:
    assert (len(PLAIN), len(IN_FULL)) == (10, 3)
    assert all(expected(folder)["working"].strip() for folder in PLAIN)
    for (
        folder
    ) in IN_FULL:  # every line of the order and every task, and where there are no documents nothing is worked out
        bid, wanted = made(folder), expected(folder)
        assert sum(map(len, wanted["orders"].values())) == len(bid["material"]) >= 4
        assert len(wanted["sums"]) == len(bid["labor"]) >= 8


@pytest.mark.parametrize("folder", BIDS, ids=lambda path: path.name)
def test_a_bid_is_what_plain_arithmetic_says(folder: Path) -> None:
    found = told(made(folder))
    wanted = {key: value for key, value in expected(folder).items() if key not in ("why", "working", "change")}
    assert {key: found[key] for key in wanted} == wanted


@pytest.mark.parametrize("folder", BIDS, ids=lambda path: path.name)
def test_its_parts_make_up_its_price(folder: Path) -> None:
    bid = made(folder)
    price = Decimal(bid["price"])
    assert sum(map(Decimal, bid["direct"].values())) + sum(Decimal(one["sum"]) for one in bid["markups"]) == price
    for part in ("trades", "rooms", "floors", "phases"):
        assert not bid[part] or sum(Decimal(one["price"]) for one in bid[part]) == price


def test_a_change_order_after_the_goods_are_bought(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(FIXTURES / "bids" / "plover-shop", tmp_path / "shop")
    monkeypatch.chdir(tmp_path / "shop")
    assert run("estimate", "before.toml", "--save", "before.json").returncode == 0
    done = run("bid", "job.toml", "--since", "before.json")
    assert done.returncode == 0, done.stderr
    text = " ".join(done.stdout.split())
    for said in expected(tmp_path / "shop")["change"]:
        assert said in text


def test_a_spreadsheet_gets_every_sum_of_every_bid_to_the_cent(tmp_path: Path) -> None:
    books = []
    for folder in BIDS:
        written = tmp_path / f"{folder.name}.xlsx"
        assert run("bid", str(folder / "job.toml"), "--out", str(written)).returncode == 0
        books.append(written.read_bytes())
    for folder, book in zip(BIDS, recalculated(books, tmp_path), strict=True):
        want = expected(folder)
        lines = {name.capitalize(): Decimal(sum_) for name, sum_ in want["direct"].items()}
        lines |= {name: Decimal(sum_) for name, sum_ in want.get("markups", {}).items()}
        assert sums(book) == lines | {"Price": Decimal(want["price"])}
