"""Columns of partition types that say nothing of board."""

from __future__ import annotations

import pytest

from reads import read_text

TYPES = """PARTITION TYPES

TYPE   STUD      {}    SIDE A              SIDE B               {}
A1     3-5/8"    16" O.C.   (1) 5/8" TYPE X     (1) 5/8" TYPE X      {}
A2     6"        24" O.C.   (2) 5/8" TYPE X     (1) 5/8" TYPE X      DECK
"""


@pytest.mark.parametrize("spacing", ["SPACING", "O.C.   "])
def test_how_far_apart_supports_are_stands_beside_their_size(spacing: str) -> None:
    rules = [rule for rule in read_text(TYPES.format(spacing, "HT.", "DECK")).rules if rule.kind.name == "framing"]
    assert [(rule.scope["mark"], str(rule.amount.value)) for rule in rules] == [("A1", "16"), ("A2", "24")]
    assert not any(rule.confirm for rule in rules)


@pytest.mark.parametrize("height", ['CLG+6"', "CEILING", "9'-0\""])
def test_a_column_of_heights_says_on_which_surface_nothing_goes(height: str) -> None:
    rules = read_text(TYPES.format("SPACING", "HT.", height)).rules
    assert rules
    assert {rule.scope.get("surface") for rule in rules} == {"wall"}
