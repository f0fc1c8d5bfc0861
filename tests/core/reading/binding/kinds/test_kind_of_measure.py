"""Bare measures: what a length, a content, a percentage or a plain number is, by whose it is and how large it is."""

from __future__ import annotations

import pytest

from reads import left, said

READ = {
    "Nails 40 mm at 150 mm centres on walls.":
        ["fastener length of nail (surface wall): 40 mm", "spacing of nail (surface wall): 150 mm"],
    "Screws 38 mm long at 230 mm on walls.":
        ["fastener length of screw (surface wall): 38 mm", "spacing of screw (surface wall): 230 mm"],
    "Screws on walls: 16 in.": ["spacing of screw (surface wall): 16 in"],
    "Waste: board 10 %, primer 5 %.": ["waste of gypsum board: 10 %", "waste of primer: 5 %"],
    "Solids by volume of primer: 40 %.": ["solids of primer: 40 %"],
    "One primer, two satin on walls.":
        ["coats of primer (surface wall): 1", "coats of finish paint (sheen satin, surface wall): 2"],
    "Max. spacing of screws: walls 16 in., ceilings 12 in.":
        ["spacing of screw (surface wall): at most 16 in", "spacing of screw (surface ceiling): at most 12 in"],
    "Product | Spread (sq ft/gal)\nPrimer | 300\nFinish paint | 400":
        ["coverage of primer: 300 sq ft per 1 gal", "coverage of finish paint: 400 sq ft per 1 gal"],
    "Product | Need per 100 sq ft\nJoint compound | 14 lb\nJoint tape | 35 ft":
        ["consumption of joint compound: 14 lb per 100 sq ft", "consumption of joint tape: 35 ft per 100 sq ft"],
    "Room | Coats | Sheen\nHall | 2 | satin\nBath | 3 | gloss":
        ["coats of finish paint (room hall, sheen satin): 2", "coats of finish paint (room bath, sheen gloss): 3"],
    "Walls | Ceilings\n2 coats satin | 1 coat flat":
        ["coats of finish paint (sheen satin, surface wall): 2", "coats of finish paint (sheen flat, surface ceiling): 1"],
}  # fmt: skip


@pytest.mark.parametrize("text", READ)
def test_a_bare_measure_is_what_its_size_and_the_words_around_it_say(text: str) -> None:
    assert said(text) == READ[text]


LEFT = {
    "Screws: 16 in.": {"16": "a length, and nothing says what it measures"},
    "Screws on walls: 90 in.": {"90": "a length, and nothing says what it measures"},
    "3-5/8 in. studs at 16 in. o.c.": {"3-5/8": "the size of a support"},
    "Tape and corner bead: 300 ft.": {"300": "a length, and nothing says what it measures"},
    "Walls: 16 in.": {"16": "a length, and nothing says of what"},
    "Walls: 5 %.": {"5": "a percentage, and nothing says of what"},
    "Walls: 200 sq ft.": {"200": "an area, and nothing says what for"},
    "Walls: 7.": {"7": "a number without a unit"},
    "Adhesive: 28 oz each.": {"28": "an amount, and nothing says what for"},
}  # fmt: skip


@pytest.mark.parametrize("text", LEFT)
def test_what_nothing_settles_is_left_with_the_reason(text: str) -> None:
    assert left(text) == LEFT[text]
