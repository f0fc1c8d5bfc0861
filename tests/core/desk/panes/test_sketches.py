"""Sketches to scale: sides in proportion, everything within its box."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.desk.panes.sketches import sketch_of
from desk import estimated


def made(job: str) -> list[object]:
    return list(estimated(job).job.surfaces)


@pytest.mark.parametrize(("length", "width"), [("12 ft", "10 ft"), ("40 ft", "5 ft"), ("3.2 m", "6.4 m")])
def test_the_plan_of_a_room_has_its_proportions(length: str, width: str) -> None:
    sketch = sketch_of(
        "rooms", made(f'[[rooms]]\nname = "A"\nlength = "{length}"\nwidth = "{width}"\nheight = "8 ft"\n')
    )
    assert sketch is not None
    outline = sketch.outline
    wanted = Fraction(length.split(maxsplit=1)[0]) / Fraction(width.split(maxsplit=1)[0])
    assert abs(Fraction(outline.width, outline.height) / wanted - 1) < Fraction(1, 10)
    assert outline.width <= 150
    assert outline.height <= 90
    assert sketch.said == f"Plan: {length} by {width}"


def test_openings_stand_in_their_wall() -> None:
    sketch = sketch_of("walls", made(
        '[[walls]]\nname = "W"\nlength = "20 ft"\nheight = "8 ft"\nfaces = 1\n'
        '[[openings]]\nname = "door"\nwall = "W"\nwidth = "3 ft"\nheight = "7 ft"\ncount = 2\n'
    ))  # fmt: skip
    assert sketch is not None
    assert len(sketch.inside) == 2
    for box in sketch.inside:
        assert 0 <= box.x <= box.x + box.width <= sketch.outline.width
        assert box.y + box.height == sketch.outline.height
    assert sketch.said.endswith("2 openings")


def test_what_has_no_sides_is_not_drawn() -> None:
    assert sketch_of("walls", made('[[walls]]\nname = "W"\narea = "100 sq ft"\nfaces = 1\n')) is None
    assert sketch_of("rooms", []) is None
    assert sketch_of("openings", []) is None
