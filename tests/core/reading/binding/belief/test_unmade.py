"""Choices that nobody has made make no rule and are asked about."""

from __future__ import annotations

import pytest

from reads import asked, said

OPEN = "a choice that nobody has made"


@pytest.mark.parametrize("text", ["Walls of the hall: flat or eggshell.", "Hall walls: eggshell/satin."])
def test_one_look_or_another_is_no_choice(text: str) -> None:
    assert not [rule for rule in said(text) if rule.startswith("sheen")]
    assert any(OPEN in message for message in asked(text))


def test_one_look_for_each_place_is_one() -> None:
    text = "Hall walls: eggshell. Store walls: flat."
    assert not [message for message in asked(text) if OPEN in message]
