"""Places on the work that mean another for some kinds: distances at joints are those along edges."""

from __future__ import annotations

import pytest

from reads import said

BOTH = ["spacing of screw: 300 mm", "spacing of screw (where edge): 200 mm"]


@pytest.mark.parametrize(
    "text",
    [
        "Screws at 300 ctrs, 200 at joints.",
        "Screws at 300 mm centres, 200 mm centres at joints.",
        "Screws at 300 mm c/c reduced to 200 mm c/c at butt joints.",
        "Screws: 300 mm o.c.; at joints: 200 mm o.c.",
        "Screws 300 mm o.c. Joints: screws 200 mm o.c.",
        "Screws 300 mm o.c.\n\nJOINTS\nScrews 200 mm o.c.",
    ],
)
def test_a_distance_at_joints_is_one_along_edges(text: str) -> None:
    assert said(text) == BOTH


@pytest.mark.parametrize(
    "text",
    [
        "Fasten boards with screws 300 mm o.c. and fill joints with compound.",
        "Tape joints, screws 300 mm o.c.",
        "Screws 300 mm o.c., joints staggered.",
    ],
)
def test_joints_in_passing_limit_no_distance(text: str) -> None:
    assert said(text)[0] == BOTH[0]


def test_coats_over_joints_stay_there() -> None:
    assert said("Three coats of joint compound over joints.") == ["coats of joint compound (where joint): 3"]
