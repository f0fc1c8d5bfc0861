"""Tables of finished jobs, row by row, and what is told of a row that cannot be used."""

from __future__ import annotations

import pytest

from bids import lexicon, meanings, plugins
from darby.bid.history.finished_jobs import JobRow, read_finished
from darby.bid.tasks import operations_of
from darby.labor.rate_lines import vocabulary
from darby.reading.parsing.lexicon import Lexicon
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source

HEAD = "job,product,measured,used,hours,coats,ordered,package,surface,level,leave out,finished\n"


def rows(text: str, head: str = HEAD) -> tuple[tuple[JobRow, ...], tuple[Diagnostic, ...]]:
    words = Lexicon.of((vocabulary(), *lexicon().vocabularies))
    return read_finished([Source("jobs.csv", head + text)], meanings(), operations_of(plugins()), words)


def row(text: str) -> JobRow:
    (one,), told = rows(text)
    assert not told
    return one


def test_goods_with_what_was_used() -> None:
    one = row('Pier,mud,"2,000 sq ft",290 lb,,,320 lb,,,,,2024-06-01\n')
    assert (one.name, one.works, str(one.measured), str(one.spent), str(one.ordered)) == (
        "joint compound", False, "2,000 sq ft", "290 lb", "320 lb",
    )  # fmt: skip
    assert str(one.finished) == "2024-06-01"


def test_packages_may_be_counted() -> None:
    one = row('Pier,joint compound,"2,000 sq ft",4.5,,,5,64 lb pail,,,,\n')
    assert (str(one.spent), str(one.ordered)) == ("288 lb", "320 lb")
    one = row('Pier,joint compound,"2,000 sq ft",2,,,3,case of 4 20 lb pails,,,,\n')
    assert (str(one.spent), str(one.ordered)) == ("160 lb", "240 lb")


def test_work_with_its_hours() -> None:
    one = row('Pier,Hang drywall,"2,000 sq ft",,33.5,,,,wall,,,\n')
    assert (one.name, one.works, str(one.spent), dict(one.about)) == (
        "hang gypsum board",
        True,
        "33.5 hours",
        {"surface": "wall"},
    )


def test_what_is_said_of_goods_is_kept() -> None:
    assert dict(row('Pier,satin finish paint,"2,000 sq ft",9 gal,,2,,,wall,,,\n').about) == {
        "sheen": "satin",
        "surface": "wall",
    }


def test_a_row_may_be_left_out_with_a_reason() -> None:
    assert row('Pier,primer,"2,000 sq ft",9 gal,,,,,,,flooded,\n').left_out == "flooded"


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ('Pier,thatch,"2,000 sq ft",9 gal,,,,,,,,\n', "thatch"),
        ('Pier,hang thatch,"2,000 sq ft",,9,,,,,,,\n', "hang thatch"),
        ("Pier,primer,lots,9 gal,,,,,,,,\n", "lots"),
        ("Pier,apply primer,12,,9,,,,door,,,\n", "12"),
        ('Pier,primer,"2,000 sq ft",-9 gal,,,,,,,,\n', "-9 gal"),
        ('Pier,primer,"2,000 sq ft",0 gal,,,,,,,,\n', "0 gal"),
        ('Pier,primer,"2,000 sq ft",9,,,,,,,,\n', "9"),
        ('Pier,primer,"2,000 sq ft",,,,,,,,,\n', 'Pier,primer,"2,000 sq ft",,,,,,,,,'),
        (",primer,9 sq ft,9 gal,,,,,,,,\n", ",primer,9 sq ft,9 gal,,,,,,,,"),
        ('Pier,hang gypsum board,"2,000 sq ft",,-3,,,,,,,\n', "-3"),
        ('Pier,hang gypsum board,"2,000 sq ft",,0,,,,,,,\n', "0"),
        ('Pier,hang gypsum board,"2,000 sq ft",,,,,,,,,\n', ""),
        ("Pier,hang gypsum board,200 lb,,3,,,,,,,\n", "200 lb"),
        ('Pier,hang gypsum board,"2,000 sq ft",,3,,,,,4,,\n', "4"),
        ('Pier,primer,"2,000 sq ft",9 gal,,1.5,,,,,,\n', "1.5"),
        ('Pier,primer,"2,000 sq ft",9 gal,,,,,,,,31.3.2024\n', "31.3.2024"),
        ('Pier,primer,"2,000 sq ft",9,,,,sack,,,,\n', "9"),
    ],
)
def test_a_row_that_cannot_be_used_is_told_at_its_place(text: str, at: str) -> None:
    _, told = rows(text)
    assert [d.code for d in told] == ["history-row"]
    assert told[0].span is not None
    assert told[0].span.text == at


def test_a_file_without_its_columns_is_told() -> None:
    assert [d.message for d in rows("", "job,used\n")[1]] == ["jobs.csv has no column product and no column measured"]
