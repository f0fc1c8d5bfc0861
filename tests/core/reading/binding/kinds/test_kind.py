"""Which kind of fact a number is, or why it is none."""

from __future__ import annotations

import pytest

from reads import left, said

NONE = {
    "Two coats over Level 4 on walls.": {"Two": "nothing near it says what it is of", "4": "says where something else holds"},
    "Three coats: first coat primer, second and third coats finish paint. Walls.": {"Three": "the sum of what follows it"},
    "Joists 16 in. o.c.: screws 12 in. o.c.": {"16": "says where something else holds"},
    "Screws 1 1/4 in. long at one layer, 1 5/8 in. at two layers.":
        dict.fromkeys(("one", "two"), "says where something else holds"),
    "Fix single layer with 32 mm screws at 300 mm centres.": {},
    "Walls: one coat primer, two coats satin. Second coat after 4 hours.": {"4": "a time"},
    "Walls: one coat primer, two coats satin. Allow the first coat to dry before applying the second coat.": {},
    "Walls: not more than 3 coats of finish paint.": {"3": "an upper bound: how many is not said"},
}  # fmt: skip


@pytest.mark.parametrize("text", NONE)
def test_what_counts_something_else_is_no_fact_of_its_own(text: str) -> None:
    assert left(text) == NONE[text]


def test_the_parts_of_a_sum_are_read() -> None:
    assert said("Three coats: first coat primer, second and third coats finish paint. Walls.") == [
        "coats of primer (coat first): 1",
        "coats of finish paint (coat second and third): 2",
    ]


def test_how_far_a_package_goes_is_a_rate_of_the_package_named() -> None:
    assert said("Adhesive: one 28 oz tube does 85 ft.") == [
        "package of adhesive: 28 oz per 1 tube",
        "consumption of adhesive: 1 tube per 85 ft",
    ]
    assert said("Apply joint compound: a 64 lb pail covers 400 sq ft.") == [
        "package of joint compound: 64 lb per 1 pail",
        "consumption of joint compound: 1 pail per 400 sq ft",
    ]


def test_layers_count_where_they_name_what_lies_in_them() -> None:
    assert said("Gypsum board: one layer on walls, two layers on ceilings.") == [
        "layers of gypsum board (surface wall): 1",
        "layers of gypsum board (surface ceiling): 2",
    ]
