"""`darby bid`, as somebody types it."""

from __future__ import annotations

import io
import json
from pathlib import Path

import openpyxl
import pytest

from bids import JOB, LABOR, PRICES, TERMS
from commands import darby as run


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "job.toml").write_text(f'name = "Net loft"\nunits = "us"\n{JOB}\n[bid]\n{TERMS}', encoding="utf-8")
    (tmp_path / "harbor.csv").write_text(PRICES, encoding="utf-8")
    (tmp_path / "labor.txt").write_text(LABOR, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_bid_sheet(folder: Path) -> None:
    done = run("bid", "job.toml")
    assert done.returncode == 0
    assert done.stdout.startswith("Bid: Net loft\n")
    assert "From cost to price" in done.stdout
    assert run("bid", "job.toml", "--strict").returncode == 1


@pytest.mark.parametrize("name", ["bid.md", "bid.html", "bid.csv", "bid.json", "bid.xlsx"])
def test_a_file_is_what_its_ending_says(folder: Path, name: str) -> None:
    assert run("bid", "job.toml", "--out", name).returncode == 0
    data = (folder / name).read_bytes()
    if name.endswith("xlsx"):
        assert "Bid" in openpyxl.load_workbook(io.BytesIO(data)).sheetnames
    else:
        assert b"Net loft" in data or name == "bid.csv"


def test_no_input_is_written_over(folder: Path) -> None:
    for name in ("job.toml", "harbor.csv", "labor.txt"):
        assert run("bid", "job.toml", "--format", "csv", "--out", name).returncode == 2
    assert (folder / "harbor.csv").read_text(encoding="utf-8") == PRICES


def test_a_price_list_may_be_a_workbook(folder: Path) -> None:
    book = openpyxl.Workbook()
    assert book.active is not None
    for row in (["product", "package", "price"], ["primer", "1 gal can", 21.5]):
        book.active.append(row)
    book.save(folder / "dunes.xlsx")
    text = (folder / "job.toml").read_text(encoding="utf-8").replace('"harbor.csv"', '"dunes.xlsx"')
    (folder / "job.toml").write_text(text, encoding="utf-8")
    data = json.loads(run("bid", "job.toml", "--format", "json").stdout)
    assert {line["product"]: line["offer"]["each"] for line in data["material"] if line["offer"]} == {"primer": "43/2"}


@pytest.mark.parametrize("name", ["missing.csv", "missing.xlsx", "broken.xlsx"])
def test_a_list_that_cannot_be_opened_is_told_where_it_is_named(folder: Path, name: str) -> None:
    (folder / "broken.xlsx").write_bytes(b"PK\x03\x04 not really")
    text = (folder / "job.toml").read_text(encoding="utf-8").replace('"harbor.csv"', f'"{name}"')
    (folder / "job.toml").write_text(text, encoding="utf-8")
    done = run("bid", "job.toml")
    assert done.returncode == 2
    assert f"{name}" in done.stderr
    assert "job.toml:" in done.stderr


def test_a_job_without_terms_says_how_to_write_them(folder: Path) -> None:
    (folder / "job.toml").write_text(f'name = "Net loft"\nunits = "us"\n{JOB}', encoding="utf-8")
    done = run("bid", "job.toml")
    assert done.returncode == 2
    assert "has no table [bid]" in done.stderr
    assert json.loads(run("bid", "job.toml", "--format", "json").stdout)["diagnostics"][0]["code"] == "bid-terms"


def test_an_estimate_of_the_same_job_does_not_mind_the_table(folder: Path) -> None:
    assert run("estimate", "job.toml").returncode == 0


def test_a_mistake_in_the_job_itself_is_told_as_ever(folder: Path) -> None:
    (folder / "job.toml").write_text("name = 3\n", encoding="utf-8")
    assert run("bid", "job.toml").returncode == 2


SPEC = "SECTION 09 91 23 - INTERIOR PAINTING\nA. Walls and ceilings: two coats finish paint.\nB. Alternate 2: Three coats finish paint on walls.\n"


@pytest.fixture
def with_alternate(folder: Path) -> Path:
    (folder / "spec.txt").write_text(SPEC, encoding="utf-8")
    text = (
        (folder / "job.toml")
        .read_text(encoding="utf-8")
        .replace("[bid]", '[documents]\nspecification = ["spec.txt"]\n\n[bid]\ntake = []', 1)
    )
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return folder


def take(folder: Path, name: str) -> None:
    text = (folder / "job.toml").read_text(encoding="utf-8").replace("take = []", f'take = ["{name}"]')
    (folder / "job.toml").write_text(text, encoding="utf-8")


def cans() -> int:
    items = json.loads(run("estimate", "job.toml", "--format", "json").stdout)["items"]
    return sum(int(item["order"]["count"]) for item in items if item["product"] == "finish paint")


def test_alternates_are_priced_where_that_is_asked_for(with_alternate: Path) -> None:
    assert "\nAlternates\n" not in run("bid", "job.toml").stdout
    assert "\nAlternates\n" in run("bid", "job.toml", "--alternates").stdout


def test_one_that_is_taken_is_ordered_too_and_kept_with_the_estimate(with_alternate: Path) -> None:
    """Walls of 800 sq ft, ceilings of 300: two coats are 5.5 gal, a third on the walls 2 more."""
    assert cans() == 6
    take(with_alternate, "Alternate 2")
    assert cans() == 8
    assert run("estimate", "job.toml", "--save", "kept/x.json").returncode == 2
    (with_alternate / "kept").mkdir()
    assert run("estimate", "job.toml", "--save", "kept/x.json").returncode == 0
    assert run("replay", "kept").returncode == 0


def test_one_that_no_document_has_is_refused_with_those_there_are(with_alternate: Path) -> None:
    take(with_alternate, "Alternate 9")
    for command in ("bid", "estimate"):
        done = run(command, "job.toml")
        assert done.returncode == 2
        assert "The documents have: Alternate 2." in " ".join(done.stderr.split())


def test_a_change_order_against_a_saved_estimate(folder: Path) -> None:
    assert run("estimate", "job.toml", "--save", "before.json").returncode == 0
    same = run("bid", "job.toml", "--since", "before.json")
    assert "No change of the price: 0.00 USD" in same.stdout
    text = (folder / "job.toml").read_text(encoding="utf-8").replace('length = "10 ft"', 'length = "12 ft"')
    (folder / "job.toml").write_text(text, encoding="utf-8")
    done = run(
        "bid", "job.toml", "--since", "before.json", "--number", "3", "--cause", "Sketch 7", "--out", "change.md"
    )
    assert done.returncode == 0
    assert (folder / "change.md").read_text(encoding="utf-8").startswith("# Change order 3: Net loft")


def test_a_change_order_wants_a_saved_estimate_and_a_form_it_has(folder: Path) -> None:
    assert run("bid", "job.toml", "--since", "nothing.json").returncode == 2
    assert run("bid", "job.toml", "--since", "job.toml").returncode == 2
    assert run("bid", "job.toml", "--since", "nothing.json", "--format", "csv").returncode == 2


WAY = '\n[[bid.ways]]\nname = "thick primer"\nlines = ["{}"]\n'


def add(folder: Path, text: str) -> None:
    with (folder / "job.toml").open("a", encoding="utf-8") as file:
        file.write(text)


def test_ways_are_held_beside_the_bid_where_that_is_asked_for(folder: Path) -> None:
    add(folder, WAY.format("Primer: 100 sq ft per gallon."))
    assert "Other ways of doing the work" not in run("bid", "job.toml").stdout
    done = run("bid", "job.toml", "--ways")
    assert done.returncode == 0
    assert "thick primer" in done.stdout
    assert "Cheapest: as bid." in done.stdout


def test_a_mistake_in_a_way_is_told_in_the_job_file(folder: Path) -> None:
    add(folder, WAY.format("Primer: 100 sq ft per galon."))
    done = run("bid", "job.toml", "--ways")
    assert done.returncode == 2
    assert "galon" in done.stderr
    assert "job.toml:" in done.stderr
    assert json.loads(run("bid", "job.toml", "--ways", "--format", "json").stdout)["diagnostics"]
    assert run("bid", "job.toml").returncode == 0


def test_a_change_order_knows_its_head_and_what_is_bought(folder: Path) -> None:
    assert run("estimate", "job.toml", "--save", "before.json").returncode == 0
    (folder / "bought.csv").write_text('product,package,bought\n"1/2 in. drywall 4x8",sheet,60\n', encoding="utf-8")
    text = (folder / "job.toml").read_text(encoding="utf-8").replace('length = "20 ft"', 'length = "12 ft"')
    (folder / "job.toml").write_text(text, encoding="utf-8")
    add(folder, '\n[bid.change]\nnumber = 7\ncause = "Sketch 7"\nto = "Osier"\nbought = ["bought.csv"]\n')
    done = run("bid", "job.toml", "--since", "before.json")
    assert done.returncode == 0, done.stderr
    assert "Change order 7: Net loft" in done.stdout
    assert "Bought already and left over" in done.stdout
    assert run("bid", "job.toml", "--since", "before.json", "--number", "8").stdout.startswith(
        "Change order 8: Net loft"
    )
    assert (
        run("bid", "job.toml", "--since", "before.json", "--format", "md", "--out", "bought.csv", "--force").returncode
        == 2
    )
    (folder / "bought.csv").write_text("product,package,bought\nprimer,1 gal can,some\n", encoding="utf-8")
    assert "bought.csv:2" in run("bid", "job.toml", "--since", "before.json").stderr
    (folder / "bought.csv").unlink()
    assert run("bid", "job.toml", "--since", "before.json").returncode == 2


def test_unit_prices_that_a_document_asks_for_are_on_the_sheet(with_alternate: Path) -> None:
    with (with_alternate / "spec.txt").open("a", encoding="utf-8") as file:
        file.write("C. Unit Price 1: Painting of walls, per 100 sq ft.\n")
    assert "Unit prices asked for" in run("bid", "job.toml").stdout
