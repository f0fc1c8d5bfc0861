"""What is bought already, and what a change can therefore not deduct."""

from __future__ import annotations

from functools import cache

import pytest

from bids import bid_of, meanings
from darby.bid.compared.bought import BoughtRow, kept_of, read_bought
from darby.bid.compared.change_order import ChangeOrder
from darby.bid.model import Bid
from darby.bid.sheet.change_sheet import make
from darby.bid.terms import Change
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source

HEAD = "product,package,bought,taken back\n"
PRICES = 'product,package,price\n"1/2 in. drywall 4x8",sheet,10\n'
TERMS = """
prices = ["x"]
labor = ["y"]
markups = ["Sales tax: 5 % of material.", "Profit: 10 % of everything above."]
wages = [{ trade = "board", wage = 20, crew = 2 }]
"""
WALL = '[[walls]]\nname = "yard wall"\nlength = "{} ft"\nheight = "8 ft"\nfaces = 1\n'


@cache
def bid(length: int) -> Bid:
    return bid_of(TERMS, WALL.format(length), prices=PRICES, labor="Hang gypsum board: 2 hours per 100 sq ft.")


def rows(text: str) -> tuple[tuple[BoughtRow, ...], tuple[Diagnostic, ...]]:
    return read_bought([Source("bought.csv", HEAD + text)], meanings())


def change(before: int, after: int, text: str) -> ChangeOrder:
    found, told = rows(text)
    assert not told
    kept, _ = kept_of(bid(before), bid(after), found, meanings())
    return ChangeOrder(bid(before), bid(after), Change("4"), "before.json", kept, counted=True)


BOARD = '"1/2 in. drywall 4x8",sheet,{}\n'


def test_what_is_bought_and_left_over_is_not_deducted() -> None:
    """400 sq ft are 13 sheets, 320 are 10. 12 are bought, so 2 of the 3 are left over, 20 that stay in: with tax and profit
    (30 - 20) x 1.05 + 32 of labor, and a tenth on it: 42.50 + 4.25 = 46.75 less, and not 69.85.
    """
    made = change(50, 40, BOARD.format("12,"))
    assert [(one.bought, one.count, str(one.sum)) for one in made.kept] == [(12, 2, "20.00")]
    assert str(made.sum) == "-46.75"
    assert str(change(50, 40, BOARD.format("0,")).sum) == "-69.85"


def test_what_is_bought_by_the_pallet_is_counted_by_the_sheet() -> None:
    (one,), told = rows('"1/2 in. drywall 4x8",pallet of 6 sheets,2\n')
    assert not told
    assert one.count == 12


def test_what_the_supplier_takes_back_is_deducted_in_part() -> None:
    """Of the 20 he pays 85 %: 3 stay in. 27 less of board, 1.35 of tax, 32 of labor; profit 23.615, 23.62 and no more 29.65: 66.38."""
    made = change(50, 40, BOARD.format("12,85 %"))
    assert str(made.kept[0].sum) == "3.00"
    assert str(made.sum) == "-66.38"
    assert sum(line.sum for line in made.costs) == made.sum


def test_what_is_still_needed_or_never_ordered_changes_nothing() -> None:
    assert change(50, 40, BOARD.format("10,")).kept == ()
    assert change(40, 50, BOARD.format("13,")).kept == ()
    assert str(change(50, 40, BOARD.format("40,")).kept[0].sum) == "30.00"  # 13 of them were the bid's


def test_goods_that_are_gone_altogether_are_kept_in_full() -> None:
    assert [one.count for one in change(50, 40, BOARD.format("5,") + BOARD.format("8,")).kept] == [3]


def test_the_days_of_a_crew_are_told() -> None:
    """80 sq ft are 1.6 hours, a tenth of a day of two."""
    assert [(trade, str(more)) for trade, more in change(50, 40, "").days] == [("board", "-1/10")]


def test_the_document_shows_it() -> None:
    text = " ".join(make(change(50, 40, BOARD.format("12,"))).split())
    assert "Bought already and left over" in text
    assert "12 sheets 2 sheets 0 % 20.00" in text
    assert "Time: board 0.1 days fewer." in text
    assert "Nobody said what is bought" not in text


def test_goods_that_the_bid_did_not_order_are_told() -> None:
    found, _ = rows("primer,5 gal pail,3,\n")
    _, (one,) = kept_of(bid(50), bid(40), found, meanings())
    assert one.message == "bought, and not among what the bid ordered: primer"
    assert one.span is not None
    assert one.span.line == 2


def test_goods_that_may_be_several_lines_are_asked_about_and_not_counted() -> None:
    spec = "SECTION 09 91 23 - PAINTING\nA. Walls: two coats eggshell. Ceilings: two coats flat.\n"
    room = '[[rooms]]\nname = "Loft"\nlength = "20 ft"\nwidth = "20 ft"\nheight = "8 ft"\n'
    both = bid_of("", room, specification=spec)
    found, _ = rows("paint,1 gal can,3,\n")
    kept, (one,) = kept_of(both, both, found, meanings())
    assert not kept
    assert (
        one.message
        == "this may be finish paint, eggshell, wall or finish paint, flat, ceiling, and is counted as neither"
    )


@pytest.mark.parametrize(
    ("text", "code", "at"),
    [
        ("thatch,roll,3,\n", "price-goods", "thatch"),
        ("primer,1 gal can,-3,\n", "bought-list", "-3"),
        ("primer,1 gal can,2.5,\n", "bought-list", "2.5"),
        ("primer,1 gal can,,\n", "bought-list", "primer,1 gal can,,"),
        ("primer,,3,\n", "bought-list", ""),
        ("primer,per gal,3,\n", "bought-list", "per gal"),
        ("primer,1 gal can,3,most\n", "bought-list", "most"),
        ("primer,1 gal can,3,120 %\n", "bought-list", "120 %"),
    ],
)
def test_a_row_that_cannot_be_read_is_told_at_its_place(text: str, code: str, at: str) -> None:
    (one,) = rows(text)[1]
    assert (one.code, one.span.text if one.span is not None else None) == (code, at)


def test_a_file_without_its_columns_is_told() -> None:
    found, told = read_bought([Source("bought.csv", "product,package\nprimer,1 gal can\n")], meanings())
    assert not found
    assert [d.message for d in told] == ["bought.csv has no column bought"]
