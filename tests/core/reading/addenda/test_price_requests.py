"""Unit prices that documents ask for: what is asked, for how much, and that none of it becomes a rule."""

from __future__ import annotations

import pytest

from bids import plugins
from darby.reading.addenda.price_requests import named, price_requests
from darby.reading.read import Language, read
from darby.rules.rule import SPECIFICATION
from darby.text.spans import Source

LANGUAGE = Language.of(plugins().readers, plugins().vocabularies)


def asked(text: str) -> list[tuple[str, str, str]]:
    found = price_requests(Source("spec.txt", text), LANGUAGE)
    return [(named(one), str(one.per) if one.per is not None else one.said, one.what) for one in found]


@pytest.mark.parametrize(
    ("text", "name", "per", "what"),
    [
        (
            "Unit Price No. 1: Additional Level 5 finish on walls, per 100 sq ft.",
            "Unit price 1",
            "100 sq ft",
            "Additional Level 5 finish on walls",
        ),
        ("Unit Price 2A - Corner bead, per linear foot.", "Unit price 2A", "1 ft", "Corner bead"),
        (
            "Provide a unit price per 100 sq ft of additional Level 5 finish.",
            "Unit price",
            "100 sq ft",
            "additional Level 5 finish",
        ),
        (
            "State unit price for painting of ceilings, per square yard.",
            "Unit price",
            "1 sq yd",
            "painting of ceilings",
        ),
        ("UP-4: Price per m2 of additional plasterboard.", "Unit price 4", "1 m²", "additional plasterboard"),
        ("Unit price 5: painting of doors, per door.", "Unit price 5", "per door", "painting of doors"),
        (
            "Unit prices: state a price per 100 sq ft of additional primer.",
            "Unit price",
            "100 sq ft",
            "additional primer",
        ),
        ("Unit price 6: more tape, per 10 m.", "Unit price 6", "10 m", "more tape"),
    ],
)
def test_what_is_asked(text: str, name: str, per: str, what: str) -> None:
    ((told, measure, said),) = asked(f"A. {text}\n")
    assert (told, measure.replace("m2", "m²"), said) == (name, per, what)


def test_a_list_under_a_heading() -> None:
    text = "1.04 UNIT PRICES\nA. State the price of the following:\n1. Level 5 finish on ceilings, per 100 sq ft.\n2. Corner bead, per foot.\n"
    assert [(per, what) for _, per, what in asked(text)] == [
        ("100 sq ft", "Level 5 finish on ceilings"),
        ("1 ft", "Corner bead"),
    ]


@pytest.mark.parametrize(
    "text",
    [
        "A. Joint compound: 14 lb per 100 sq ft.",
        "A. Unit prices include labor and material.",
        "A. Unit prices: see section 01 22 00.",
        "A. The price per drawing is on file.",
    ],
)
def test_what_asks_for_none(text: str) -> None:
    assert asked(text) == []


def test_none_of_it_is_ordered() -> None:
    text = (
        "SECTION 09 29 00 - GYPSUM BOARD\nA. Unit Price No. 1: Two layers of 5/8 in. type X gypsum board on walls, per sq ft.\n"
        "1.04 UNIT PRICES\nA. State the price of the following:\n1. Level 5 finish on ceilings, per 100 sq ft.\n"
    )
    assert not read(Source("spec.txt", text), SPECIFICATION, LANGUAGE).rules
