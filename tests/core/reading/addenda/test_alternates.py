"""Alternates of documents: which there are, and what those that are taken say."""

from __future__ import annotations

import pytest

from bids import plugins
from darby.reading.addenda.alternates import alternates_in, named, taken
from darby.reading.read import Language
from darby.rules.rule import OVERRIDE, addendum
from darby.text.spans import Source, Span

LANGUAGE = Language.of(plugins().readers, plugins().vocabularies)

SPEC = """SECTION 01 23 00 - ALTERNATES
3.01 SCHEDULE OF ALTERNATES
A. Alternate No. 1: Level 5 finish
   1. Base bid: Level 4 finish on all walls.
   2. Alternate: Level 5 finish on walls.
B. Alternate 2: Three coats finish paint on walls in place of two coats.
C. Add Alternate 3. Provide 5/8 in. thick type X gypsum board on ceilings.
D. The alternates are open for sixty days.

SECTION 09 91 23 - INTERIOR PAINTING
A. Walls: two coats finish paint.
B. Alternate A - Ceilings: one coat finish paint.
C. See Alternate 2 for walls.

DEDUCT ALTERNATE #4
Ceilings: no finish paint.
Omit primer on ceilings.
"""


def found(text: str = SPEC) -> dict[str, tuple[str, list[str]]]:
    return {
        a.number: (a.title, [" ".join(v.text.split()) for v in a.body])
        for a in alternates_in(Source("spec.txt", text), LANGUAGE)
    }


def wanted(*names: str) -> list[tuple[str, Span]]:
    source = Source("job.toml", "\n".join(names))
    return [(name, source.span(source.text.index(name), source.text.index(name) + len(name))) for name in names]


def test_each_with_what_it_says_and_without_what_is_bid_anyway() -> None:
    assert found() == {
        "1": ("Level 5 finish", ["Level 5 finish on walls."]),
        "2": (
            "Three coats finish paint on walls in place of two coats.",
            ["Three coats finish paint on walls in place of two coats."],
        ),
        "3": (
            "Provide 5/8 in. thick type X gypsum board on ceilings.",
            ["Provide 5/8 in. thick type X gypsum board on ceilings."],
        ),
        "A": ("Ceilings: one coat finish paint.", ["Ceilings: one coat finish paint."]),
        "4": ("", ["Ceilings: no finish paint.", "Omit primer on ceilings."]),
    }


def test_a_document_without_any_has_none() -> None:
    assert found("Walls: two coats. See the alternates. Alternate fasteners at edges.\n") == {}


def test_one_that_is_opened_twice_is_one() -> None:
    assert found("Alternate 1: Walls: three coats.\nAlternate 1: Ceilings: one coat.\n")["1"][1] == [
        "Walls: three coats.",
        "Ceilings: one coat.",
    ]


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("Alternate 2", "2"),
        ("alt. 2", "2"),
        ("2", "2"),
        ("Alternate No. 12", "12"),
        ("Add Alternate #3", "3"),
        ("alternate a", "A"),
        ("2b", "2B"),
        ("", ""),
        ("the second", ""),
    ],
)
def test_names(text: str, number: str) -> None:
    assert named(text) == number


def test_what_is_taken_stands_above_every_addendum_and_below_ones_own_lines() -> None:
    views, told = taken(wanted("Alternate 2", "alt. 4"), [Source("spec.txt", SPEC)], LANGUAGE)
    assert not told
    assert [one.view.whole.line for one in views] == [6, 16, 17]
    layers = [one.layer for one in views]
    assert layers[0] < layers[1] == layers[2] < OVERRIDE
    assert all(layer > addendum(99) for layer in layers)
    assert layers[0].name == "alternate 2"


def test_one_that_no_document_has_is_an_error_at_its_place() -> None:
    _, (told,) = taken(wanted("Alternate 9"), [Source("spec.txt", SPEC)], LANGUAGE)
    assert (told.code, told.severity.value) == ("alternate-unknown", "error")
    assert told.span is not None
    assert told.span.text == "Alternate 9"
    assert "Alternate 1, Alternate 2, Alternate 3, Alternate A, Alternate 4" in told.help


def test_one_that_says_nothing_is_told() -> None:
    views, (told,) = taken(wanted("Alternate 7"), [Source("spec.txt", "Alternate 7:\n")], LANGUAGE)
    assert not views
    assert told.code == "alternate-silent"


def test_nothing_is_looked_for_where_nothing_is_taken() -> None:
    assert taken([], [Source("spec.txt", SPEC)], LANGUAGE) == ([], [])
