"""A bid is begun at the desk: terms, prices, wages and hours typed there stand in files, and the bid is the one that the command makes."""

from __future__ import annotations

import re
import subprocess
import sys
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from darby.desk.files.job_text import JobText
from desk_runs import DARBY
from desks import HOME, Visitor, loft


@pytest.fixture
def visitor(tmp_path: Path) -> Visitor:
    return Visitor(loft(tmp_path))


def terms(visitor: Visitor) -> dict[str, Any]:
    found = JobText.of(visitor.bench.folder.text("job.toml")).data.get("bid", {})
    assert isinstance(found, dict)
    return found


def part(visitor: Visitor) -> str:
    return unescape(visitor.get("/bid", headers={"x-panes": "1"}).text)


def fields(visitor: Visitor, kind: str) -> list[str]:
    return re.findall(rf'name="({kind}:[^"]+)"', part(visitor))


def begun(visitor: Visitor, **more: str) -> str:
    return str(
        visitor.do("bid-begin", **{"currency": "usd", "date": "2026-05-04", "overhead": "12 %", **more}).json()["told"]
    )


def test_what_is_typed_is_the_bid_that_the_command_makes(visitor: Visitor) -> None:
    assert "Begin a bid" in visitor.get("/").text
    assert "begun" in begun(visitor, tax="6.5", profit="8", valid="30 days")
    assert terms(visitor) == {
        "currency": "USD", "date": "2026-05-04", "valid": "30 days",
        "markups": ["Sales tax: 6.5 % of material.", "Overhead: 12 % of everything above.", "Profit: 8 % of everything above."],
    }  # fmt: skip
    assert "Begin a bid" not in visitor.get("/").text
    typed = dict.fromkeys(fields(visitor, "price"), "12.50") | dict.fromkeys(fields(visitor, "wage"), "31.50")
    typed |= dict.fromkeys(fields(visitor, "rate"), "1.5") | dict(
        re.findall(r'name="(per:[^"]+)" value="([^"]+)"', part(visitor))
    )
    assert len(typed) > 10
    assert not visitor.do("bid-write", **typed).json()["refused"]
    told = part(visitor)
    assert "not in this price" not in told
    price = re.search(r'class="money">([\d,.]+) USD', told)
    assert price is not None
    done = subprocess.run(
        [sys.executable, str(DARBY), "bid", str(visitor.bench.folder.root / "job.toml")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert f"Price: {price[1]} USD" in done.stdout
    assert "The bid, a page" in visitor.get("/papers").text
    assert f"{price[1]} USD" in visitor.get("/paper/bid.html").text
    assert visitor.get("/paper/bid.xlsx").headers["content-disposition"] == 'attachment; filename="bid.xlsx"'


def test_without_terms_there_is_no_bid_sheet(visitor: Visitor) -> None:
    assert visitor.get("/paper/bid.html").status_code == 404
    assert "/paper/bid.html" not in visitor.get("/papers").text


def test_terms_that_are_written_while_the_job_cannot_be_worked_out_wait_for_it(visitor: Visitor) -> None:
    visitor.get("/")
    job = visitor.bench.folder.root / "job.toml"
    job.write_text(f'{job.read_text(encoding="utf-8")}\n[[rooms]]\nname = "Attic"\n', encoding="utf-8")
    page = visitor.get("/").text
    assert "Still to be typed: length, width and height." in page
    assert "Begin a bid" not in page
    begun(visitor)
    assert "stands here as soon as the job can be worked out" in part(visitor)


def test_a_price_is_typed_again_taken_out_and_taken_back(visitor: Visitor) -> None:
    begun(visitor)
    name = next(one for one in fields(visitor, "price") if "primer" in one)
    visitor.do("bid-write", **{name: "21.30"})
    assert f'name="{name}" value="21.30"' in part(visitor)
    visitor.do("bid-write", **{name: "22"})
    assert (visitor.bench.folder.root / "own-prices.csv").read_text(
        encoding="utf-8"
    ) == "product,package,price\nprimer,1 gal can,22\n"
    visitor.do("undo")
    assert f'name="{name}" value="21.30"' in part(visitor)
    visitor.do("bid-write", **{name: ""})
    assert f'name="{name}" value=""' in part(visitor)


def test_a_wage_is_changed_where_it_stands_and_the_rest_of_the_file_stays(visitor: Visitor) -> None:
    begun(visitor)
    before = visitor.bench.folder.text("job.toml")
    visitor.do("bid-write", **{"wage:board": "31.50", "burden:board": "38 %"})
    assert visitor.bench.folder.text("job.toml").startswith(before)
    visitor.do("bid-write", **{"wage:board": "33", "burden:board": ""})
    assert terms(visitor)["wages"] == [{"trade": "board", "wage": "33"}]
    visitor.do("bid-write", **{"wage:board": "33", "burden:board": "40"})
    assert terms(visitor)["wages"] == [{"trade": "board", "wage": "33", "burden": "40 %"}]
    assert visitor.do("bid-write", **{"wage:board": "33", "burden:board": "40 %"}).json()["refused"]


@pytest.mark.parametrize(
    ("deed", "typed"),
    [
        ("bid-begin", {"currency": "dollars"}),
        ("bid-begin", {"currency": "USD", "overhead": "a tenth"}),
        ("bid-begin", {"currency": "USD", "date": "May the 4th"}),
        ("bid-write", {"price:coatings:primer": "cheap"}),
        ("bid-write", {"price:coatings:primer": "-3"}),
        ("bid-write", {"price:nothing:there": "3"}),
        ("bid-write", {"wage:board": "0"}),
        ("bid-write", {"wage:board": "30", "burden:board": "much"}),
        ("bid-write", {"rate:apply primer": "fast"}),
        ("bid-write", {"rate:polish the moon": "2", "per:polish the moon": "per 100 sq ft"}),
        ("bid-write", {}),
        ("bid-line", {"list": "markups", "line": "Overhead: some."}),
        ("bid-line", {"list": "currency", "line": "USD"}),
        ("bid-line-remove", {"list": "currency", "number": "0", "line": "USD"}),
    ],
)
def test_what_cannot_be_is_said_and_nothing_is_written(visitor: Visitor, deed: str, typed: dict[str, str]) -> None:
    if deed != "bid-begin":
        begun(visitor)
    before = visitor.bench.stamp()
    answer = visitor.do(deed, **typed).json()
    assert answer["refused"], answer["told"]
    assert visitor.bench.stamp() == before


def test_mark_ups_and_price_lists_are_added_and_taken_out(visitor: Visitor) -> None:
    begun(visitor)
    visitor.do("bid-line", list="markups", line="Boat to the pier: 380.")
    assert terms(visitor)["markups"] == ["Overhead: 12 % of everything above.", "Boat to the pier: 380."]
    visitor.do("bid-line-remove", list="markups", number="0", line="Overhead: 12 % of everything above.")
    assert terms(visitor)["markups"] == ["Boat to the pier: 380."]
    heads = {"origin": HOME, "sec-fetch-site": "same-origin"}
    data = {"key": visitor.keys.form, "role": "prices"}
    visitor.ask(
        "POST",
        "/upload",
        data=data,
        files={"file": ("quay.csv", b"product,package,price\nprimer,1 gal can,21.30\n")},
        headers=heads,
    )
    assert terms(visitor)["prices"] == ["quay.csv"]
    assert not [one for one in fields(visitor, "price") if "primer" in one]  # it has one
    visitor.do("bid-line-remove", list="prices", number="0", line="quay.csv")
    assert "prices" not in terms(visitor)


def test_a_job_file_that_cannot_be_read_shows_the_bid_of_before_and_no_form(visitor: Visitor) -> None:
    begun(visitor)
    part(visitor)
    (visitor.bench.folder.root / "job.toml").write_text("[[rooms", encoding="utf-8")
    assert "Your price for one" not in part(visitor)
    assert visitor.get("/").status_code == 200
