"""Counts of coats and layers that are orders, and those that only speak of some."""

from __future__ import annotations

import pytest

from reads import said

TWO = "coats of finish paint (sheen satin, surface wall): 2"


@pytest.mark.parametrize(
    "more",
    [
        "Second coat after 4 hours.",
        "Apply the second coat when the first coat is dry.",
        "Allow the first coat to dry overnight.",
        "Sand lightly before the second coat.",
        "Do not apply the second coat within 6 hours.",
    ],
)
def test_a_coat_that_is_only_spoken_of_adds_none(more: str) -> None:
    assert said(f"Walls: two coats satin. {more}") == [TWO]


def test_coats_that_nothing_counts_together_are_one_each() -> None:
    assert said("Doors: first coat undercoat, second coat gloss.") == [
        "coats of primer (coat first, surface door): 1",
        "coats of finish paint (coat second, sheen gloss, surface door): 1",
    ]


@pytest.mark.parametrize("text", ["Fix single layer with 32 mm screws.", "Double layer: screws 42 mm long."])
def test_layers_that_say_for_what_a_fastener_is_order_none(text: str) -> None:
    assert not [rule for rule in said(text) if rule.startswith("layers")]


def test_layers_beside_what_is_laid_are_ordered() -> None:
    assert "layers of gypsum board: 1" in said("Single layer 12.5 mm plasterboard, 32 mm screws at 300 mm centres.")
