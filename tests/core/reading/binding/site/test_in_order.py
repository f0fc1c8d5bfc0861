"""Values that answer a list in its order, and those of which the list was not understood."""

from __future__ import annotations

import pytest

from reads import asked, said

READ = {
    "Screws at walls and ceilings shall be spaced 16 in. o.c. and 12 in. o.c. respectively.": [
        "spacing of screw (surface wall): 16 in",
        "spacing of screw (surface ceiling): 12 in",
    ],
    "Screws shall be 12 in. o.c. and 8 in. o.c. in the field and at edges, respectively.": [
        "spacing of screw (where field): 12 in",
        "spacing of screw (where edge): 8 in",
    ],
    "Screws in base layer and face layer: 24 in. o.c. and 12 in. o.c. respectively.": [
        "spacing of screw (layer base): 24 in",
        "spacing of screw (layer face): 12 in",
    ],
    "Finish archive, store and library to Level 5, Level 2 and Level 4 respectively.": [
        "finish level of gypsum board (room archive): 5",
        "finish level of gypsum board (room store): 2",
        "finish level of gypsum board (room library): 4",
    ],
    "Joints and inside corners receive three coats and two coats of compound respectively.": [
        "coats of joint compound (where joint): 3",
        "coats of joint compound (where inside corner): 2",
    ],
    "Screws and nails shall be spaced 12 in. o.c. and 7 in. o.c. respectively.": [
        "spacing of screw: 12 in",
        "spacing of nail: 7 in",
    ],
}


@pytest.mark.parametrize("text", READ)
def test_each_value_is_of_the_member_in_its_place(text: str) -> None:
    assert said(text) == READ[text]


def test_values_without_such_a_list_are_asked_about() -> None:
    text = "Screws shall be 12 in. o.c. and 8 in. o.c. respectively on the walls."
    assert not said(text)
    assert len(asked(text)) == 2
