"""What is said of one layer beside a count of several is of that layer alone."""

from __future__ import annotations

import pytest

from reads import said


@pytest.mark.parametrize(
    ("text", "rules"),
    [
        ("Two layers on walls of Gym, the face layer impact resistant.",
         ["layers of gypsum board (room gym, surface wall): 2",
          "type of gypsum board (layer face, room gym, surface wall): impact resistant"]),
        ("Walls: two layers 15 mm, outer layer moisture resistant.",
         ["layers of gypsum board (surface wall): 2", "thickness of gypsum board (surface wall): 15 mm",
          "type of gypsum board (layer face, surface wall): moisture resistant"]),
        ("Walls: one layer 15 mm, impact resistant.",
         ["layers of gypsum board (surface wall, type impact resistant): 1",
          "thickness of gypsum board (surface wall, type impact resistant): 15 mm"]),
    ],
)  # fmt: skip
def test_a_sort_behind_a_layer_is_of_that_layer_and_the_count_of_all(text: str, rules: list[str]) -> None:
    assert said(text) == rules
