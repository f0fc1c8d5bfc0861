"""The unit that a document gives all its sizes once, and what it stands behind."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.reading.document.shared_unit import shared_unit
from darby.reading.layout.clause import Clause
from darby.reading.parsing.whole_labels import of_all
from darby.text.spans import Source, View
from reads import language, read_text, said


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("All dims mm.", "mm"),
        ("ALL DIMENSIONS ARE IN MILLIMETRES UNLESS NOTED OTHERWISE", "mm"),
        ("Dimensions in mm", "mm"),
        ("Sizes (mm)", "mm"),
        ("All dimensions are in inches unless noted otherwise.", "in"),
        ("The panels of this range have dimensions in mm as the maker prints them", None),
        ("All dimensions in the drawings rule.", None),
    ],
)
def test_a_unit_is_that_of_all_sizes_where_nothing_else_is_said(text: str, unit: str | None) -> None:
    lexicon = language().lexicon
    found = shared_unit([Clause(View.of(Source("s.txt", text)))], lexicon, of_all(lexicon.vocabularies))
    assert (found.name if found is not None else None) == unit


def test_it_stands_behind_what_measures_and_behind_nothing_else() -> None:
    notes = "Dimensions in mm.\nScrews at 230 centres on ceilings.\nRoom 204: level 4.\nTwo coats eggshell in 12 rooms."
    assert said(notes) == [
        "spacing of screw (surface ceiling): 230 mm",
        "finish level of gypsum board (room room 204): 4",
        "coats of finish paint (sheen eggshell): 2",
    ]


def test_two_units_for_all_are_none() -> None:
    assert said("Dimensions in mm.\nSizes in inches.\nScrews at 60 centres on ceilings.") == []


FASTENING = """CEDAR BLUFF
All dimensions in inches.

SCREWS, SINGLE LAYER
            LENGTH     FIELD     EDGES   BOXES   COATS
Walls       1-1/4      16        12      8       2
"""


def test_numbers_alone_below_a_head_that_measures_have_the_unit_of_the_document() -> None:
    said = {
        (r.kind.name, r.amount.value) for r in read_text(FASTENING).rules if r.amount and r.amount.unit.name == "in"
    }
    assert said == {("fastener length", Fraction(5, 4)), ("spacing", Fraction(16)), ("spacing", Fraction(12))}


def test_without_a_unit_said_once_they_stay_open() -> None:
    assert not [
        r
        for r in read_text(FASTENING.replace("All dimensions in inches.", "Fastening")).rules
        if r.kind.name == "spacing"
    ]
