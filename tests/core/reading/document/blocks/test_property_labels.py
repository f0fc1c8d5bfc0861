"""Labels of properties, which are no places."""

from __future__ import annotations

import pytest

from reads import read_text


def rooms(lines: str) -> list[str]:
    """Where the rules hold that a list below one item makes."""
    return [
        rule.scope.get("room", "")
        for rule in read_text(f"PART 2\n\n2.01 BOARD\nA. GB-1 - Gypsum board:\n{lines}").rules
    ]


@pytest.mark.parametrize(
    ("lines", "held"),
    [
        ("   1. Thickness: 5/8 inch.\n   2. Core: Type X.", ["", ""]),
        ("   1. Thickness: 5/8 inch.\n   2. Zorble: Type X.", ["", ""]),
        ("   1. Lobby: 5/8 inch thick.\n   2. Core: Type X.", ["lobby", "core"]),
        ("   1. Parlatorium: Type X.\n   2. Lobby: 1/2 inch thick.\n   3. Porch: Type C.", ["parlatorium", "lobby", "porch"]),
    ],
)  # fmt: skip
def test_a_label_beside_properties_is_one_and_beside_places_a_place(lines: str, held: list[str]) -> None:
    assert rooms(lines) == held
