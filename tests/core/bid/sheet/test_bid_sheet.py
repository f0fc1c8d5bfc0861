"""The bid sheet: what it says, in every form."""

from __future__ import annotations

import os
import re
from functools import cache
from unittest import mock

import pytest
from markdown_it import MarkdownIt

from bids import JOB, LABOR, PRICES, TERMS, bid_of, made
from darby.bid.sheet.bid_sheet import make
from darby.documents.tables import read_csv


@cache
def text() -> str:
    with mock.patch.dict(os.environ, {"COLUMNS": "120"}):  # whatever the width of the terminal that the tests run in
        return " ".join(make(made()).split())


@pytest.mark.parametrize(
    "said",
    [
        "Bid: test", "Date: 2026-03-02; the bid stands 60 days", "Not complete:",
        # 1,100 sq ft of board: 35 sheets; 16.5 hours at 42
        "35 sheets of 32 sq ft 12.50 437.50 Harbor",
        "1.5 hours per 100 sq ft", "a crew of 2 takes 1.03 days of 8 hours",
        "Deliveries Harbor 45.00 45.00", "Allowance, Patching: 100.00.",
        "Overhead 10 % of everything above,", "no wage", "no rate", "no price",
        "By trade", "By room", "By phase", "Hall", "Loft", "- Cleaning up", "- Testing of old *paint*",
        "not in the price: What is an hour of coatings paid?", "Suppliers", "as bought: Dunes, Harbor",
        "Rounding: Every line is rounded once, half up",
        "Rates that nothing here takes up: “Finish joints: 1 hour per 100 sq ft, level 5.”.",
        "The list does not say what a roll holds; 250 ft is ordered.",
    ],
)  # fmt: skip
def test_what_it_says(said: str) -> None:
    assert said in text()


def test_the_current_price_is_taken_before_the_expired_one() -> None:
    assert "23 115.00 Dunes" in text()
    assert "expired" not in text()


def test_goods_that_are_sold_together_are_told_with_how_many() -> None:
    """35 sheets are needed, two pallets of 20 are 40."""
    prices = '"1/2 in. drywall 4x8",pallet of 20 sheets,240\n'
    said = " ".join(make(bid_of(TERMS, JOB, prices=f"product,package,price\n{prices}", labor=LABOR)).split())
    assert "40 sheets are bought, the fewest that harbor sells by the pallet of 20." in said
    assert "12 480.00 harbor" in said


def test_markdown_holds_no_markup_but_ours() -> None:
    html = MarkdownIt("commonmark").enable("table").render(make(made(), "md"))
    assert "Testing of old *paint*" in html
    assert html.count("<h1>") == 1
    assert "<table>" in html


def test_the_page_stands_alone_and_says_the_same() -> None:
    page = make(made(), "html")
    assert not re.search(r"(?:src|href)=\"https?:", page)
    plain = " ".join(re.sub(r"<[^>]*>", " ", page.partition("<body")[2]).split())
    for said in ("437.50", "16.5", "Cleaning up", "Harbor"):
        assert said in plain


def test_equal_bids_give_equal_sheets() -> None:
    other = bid_of(TERMS, JOB, prices=PRICES, labor=LABOR)
    assert make(other) == make(made())


def test_a_bid_of_nothing_is_a_sheet_too() -> None:
    nothing = make(bid_of("", '[[walls]]\nname = "w"\nlength = "1 ft"\nheight = "1 ft"\nfaces = 1\n'))
    assert "Price: 0.00" in nothing
    assert read_csv(b"a\r\n") == []


def test_the_hours_in_longhand_where_that_is_asked_for() -> None:
    """Hall walls of 480 sq ft at 1.5 hours per 100 sq ft: 7.2 hours; the ceiling of 200: 3; Loft 320 and 100."""
    said = " ".join(make(made(), longhand=True).split())
    assert "How the hours were worked out" not in text()
    for step in (
        "Hall wall 1: 20 ft × 8 ft × 1 face = 160 sq ft; job.toml, lines",
        "hang gypsum board, rate: 1.5 hours ÷ 100 sq ft = 0.015 hour per sq ft; labor.txt, line 1",
        "= 800 sq ft",
        "800 sq ft × 0.015 hour per sq ft = 12 hours",
    ):
        assert step in said
