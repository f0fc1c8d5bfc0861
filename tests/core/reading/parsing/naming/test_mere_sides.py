"""Words for a place on a sheet that only tell one surface from another."""

from __future__ import annotations

import pytest

from darby.reading.parsing.naming.mere_sides import without_mere_sides
from reads import language


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("board on perimeter walls only", ["perimeter walls"]),
        ("perimeter channels at 600 mm", []),
        ("screws at the perimeter of walls", ["edge"]),
        ("pins 12 in. in the field", ["field"]),
        ("edges of walls", ["edge"]),
    ],
)
def test_a_side_right_before_a_surface_says_which_surface(text: str, where: list[str]) -> None:
    tags = language().lexicon.tags(text)
    assert [t.value for t in without_mere_sides(tags, text) if t.name == "where"] == where
