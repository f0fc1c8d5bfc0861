"""What a column is taken for by its head."""

from __future__ import annotations

import pytest

from darby.job.loader import KINDS
from darby.job.schedules.heads import Head, adds_up, head_of, plain, unit_of

KNOWN = ["what", *dict.fromkeys(key for keys in KINDS.values() for key in keys), "color"]


@pytest.mark.parametrize(
    ("said", "key", "unit"),
    [
        ("length", "length", ""),
        ("Length", "length", ""),
        ("Outside Corners", "outside_corners", ""),
        ("L", "length", ""),
        ("L (ft)", "length", "ft"),
        ("L [m]", "length", "m"),
        ("Length, ft", "length", "ft"),
        ("Length ft.", "length", "ft"),
        ("Length in feet", "length", "ft"),
        ("Depth in", "depth", "in"),
        ("LENGTH (MM)", "length", "mm"),
        ("Ceiling Height", "height", ""),
        ("Ceiling   Height (m)", "height", "m"),
        ("Clg. Ht.", "height", ""),
        ("Area (sq ft)", "area", "sq ft"),
        ("Floor area, m²", "area", "m2"),
        ("Area (SF)", "area", "sq ft"),
        ("Room Name", "name", ""),
        ("Room No.", "number", ""),
        ("Qty", "count", ""),
        ("Level", "floor", ""),
        ("Colour", "color", ""),
        ("Wall finish", "walls", ""),
    ],
)
def test_a_head_is_taken_for_a_key_and_its_unit(said: str, key: str, unit: str) -> None:
    found = head_of(said, KNOWN)
    assert (found.key, found.unit, found.aside) == (key, unit, False)
    assert found.is_plain is (plain(said) == key and not unit)


@pytest.mark.parametrize(
    ("said", "key"),
    [("Length (sq ft)", "length_(sq_ft)"), ("Area (ft)", "area_(ft)"), ("Fire rating", "fire_rating"), ("Level (ft)", "level_(ft)")],
)  # fmt: skip
def test_a_head_that_is_nothing_known_stays_as_it_is(said: str, key: str) -> None:
    assert head_of(said, KNOWN) == Head(key, said=said)


@pytest.mark.parametrize("said", ["Notes", "REMARKS", "Dwg.", "Checked by"])
def test_some_columns_say_that_they_order_nothing(said: str) -> None:
    assert head_of(said, KNOWN).aside


def test_a_key_that_is_known_beats_every_other_word() -> None:
    assert head_of("Notes", [*KNOWN, "notes"]) == Head("notes", said="Notes")
    assert head_of("Level", [*KNOWN, "level"]).key == "level"


@pytest.mark.parametrize(
    ("text", "unit"),
    [("ft", "ft"), ("(FT)", "ft"), ("sq. ft", "sq ft"), ("SF", "sq ft"), ("gal", ""), ("12", ""), ("", ""), ("by", ""), ("12 ft", "")],
)  # fmt: skip
def test_a_unit_is_one_of_length_or_area(text: str, unit: str) -> None:
    assert unit_of(text) == unit


def test_a_row_adds_up_others_where_it_says_so() -> None:
    assert [adds_up(text) for text in ("TOTAL", "Sub  total", "Grand Total", "Total wine store", "Sum")] == [
        True, True, True, False, True,
    ]  # fmt: skip
