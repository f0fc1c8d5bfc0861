"""Whose a section is, by its number and title."""

from __future__ import annotations

import pytest

from darby.reading.layout.clause import Section
from darby.reading.ownership import Owner, Ownership
from reads import language


@pytest.mark.parametrize(("number", "title", "owner"), [
    ("09 29 00", "GYPSUM BOARD", Owner.OURS),
    ("092900", "", Owner.OURS),
    ("09 21 16.23", "GYPSUM BOARD SHAFT WALLS", Owner.OURS),
    ("09250", "GYPSUM BOARD", Owner.OURS),
    ("K10", "DRY LININGS", Owner.OURS),
    ("09 00 00", "FINISHES", Owner.OURS),
    ("09 91 23", "INTERIOR PAINTING", Owner.OURS),
    ("09 90 00", "PAINTING AND COATING", Owner.OURS),
    ("09 98 76", "DECORATING OF SHOPS", Owner.OURS),
    ("09 91 13", "EXTERIOR PAINTING", Owner.OUTSIDE),
    ("09 90 00", "EXTERIOR PAINTING", Owner.OUTSIDE),
    ("09 90 00", "INTERIOR AND EXTERIOR PAINTING", Owner.OURS),
    ("09 22 16", "NON-STRUCTURAL METAL FRAMING", Owner.UNKNOWN),
    ("09 96 00", "HIGH-PERFORMANCE COATINGS", Owner.UNKNOWN),
    ("32 17 23", "PAINTING OF PAVEMENTS", Owner.UNKNOWN),
    ("09 30 00", "TILING", Owner.OTHER),
    ("07 56 00", "FLUID-APPLIED ROOFING", Owner.OTHER),
    ("08 11 13", "", Owner.OTHER),
    ("", "PAINTING", Owner.OURS),
    ("", "ROOFING", Owner.OTHER),
    ("", "CONDITIONS OF THE CONTRACT", Owner.UNKNOWN),
])  # fmt: skip
def test_a_section_is_whose_its_number_and_title_say(number: str, title: str, owner: Owner) -> None:
    assert language().ownership.owner(Section(number, title)) is owner


def test_behind_its_end_nothing_is_known() -> None:
    assert language().ownership.owner(Section("09 29 00", "GYPSUM BOARD", ended=True)) is Owner.UNKNOWN


def test_a_division_without_a_title_goes_by_its_number() -> None:
    ownership = language().ownership
    assert ownership.owner(Section("09", "", division=True)) is Owner.OURS
    assert ownership.owner(Section("22", "PLUMBING", division=True)) is Owner.OTHER
    assert ownership.owner(Section("02", "EAST WING", division=True)) is Owner.UNKNOWN


def test_where_nothing_is_declared_everything_is_ours() -> None:
    assert Ownership.of([]).owner(Section("07 56 00", "ROOFING")) is Owner.OURS


def test_a_plugin_declares_sections_of_its_own() -> None:
    ownership = Ownership.of(
        [{"sections": {"numbers": ["07 21 00"], "titles": ["insulation"], "outright": ["mineral wool"]}}]
    )
    assert ownership.owner(Section("07 21 13", "BOARD INSULATION")) is Owner.OURS
    assert ownership.owner(Section("09 29 00", "GYPSUM BOARD")) is Owner.OTHER
    assert ownership.outright("Mineral wool behind the lath.")
    assert not ownership.outright("Mineral woollen goods.")


def test_paint_is_nobody_s_outright_and_board_is_ours() -> None:
    assert language().ownership.outright("Anchors in gypsum board walls.")
    assert not language().ownership.outright("Two coats of paint and a primer.")


def test_a_vocabulary_that_declares_nothing_has_its_goods_counted_by_their_names() -> None:
    ownership = Ownership.of(
        [{"subject": {"lath": ["expanded lath", "mesh", "xl"]}}, {"sections": {"titles": ["plaster"]}}]
    )
    assert ownership.outright("Expanded lath at 16 in.")
    assert not ownership.outright("XL at 16 in.")
