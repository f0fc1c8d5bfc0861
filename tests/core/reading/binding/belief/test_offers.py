"""Sizes on offer order nothing."""

from __future__ import annotations

import pytest

from reads import read_text


@pytest.mark.parametrize(
    "text",
    [
        "Gypsum board is available in 4 ft x 12 ft sheets.",
        "Gypsum board comes in 4 ft x 8 ft and 4 ft x 12 ft sheets.",
        "Thicknesses range from 3/8 in. to 5/8 in. for gypsum board.",
        "Stock sizes: gypsum board 4 ft x 12 ft.",
        "Gypsum board is available in these sizes:\n  - 4 ft x 8 ft\n  - 4 ft x 12 ft",
    ],
)
def test_an_offer_makes_no_rule_and_is_asked_about(text: str) -> None:
    reading = read_text(text)
    assert reading.rules == ()
    assert any("sizes on offer" in d.message for d in reading.diagnostics)


@pytest.mark.parametrize(
    "text",
    [
        "Gypsum board comes in 4 ft x 12 ft sheets.",
        "Gypsum board: 4 ft x 12 ft sheets, as available.",
        "Walls: 5/8 in. gypsum board. Other sizes are available.",
    ],
)
def test_what_is_wanted_is_no_offer(text: str) -> None:
    [rule] = read_text(text).rules
    assert rule.subject == "gypsum board"


def test_an_offer_says_nothing_of_what_stands_beside_it() -> None:
    [rule] = read_text("Primer, available in several tints: 350 sq ft per gallon.").rules
    assert rule.kind.name == "coverage"
