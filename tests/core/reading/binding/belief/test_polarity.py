"""What a clause stands under passes down to every member of its list: forbidden, under a condition, above a height."""

from __future__ import annotations

import pytest

from darby.reading.binding.belief.polarity import sized
from darby.reading.parsing.tagging.tag import Tag
from reads import left, said

MEMBER = "\n  A. Walls: two coats finish paint."


def test_a_lead_in_that_forbids_forbids_every_member() -> None:
    text = f"Do not apply the following:{MEMBER}\n  B. Ceilings: one coat finish paint."
    assert said(text) == []
    assert left(text) == dict.fromkeys(("two", "one"), "forbidden: what is not to be used")


def test_a_lead_in_with_a_condition_limits_every_member() -> None:
    text = f"If the architect so directs:{MEMBER}\n  B. Ceilings: one coat finish paint."
    assert said(text) == [
        "coats of finish paint (condition under a condition, surface wall): 2",
        "coats of finish paint (condition under a condition, surface ceiling): 1",
    ]


def test_a_height_in_a_lead_in_limits_where() -> None:
    text = "Walls over 12 ft high:\n  A. Two coats finish paint."
    assert said(text) == ["coats of finish paint (surface wall, where under a condition): 2"]
    assert left(text) == {"12": "a height"}


def test_a_plain_lead_in_limits_nothing() -> None:
    assert said(f"Apply the following:{MEMBER}") == ["coats of finish paint (surface wall): 2"]


@pytest.mark.parametrize(
    ("names", "limits"),
    [
        ("LARGER_THAN NUMBER", True),
        ("NUMBER LARGER_THAN", True),
        ("LARGER_THAN FEET_INCHES", True),
        ("LARGER_THAN surface", False),
        ("NUMBER surface", False),
        ("", False),
    ],
)
def test_a_size_limits_where_a_word_and_a_number_say_so(names: str, limits: bool) -> None:
    assert sized([Tag(n, n + 1, name) for n, name in enumerate(names.split())]) is limits


def test_what_is_forbidden_ends_where_and_brings_a_number_of_its_own() -> None:
    assert said("Ceilings: no primer and two coats flat.") == ["coats of finish paint (sheen flat, surface ceiling): 2"]
    assert said("Do not apply two coats of primer and one coat of varnish.") == []
