"""Conditions that a fact hangs on."""

from __future__ import annotations

import pytest

from darby.reading.binding.site.conditions import limits_sizes
from darby.reading.parsing.tagging.tag import Tag


@pytest.mark.parametrize(
    ("names", "limits"),
    [
        ("surface LARGER_THAN NUMBER", True),
        ("AT_MOST FEET_INCHES", True),
        ("SMALLER_THAN NUMBER LENGTH_UNIT", True),
        ("NUMBER LARGER_THAN", False),
        ("LARGER_THAN surface NUMBER", False),
    ],
)
def test_a_label_is_for_some_sizes_where_a_limit_stands_right_before_a_number(names: str, limits: bool) -> None:
    assert limits_sizes([Tag(n, n + 1, name) for n, name in enumerate(names.split())]) is limits
