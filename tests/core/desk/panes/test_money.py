"""What open points are worth in money: by hand, beside the points of a job that names a price list, and unknown where a price is missing."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from html import unescape
from pathlib import Path

from darby.bid.prices.money import Currency
from darby.desk.panes.money import Prices
from darby.estimate.line_item import LineItem
from desks import JOB, Visitor, bench, loft

LIST = """product,package,price,supplier
"gypsum board, 1/2 in, 4 ft x 8 ft",sheet,13.00,Quay supply
primer,1 gal can,21.30,Quay supply
primer,1 gal can,20.10,Harbor trade
"""
BID = '\n[bid]\ncurrency = "USD"\nprices = ["prices.csv"]\n'


def priced(folder: Path, prices: str = LIST) -> Path:
    loft(folder)
    (folder / "job.toml").write_text(JOB + BID, encoding="utf-8")
    (folder / "prices.csv").write_text(prices, encoding="utf-8")
    return folder


def items(folder: Path) -> dict[str, LineItem]:
    made = bench(folder).look().estimate
    assert made is not None
    return {item.product: item for item in made.items}


def test_packages_that_move_are_money_each_line_rounded_by_itself(tmp_path: Path) -> None:
    of = items(loft(tmp_path))
    board, primer, tape = of["gypsum board"], of["primer"], of["joint tape"]
    prices = Prices({board.id: Fraction(1, 3), primer.id: Fraction(21)}, Currency("USD"))
    assert prices.moved([(board, 10, board, 20), (primer, 4, primer, 3)]) == "17.66 USD less"  # 6.67 - 3.33 - 21.00
    assert prices.moved([(None, None, board, 3)]) == "1.00 USD more"
    assert prices.moved([(board, 3, board, 3)]) == "at the same price"
    assert prices.moved([]) == ""
    assert prices.moved([(board, 1, board, 4), (tape, 1, tape, 2)]) == "1.00 USD more, and what has no price"
    assert (
        prices.moved([(tape, 1, tape, 2)]) == prices.moved([(board, 1, board, None)]) == "not known in money: no price"
    )
    assert prices.rests([primer]) == f"{21 * (primer.count or 0)}.00 USD"
    assert prices.rests([primer, tape]) == f"{21 * (primer.count or 0)}.00 USD, and what has no price"
    assert prices.rests([]) == prices.rests([tape]) == ""


def test_a_question_says_what_its_answers_cost_where_the_job_names_a_price_list(tmp_path: Path) -> None:
    visitor = Visitor(priced(tmp_path))
    page = unescape(visitor.get("/").text)
    told = re.search(
        r"If 2 layers</dt><dd>(\d+) sheets [^;<]* instead of (\d+), [^<]*<span class=\"money\">([^<]*)<", page
    )
    assert told is not None
    assert told[3].startswith(f"{13 * (int(told[1]) - int(told[2]))}.00 USD more")
    primer = items(tmp_path)["primer"]
    assert f"Of the order {Decimal('20.10') * (primer.count or 0)} USD rests on it." in page  # the cheaper of two
    (tmp_path / "prices.csv").write_text(LIST.replace("13.00", "14.00"), encoding="utf-8")
    later = unescape(visitor.get("/").text)
    assert f"{14 * (int(told[1]) - int(told[2]))}.00 USD more" in later


def test_a_job_without_prices_or_with_wrong_ones_shows_no_money(tmp_path: Path) -> None:
    assert 'class="money"' not in Visitor(loft(tmp_path)).get("/").text
    page = Visitor(priced(tmp_path, "nothing,of,the\nkind,at,all\n")).get("/").text
    assert "If 2 layers" in page
    assert 'class="money"' not in page


def test_a_reading_to_confirm_says_what_the_order_costs_without_it(tmp_path: Path) -> None:
    visitor = Visitor(priced(tmp_path), doubted="1/2 in. thick")
    made = visitor.bench.look().estimate
    assert made is not None
    assert made.confirmations
    page = unescape(visitor.get("/").text).partition('id="h-unread"')[0]
    assert 'class="money"' in page or not made.confirmations[0].without


def test_a_conflict_says_what_the_other_clause_costs(tmp_path: Path) -> None:
    (priced(tmp_path) / "finishes.txt").write_text(
        "Walls: one coat primer.\n\nWalls: two coats primer.\n", encoding="utf-8"
    )
    page = unescape(Visitor(tmp_path).get("/").text).partition('id="h-conflicts"')[2].partition('id="h-questions"')[0]
    told = re.search(r"(\d+) (?:cans|pails)[^<]* instead of (\d+), (\d+) fewer <span class=\"money\">([^<]*)<", page)
    assert told is not None, page
    assert told[4] == f"{Decimal('20.10') * int(told[3]):,.2f} USD less"  # the cheaper of the two suppliers
