"""Bare lengths: spacings, lengths of fasteners, sizes of supports, by whose they are and how large."""

from __future__ import annotations

import pytest

from reads import left, said

READ = {
    "Nails 40 mm at 150 mm centres on walls.":
        ["fastener length of nail (surface wall): 40 mm", "spacing of nail (surface wall): 150 mm"],
    "Screws 38 mm long at 230 mm on walls.":
        ["fastener length of screw (surface wall): 38 mm", "spacing of screw (surface wall): 230 mm"],
    "Screws on walls: 16 in.":
        ["spacing of screw (surface wall): 16 in"],
    "Max. spacing of screws: walls 16 in., ceilings 12 in.":
        ["spacing of screw (surface wall): at most 16 in", "spacing of screw (surface ceiling): at most 12 in"],
}  # fmt: skip


@pytest.mark.parametrize("text", READ)
def test_it_is_what_its_size_and_the_words_around_it_say(text: str) -> None:
    assert said(text) == READ[text]


LEFT = {
    "Screws: 16 in.": {"16": "a length, and nothing says what it measures"},
    "Screws on walls: 90 in.": {"90": "a length, and nothing says what it measures"},
    "3-5/8 in. studs at 16 in. o.c.": {"3-5/8": "the size of a support"},
    "Tape and corner bead: 300 ft.": {"300": "a length, and nothing says what it measures"},
    "Walls: 16 in.": {"16": "a length, and nothing says of what"},
}  # fmt: skip


@pytest.mark.parametrize("text", LEFT)
def test_what_nothing_settles_is_left_with_the_reason(text: str) -> None:
    assert left(text) == LEFT[text]
