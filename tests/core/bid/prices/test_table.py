"""Tables that name goods: rows by the heads of their columns, each with its place."""

from __future__ import annotations

import pytest

from bids import meanings
from darby.bid.prices.table import GoodsTable
from darby.text.spans import Source


def table(text: str) -> GoodsTable:
    return GoodsTable(Source("list.csv", text), meanings(), "bought-list")


@pytest.mark.parametrize("parting", [",", ";", "\t"])
def test_rows_by_their_heads_whatever_parts_them(parting: str) -> None:
    text = "Product,Valid  Until,\n\nprimer, 2026-03-31 ,x\n,,\n".replace(",", parting)
    found = [(dict(said), span.text) for said, span in table(text).rows()]
    assert found == [({"product": "primer", "valid_until": "2026-03-31"}, text.split("\n")[2].strip())]


def test_a_cell_knows_its_place() -> None:
    read = table('product,package,count\n"tape, paper",roll,x3\n')
    ((said, span),) = read.rows()
    assert read.count(said, "count", span) is None
    assert [d.span.text for d in read.found if d.span is not None] == ["x3"]
    assert read.cell(span, "nothing") == span


def test_what_cannot_be_read_is_told_and_is_nothing() -> None:
    read = table("product,package,date,count\nthatch,lump,31.3.26,0\n")
    ((said, span),) = read.rows()
    assert (
        read.goods(said, span),
        read.package(said, span),
        read.day(said, "date", span),
        read.count(said, "count", span),
    ) == (None,) * 4
    assert [d.span.text for d in read.found if d.span is not None] == ["thatch", "lump", "31.3.26", "0"]
    assert read.count(said, "count", span, least=0) == 0


def test_columns_that_are_not_there_are_told_once() -> None:
    read = table("product\nprimer\n")
    assert not read.has(("product", "package", "price"))
    assert [d.message for d in read.told()] == ["list.csv has no column package and no column price"]


def test_very_many_mistakes_of_one_kind_are_counted() -> None:
    read = table("product,count\n" + "primer,x\n" * 55)
    for said, span in read.rows():
        read.count(said, "count", span)
    assert len(read.told()) == 41
    assert read.told()[-1].message == "15 more rows of list.csv have mistakes like these"
