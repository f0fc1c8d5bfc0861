"""Price lists: what is read, what is refused, and where."""

from __future__ import annotations

import io
import time
from datetime import date
from fractions import Fraction

import openpyxl
import pytest

from bids import meanings
from darby.bid.prices.price_list import PriceList, read_prices
from darby.text.files import decode
from darby.text.spans import Source

HEAD = "supplier,product,thickness,package,price,currency,date,valid until,minimum,delivery,from\n"


def listed(rows: str, head: str = HEAD, currency: str = "USD") -> PriceList:
    return read_prices(Source("harbor.csv", head + rows), meanings(), currency)


def test_a_row_in_full() -> None:
    (row,) = listed("Harbor,drywall,5/8 in,sheet,18.40,USD,2026-01-05,2026-03-31,2,85,50\n").rows
    assert (row.supplier, row.product, row.price) == ("Harbor", "gypsum board", Fraction("18.4"))
    assert (row.dated, row.valid_until) == (date(2026, 1, 5), date(2026, 3, 31))
    assert (row.minimum, row.first, row.delivery) == (2, 50, 85)
    assert row.named == {"thickness": meanings().of("5/8 in")}
    assert row.span.text == "Harbor,drywall,5/8 in,sheet,18.40,USD,2026-01-05,2026-03-31,2,85,50"


def test_a_list_without_a_supplier_is_that_of_its_file() -> None:
    (row,) = listed("primer,5 gal pail,88\n", "product,package,price\n").rows
    assert row.supplier == "harbor"


@pytest.mark.parametrize("parting", [",", ";", "\t"])
def test_columns_are_parted_as_a_spreadsheet_does(parting: str) -> None:
    text = f'product{parting}package{parting}price\r\n\r\n"primer"{parting}"5 gal pail"{parting}88\r\n'
    (row,) = read_prices(Source("x.csv", text), meanings()).rows
    assert (row.product, row.price, row.span.line) == ("primer", 88, 3)


def test_the_currency_is_that_which_the_first_row_names() -> None:
    assert listed("Harbor,primer,,5 gal pail,88,EUR,,,,,\n", currency="").currency == "EUR"


WRONG = {
    # the row: the code, what the place holds
    "H,primer,,5 gal pail,-88,,,,,,": ("price-list", "-88"),
    "H,primer,,5 gal pail,0,,,,,,": ("price-list", "0"),
    "H,primer,,5 gal pail,much,,,,,,": ("price-list", "much"),
    'H,primer,,5 gal pail,"24,50",,,,,,': ("price-list", "24,50"),
    "H,primer,,large bin,88,,,,,,": ("price-list", "large bin"),
    "H,primer,,,88,,,,,,": ("price-list", ""),
    "H,primer,,5 gal pail,88,EUR,,,,,": ("price-currency", "EUR"),
    "H,primer,,5 gal pail,88 EUR,,,,,,": ("price-currency", ""),
    "H,primer,,5 gal pail,88,US$,,,,,": ("price-list", "US$"),
    "H,primer,,5 gal pail,88,,31/12/2026,,,,": ("price-list", "31/12/2026"),
    "H,primer,,5 gal pail,88,,,soon,,,": ("price-list", "soon"),
    "H,primer,,5 gal pail,88,,,,some,,": ("price-list", "some"),
    "H,primer,,5 gal pail,88,,,,,free,": ("price-list", "free"),
    "H,primer,,5 gal pail,88,,,,,,0": ("price-list", "0"),
}


@pytest.mark.parametrize("row", WRONG)
def test_a_row_that_cannot_be_read_is_an_error_at_its_cell(row: str) -> None:
    (told,) = listed(row + "\n").diagnostics
    code, text = WRONG[row]
    assert (told.code, told.severity.value) == (code, "error")
    assert told.span is not None
    assert told.span.line == 2
    assert told.span.text == text or not text


@pytest.mark.parametrize(
    ("row", "code"), [("H,primer,,5 gal pail,,,,,,,", "price-missing"), ("H,door hinge,,each,3,,,,,,", "price-goods")]
)
def test_a_row_of_no_use_is_told_and_left_out(row: str, code: str) -> None:
    found = listed(row + "\nH,primer,,5 gal pail,88,,,,,,\n")
    assert [(d.code, d.severity.value) for d in found.diagnostics] == [(code, "warning")]
    assert [r.product for r in found.rows] == ["primer"]


def test_two_prices_for_one_thing_are_an_error_with_both_places() -> None:
    found = listed("H,primer,,5 gal pail,88,,,,,,\nH,primer,,5 gallon pail,90,,,,,,\n")
    (told,) = found.diagnostics
    assert told.code == "price-twice"
    assert [label.span.line for label in told.labels] == [3, 2]


@pytest.mark.parametrize(
    "second",
    [
        "H,drywall 4x8 1/2 in.,,sheet,12,,,,,,",
        "H,drywall 4x8,1/2 in,sheet,12,,,,,,",
        'H,"wallboard, 4 ft x 8 ft",0.5 in,sheet,12,,,,,,',
    ],
)
def test_two_prices_for_one_thing_are_found_however_it_is_told(second: str) -> None:
    (told,) = listed(f"H,1/2 in. drywall 4x8,,sheet,11,,,,,,\n{second}\n").diagnostics
    assert told.code == "price-twice"


@pytest.mark.parametrize(
    "second",
    [
        "H,primer,,5 gal pail,88,,,,,,",
        "G,primer,,5 gal pail,90,,,,,,",
        "H,primer,,5 gal pail,90,,2026-02-02,,,,",
        "H,primer,,5 gal pail,80,,,,,,10",
    ],
)
def test_what_is_no_second_price(second: str) -> None:
    assert not listed(f"H,primer,,5 gal pail,88,,,,,,\n{second}\n").diagnostics


def test_a_list_without_the_columns_says_which() -> None:
    (told,) = listed("x\n", "product,cost\n").diagnostics
    assert told.code == "price-list"
    assert "no column package and no column price" in told.message


def test_a_hundred_thousand_rows_take_time_in_proportion() -> None:
    def seconds(count: int) -> float:
        rows = "".join(
            f"S{n},gypsum board,{n % 50 + 1}/64 in,sheet,{n % 90 + 10}.{n % 90 + 10},,,,,,\n"
            for n in range(1, count + 1)
        )
        start = time.perf_counter()
        assert len(listed(rows).rows) == count
        return time.perf_counter() - start

    seconds(1000)
    small, large = min(seconds(10_000) for _ in range(2)), seconds(100_000)
    assert large < 25 * small


def test_mistakes_of_one_kind_are_counted_after_some_forty() -> None:
    found = listed("H,primer,,5 gal pail,-1,,,,,,\n" * 100)
    assert len(found.diagnostics) == 41
    assert "60 more rows" in found.diagnostics[-1].message


def test_a_workbook_is_read_as_its_first_sheet_shows_it() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (
        ["Product", "Package", "Price", "Valid until"],
        ["primer", "5 gal pail", 88.05, "2026-03-31"],
        ["drywall", "sheet", 18, None],
    ):
        sheet.append(row)
    data = io.BytesIO()
    book.save(data)
    source, told = decode(data.getvalue(), "harbor.xlsx", table=True)
    assert source is not None, told
    found = read_prices(source, meanings(), "USD")
    assert [(r.product, r.price, r.valid_until, r.span.line) for r in found.rows] == [
        ("primer", Fraction("88.05"), date(2026, 3, 31), 2), ("gypsum board", Fraction(18), None, 3),
    ]  # fmt: skip
