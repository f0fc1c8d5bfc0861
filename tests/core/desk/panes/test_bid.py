"""The bid beside the order: the price that the bid sheet gives, its lines by trade, and what is not priced, of the state that is shown."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from decimal import Decimal
from html import unescape
from pathlib import Path
from typing import Any

from darby.cli.shared.jobs import Wanted, estimate_of
from darby.cli.shared.priced import Priced
from darby.desk.panes.bid import bid_view
from desk_runs import DARBY
from desks import JOB, Visitor, loft

PRICES = """product,package,price,supplier
"gypsum board, 1/2 in, 4 ft x 8 ft",sheet,13.00,Quay supply
primer,1 gal can,21.30,Quay supply
"""
RATES = "Hang gypsum board: 1.5 hours per 100 sq ft. [our last jobs]\nApply primer: 0.4 hours per 100 sq ft. [our last jobs]\n"
TERMS = """
[bid]
currency = "USD"
prices = ["prices.csv"]
labor = ["labor.txt"]
markups = ["Overhead: 10 % of everything above."]

[[bid.wages]]
trade = "board"
wage = "30.00"

[[bid.wages]]
trade = "coatings"
wage = "30.00"
"""


def priced(folder: Path, terms: str = TERMS) -> Path:
    loft(folder)
    (folder / "job.toml").write_text(JOB + terms, encoding="utf-8")
    (folder / "prices.csv").write_text(PRICES, encoding="utf-8")
    (folder / "labor.txt").write_text(RATES, encoding="utf-8")
    return folder


def shown(folder: Path) -> dict[str, Any]:
    done = estimate_of(Wanted(str(folder / "job.toml")))
    assert done.estimate is not None
    return bid_view(*Priced(folder, done.plugins).bid(done.estimate))


def part(visitor: Visitor) -> str:
    return unescape(visitor.get("/bid", headers={"x-panes": "1"}).text)


def test_the_price_and_what_is_missing_are_those_of_the_bid_sheet(tmp_path: Path) -> None:
    view = shown(priced(tmp_path))
    command = [sys.executable, str(DARBY), "bid", str(tmp_path / "job.toml"), "--format", "json"]
    bid = json.loads(subprocess.run(command, capture_output=True, text=True, check=False).stdout)
    price = re.sub(r"[^0-9.]", "", view["price"])
    assert view["price"].endswith(" USD")
    assert price in {str(value) for value in _every(bid)}
    missing = [one["text"] for one in bid["open"] if one["what"] == "missing"]
    assert view["missing"] == missing
    assert len(missing) > 2


def _every(data: Any) -> list[Any]:
    if isinstance(data, dict):
        return [one for value in data.values() for one in _every(value)]
    if isinstance(data, list):
        return [one for value in data for one in _every(value)]
    return [data]


def test_the_lines_of_each_trade_add_up_and_so_does_the_price(tmp_path: Path) -> None:
    view = shown(priced(tmp_path))

    def money(said: str) -> Decimal:
        return Decimal(re.sub(r"[^0-9.]", "", said) or "0")

    board = next(trade for trade in view["trades"] if trade["name"] == "Board")
    sheets = next(row for row in board["rows"] if row[0].startswith("gypsum board"))
    many = int(re.match(r"\d+", sheets[1])[0])  # type: ignore[index]
    assert money(sheets[2]) == many * 13
    assert any("hours" in row[1] and money(row[2]) > 0 for row in board["rows"])
    for trade in view["trades"]:
        assert money(trade["sum"]) == sum(money(row[2]) for row in trade["rows"] if not row[2].startswith("no ")), trade
    cost = sum(money(sum_) for what, _, sum_ in view["steps"] if what != "Overhead")
    overhead = next(money(sum_) for what, _, sum_ in view["steps"] if what == "Overhead")
    assert overhead == round(cost / 10, 2)
    assert money(view["price"]) == cost + overhead
    said = [row[2] for trade in view["trades"] for row in trade["rows"]]
    assert "no price" in said
    assert "no rate" in said


def test_the_pane_shows_it_for_the_order_as_it_is(tmp_path: Path) -> None:
    visitor = Visitor(priced(tmp_path))
    assert 'data-more="/bid"' in visitor.get("/").text
    first = part(visitor)
    assert "not in this price" in first
    assert visitor.get("/bid", headers={"x-panes": "1"}).headers["x-stamp"] == visitor.get("/state").json()["stamp"]
    visitor.do("row", table="rooms", **{"at-row": "0", "was": visitor.was("rooms", 0), "length": "60 ft"})
    second = part(visitor)
    price = re.compile(r'class="money">([\d,.]+) USD')
    assert price.search(first)[1] != price.search(second)[1]  # type: ignore[index]
    (tmp_path / "labor.txt").write_text(RATES.replace("1.5", "15"), encoding="utf-8")
    assert price.search(part(visitor))[1] != price.search(second)[1]  # type: ignore[index]
    assert "<h1>The bid</h1>" in visitor.get("/bid").text


def test_terms_that_are_wrong_say_so_and_a_job_without_terms_has_no_bid(tmp_path: Path) -> None:
    visitor = Visitor(priced(tmp_path, TERMS.replace("prices.csv", "lost.csv")))
    told = part(visitor)
    assert "No bid can be made" in told
    assert "lost.csv" in told
    plain = Visitor(loft(tmp_path))
    assert 'data-more="/bid"' not in plain.get("/").text
    assert plain.get("/bid").status_code == 404


def test_an_order_from_before_keeps_the_bid_from_before(tmp_path: Path) -> None:
    visitor = Visitor(priced(tmp_path))
    first = part(visitor)
    (tmp_path / "job.toml").write_text(f"{JOB}{TERMS}\n[[rooms", encoding="utf-8")
    assert (
        part(visitor).strip() == first.partition('<details class="add" id="bid-form"')[0].strip()
    )  # nothing can be typed
