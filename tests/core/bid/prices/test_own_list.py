"""A price list of one's own names the lines of an order so that each price is found for its line, and for no other."""

from __future__ import annotations

from fractions import Fraction

from darby.bid.prices.meaning import Meanings
from darby.bid.prices.money import Currency
from darby.bid.prices.own_list import listed_as, own_prices, price_in, with_price, written
from darby.bid.prices.price_list import read_prices
from darby.bid.prices.pricing import price_goods
from darby.plugin_host.loader import load_plugins
from darby.reading.parsing.lexicon import Lexicon
from darby.text.spans import Source
from desk import estimated

ROOM = '[[rooms]]\nname = "Office"\nlength = "12 ft"\nwidth = "10 ft"\nheight = "9 ft"\n'
SPEC = """Gypsum board: 5/8 in. thick, type X, 4 ft by 12 ft sheets on walls. Gypsum board: 1/2 in. on ceilings.
Walls: one coat primer, two coats eggshell. Ceilings: two coats flat, 2.5 gal pails. Screws: boxes of 1,000.
"""


def test_every_line_of_an_order_is_priced_by_its_own_row_and_nothing_is_doubted() -> None:
    made = estimated(ROOM, SPEC)
    rows: list[dict[str, str]] = []
    prices = {}
    for n, item in enumerate(made.items, 1):
        if goods := listed_as(item):
            prices.setdefault(str(goods), f"{n}.50")
            rows = with_price(rows, goods, prices[str(goods)])
    assert len(prices) > 5
    meanings = Meanings(Lexicon.of(load_plugins().vocabularies), "us")
    read = read_prices(Source("own-prices.csv", written(rows)), meanings)
    assert not read.diagnostics
    for goods in price_goods(made.items, read.rows, meanings, Currency("USD"), None):
        named = listed_as(goods.item)
        if named:
            (offer,) = goods.offers.values()
            assert offer.row.price == Fraction(prices[str(named)]), named
            assert offer.doubts == (), named


def test_a_price_takes_the_place_of_the_one_before_and_an_empty_one_takes_the_row_out() -> None:
    pail, can = (
        {"product": "primer", "package": "5 gal pail"},
        {"product": "primer", "sheen": "flat", "package": "1 gal can"},
    )
    rows = with_price(with_price([], pail, "90"), can, "21.30")
    assert own_prices(written(rows)) == rows
    assert price_in(with_price(rows, pail, "95"), pail) == "95"
    assert [row["price"] for row in with_price(rows, pail, "95")] == ["95", "21.30"]
    assert with_price(rows, pail, "") == rows[1:]
    assert price_in(rows[1:], pail) == ""
    assert own_prices("") == []


def test_a_list_that_somebody_else_went_on_with_keeps_its_columns() -> None:
    rows = own_prices('product,package,price,note\n"primer",1 gal can,20,by the door\n')
    more = with_price(rows, {"product": "screw", "package": "each"}, "0.02")
    assert written(more) == "product,note,package,price\nprimer,by the door,1 gal can,20\nscrew,,each,0.02\n"
