"""Codes that are used as the marks of systems and that nothing defines."""

from __future__ import annotations

import pytest

from reads import asked

LEGEND = "\nP-1: one coat primer, two coats eggshell."


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        ("Guest room walls P-1; headboard wall P-4.", ["P-4"]),
        ("Den walls P-1; end wall P-7; column C-4.", ["P-7"]),
        ("Walls P-1. See detail P-9.", []),
        ("Room | Walls | Ceiling\nDen | P-1 | P-3\nHall | P-1 | P-1", ["P-3"]),
    ],
)
def test_a_mark_that_nothing_defines_is_asked_about_where_it_is_given(text: str, codes: list[str]) -> None:
    assert asked(text + LEGEND) == [f"“{code}”: a mark that nothing in this document defines" for code in codes]
