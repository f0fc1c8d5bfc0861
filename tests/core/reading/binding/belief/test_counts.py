"""Several counts of one sentence that are not all orders."""

from __future__ import annotations

import pytest

from reads import asked, said


@pytest.mark.parametrize(
    "text",
    [
        "Doors: one coat enamel over primer; two coats enamel over bare metal.",
        "Two coats eggshell over primer, one coat eggshell over sound paint.",
    ],
)
def test_two_counts_told_apart_by_what_they_go_over_are_asked_about(text: str) -> None:
    assert not said(text)
    assert all("which of these there is is not said" in message for message in asked(text))


def test_counts_of_two_products_or_two_places_stand() -> None:
    assert len(said("Doors: one coat enamel over one coat primer.")) == 2
    assert len(said("Walls: one coat flat over primer; ceilings: two coats flat over primer.")) == 2


def test_a_part_of_what_was_counted_is_taken_out_of_it() -> None:
    assert said("Walls: three coats finish paint, one of which is primer.") == [
        "coats of finish paint (surface wall): 2",
        "coats of primer (surface wall): 1",
    ]
