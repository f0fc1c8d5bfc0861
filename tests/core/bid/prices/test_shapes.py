"""Which numbers of a description are free to differ, so that one of its kind is taken apart for all."""

from __future__ import annotations

import random

import pytest

from bids import lexicon
from darby.bid.prices.shapes import FREE, Shapes, share_tags
from darby.reading.parsing.tagging.tag import Tag

STOCK = lexicon().stock
SHAPES = Shapes((*STOCK.phrases, *STOCK.after_number, *STOCK.after_unit))


def shape(text: str) -> str:
    return SHAPES.of(text).replace(FREE, "_")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("5/64 in. drywall 4x57", "_/__ in. drywall _x__"), ("drywall no. 5,250", "drywall no. _,___"), ("primer P-45", "primer P-__"),
        ("15.5 mm board", "__._ mm board"), ("45lb pail", "__lb pail"), ("board 4 x 57", "board _ x __"), ("paint 57 stone", "paint __ stone"),
    ],
)  # fmt: skip
def test_numbers_that_mean_their_value_alone(text: str, said: str) -> None:
    assert shape(text) == said


@pytest.mark.parametrize(
    "text",
    [
        "ft2",
        "S-12",
        "2 times",
        "1/2 bath",
        "100% acrylic",
        "4th",
        "4 th",
        "5I8",
        "5/B",
        "9S sq ft",
        "0.00",
        "m2",
        "7/07",
        "01",
    ],
)
def test_numbers_that_mean_more(text: str) -> None:
    """Those of a phrase of ours, an ordinal, what a scanner made of a number, and noughts."""
    assert FREE not in SHAPES.of(text).removeprefix(FREE + "/")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2019", "20__"), ("1999", "19__"), ("3456", "____"), ("W45", "W4_"), ("4/5 in 57", "_/_ in __"), ("7/7 in 57", "_/7 in __"),
        ("1 in 57", "1 in __"), ("4/0", "_/0"), ("0.05", "0.__"),
    ],
)  # fmt: skip
def test_what_stays_of_a_number(text: str, said: str) -> None:
    """A year, the first digit behind a letter, a share of one, nothing below a bar."""
    assert shape(text) == said


PIECES = (
    "drywall,joint compound,PVA primer,satin paint,no.,No. ,#,in,in.,ft,mm,mil,',\",lb,gal,x,/,-,.,:,type ,level ,Level ,IS ,ASTM C,P-,DW,"
    "May ,th,st,l,I,S,B,O,Y,or more,%,½,m2,coats,a,o.c.,at,as ,per "
).split(",")


def varied(draw: random.Random, text: str) -> str:
    """The same with other digits where they are free."""
    shape = SHAPES.of(text)
    return "".join(draw.choice("0123456789") if sign == FREE else kept for sign, kept in zip(shape, text, strict=True))


def test_texts_of_one_shape_have_tags_of_one_kind_in_the_same_places() -> None:
    draw = random.Random(20)
    alike = 0
    for _ in range(3_000):
        one = "".join(
            draw.choice((str(draw.randrange(10 ** draw.randint(1, 4))), draw.choice(PIECES), " "))
            for _ in range(draw.randint(3, 12))
        )
        other = varied(draw, one)
        first = lexicon().tags(one)
        if one == other or SHAPES.of(other) != SHAPES.of(one) or not share_tags(first):
            continue
        alike += 1
        said = [[(t.name, t.start, t.end) for t in tags] for tags in (first, lexicon().tags(other))]
        assert said[0] == said[1], (one, other)
    assert alike > 500


@pytest.mark.parametrize(
    ("text", "shared"),
    [
        ("drywall 4' x 8'", True), ("trim 8'-6\"", False), ("trim 8 ft 6 in", False), ("trim 8 ft. 14 in.", False), ("board 5/8 in.", True),
    ],
)  # fmt: skip
def test_inches_behind_feet_are_joined_with_them_or_not_by_how_many_they_are(text: str, shared: bool) -> None:
    tags: list[Tag] = lexicon().tags(text)
    assert share_tags(tags) is shared
