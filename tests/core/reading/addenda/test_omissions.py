"""Alternates that only take away: what they leave out, and what is too much for them to be understood."""

from __future__ import annotations

import pytest

from bids import plugins
from darby.reading.addenda.alternates import taken
from darby.reading.addenda.omissions import with_omissions
from darby.reading.read import Language, read
from darby.text.spans import Source

LANGUAGE = Language.of(plugins().readers, plugins().vocabularies).naming(["Storage", "Corridor"])
PAINT = {("primer", "ceiling"), ("finish paint", "ceiling")}


def left_out(clause: str) -> set[tuple[str, str]]:
    """Goods and the surface, or the room, they are left out of."""
    source = Source("spec.txt", f"PART 3\nA. {clause}\n")
    put_in, told = taken([("Alternate 3", source.span(0, 1))], [source], LANGUAGE)
    assert not told
    readings = [read(source, one.layer, LANGUAGE, within=one.view) for one in put_in]
    rules = [rule for reading in with_omissions(put_in, readings, LANGUAGE) for rule in reading.rules]
    assert {(rule.kind.name, rule.choice) for rule in rules} <= {("replaced", "omitted")}
    return {(rule.subject, ", ".join(rule.scope.values())) for rule in rules}


@pytest.mark.parametrize(
    "clause",
    [
        "Alternate 3: Omit painting of ceilings.",
        "Alternate No. 3: Delete all painting on the ceilings.",
        "Alternate 3: Ceilings: no paint.",
        "Alternate 3: Do not paint ceilings.",
        "Alternate 3: Eliminate painting of ceilings.",
        "Alternate 3: Omit primer and finish paint on ceilings.",
        "Deduct Alternate 3: Painting of ceilings.",
        "Alternate 3: Deduct painting of ceilings.",
    ],
)
def test_painting_is_primer_and_paint(clause: str) -> None:
    assert left_out(clause) == PAINT


@pytest.mark.parametrize(
    ("clause", "found"),
    [
        ("Omit primer on walls.", {("primer", "wall")}),
        ("Omit finish paint on walls and ceilings.", {("finish paint", "wall"), ("finish paint", "ceiling")}),
        ("Delete gypsum board on ceilings.", {("gypsum board", "ceiling")}),
        ("Omit painting in the storage.", {("primer", "storage"), ("finish paint", "storage")}),
        ("Omit all painting.", {("primer", ""), ("finish paint", "")}),
        ("Paint the corridor. Omit painting in the storage.", {("primer", "storage"), ("finish paint", "storage")}),
    ],
)
def test_goods_and_places(clause: str, found: set[tuple[str, str]]) -> None:
    assert {(goods, where.casefold()) for goods, where in left_out(f"Alternate 3: {clause}")} == found


@pytest.mark.parametrize(
    "clause",
    [
        "Omit painting in Building B.",
        "Omit the second coat of finish paint on walls.",
        "Omit painting of ceilings over 12 ft high.",
        "Omit painting of ceilings except in the corridor.",
        "Omit satin paint on walls.",
        "Painting of ceilings.",
        "Omit the carpet.",
        "Omit painting of ceilings if the owner so directs.",
        "Delete the Level 5 finish on walls.",
        "Do not omit painting of ceilings.",
        "Paint walls; no paint on ceilings.",
    ],
)
def test_what_is_more_than_that_is_left_unread(clause: str) -> None:
    assert left_out(f"Alternate 3: {clause}") == set()


def test_an_alternate_of_which_something_is_read_leaves_nothing_out() -> None:
    source = Source("spec.txt", "A. Deduct Alternate 3: One coat finish paint on ceilings.\n")
    put_in, _ = taken([("3", source.span(0, 1))], [source], LANGUAGE)
    readings = [read(source, one.layer, LANGUAGE, within=one.view) for one in put_in]
    assert [(r.kind.name, r.says()) for one in with_omissions(put_in, readings, LANGUAGE) for r in one.rules] == [
        ("coats", "1")
    ]
