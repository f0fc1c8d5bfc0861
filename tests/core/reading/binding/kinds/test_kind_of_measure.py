"""Bare measures that are no length and no number: contents, areas, rates whose other half is the head of a column."""

from __future__ import annotations

import pytest

from reads import left, said

READ = {
    "Product | Spread (sq ft/gal)\nPrimer | 300\nFinish paint | 400":
        ["coverage of primer: 300 sq ft per 1 gal", "coverage of finish paint: 400 sq ft per 1 gal"],
    "Product | Need per 100 sq ft\nJoint compound | 14 lb\nJoint tape | 35 ft":
        ["consumption of joint compound: 14 lb per 100 sq ft", "consumption of joint tape: 35 ft per 100 sq ft"],
    "Walls | Ceilings\n2 coats satin | 1 coat flat":
        ["coats of finish paint (sheen satin, surface wall): 2", "coats of finish paint (sheen flat, surface ceiling): 1"],
}  # fmt: skip


@pytest.mark.parametrize("text", READ)
def test_it_is_what_its_size_and_the_words_around_it_say(text: str) -> None:
    assert said(text) == READ[text]


LEFT = {
    "Walls: 200 sq ft.": {"200": "an area, and nothing says what for"},
    "Adhesive: 28 oz each.": {"28": "an amount, and nothing says what for"},
}  # fmt: skip


@pytest.mark.parametrize("text", LEFT)
def test_what_nothing_settles_is_left_with_the_reason(text: str) -> None:
    assert left(text) == LEFT[text]
