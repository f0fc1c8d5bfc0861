"""Bids in `fixtures/bids`, each with its plain arithmetic beside it, as the command makes them; and their workbooks, calculated anew."""

from __future__ import annotations

import json
import shutil
import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from calculated import recalculated, sums
from checkout import FIXTURES
from commands import darby as run

BIDS = sorted(path.parent for path in (FIXTURES / "bids").glob("*/expected.toml"))


def expected(folder: Path) -> dict[str, Any]:
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
    }


def test_there_are_seven_and_each_tells_how_it_is_worked_out() -> None:
    assert len(BIDS) == 7
    assert all(expected(folder)["working"].strip() for folder in BIDS)


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
