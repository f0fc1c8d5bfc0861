"""On which surfaces a number holds, and by which words; bounds that labels and lists pass on."""

from __future__ import annotations

import pytest

from reads import found, said

FOUND = {
    "Screws: 12 in. o.c. on ceilings.": ["phrase"],
    "Walls: two coats of finish paint.": ["label"],
    "One coat primer and two coats finish paint to walls.": ["list-tail", "phrase"],
    "Walls, 1 primer, 2 gloss.": ["phrase", "list-lead"],
    "On ceilings, run board across; fasten with screws 12 in. o.c.": ["opening"],
    'Delete "1/2 inch" board for ceilings; insert "5/8 inch" board.': ["change"],
    "WALLS\nPrimer: one coat": ["heading"],
    "3-5/8 in. studs at 16 in. o.c.": ["own-name"],
    "Screws: 12 in. o.c. on both walls and ceilings. Nails: 7 in. o.c. on both.":
        ["phrase", "phrase", "both", "both"],
}  # fmt: skip


@pytest.mark.parametrize("text", FOUND)
def test_a_surface_is_found_where_it_stands(text: str) -> None:
    assert found(text, "surface") == FOUND[text]


def test_both_are_those_that_were_spoken_of() -> None:
    assert said("Screws: 12 in. o.c. on both walls and ceilings. Nails: 7 in. o.c. on both.")[2:] == [
        "spacing of nail (surface wall): 7 in",
        "spacing of nail (surface ceiling): 7 in",
    ]


def test_a_fact_without_a_surface_near_it_holds_everywhere() -> None:
    assert said("Screws: 12 in. o.c.") == ["spacing of screw: 12 in"]


BOUNDS = {
    "Screws on ceilings maximum: 12 in. o.c.": ["spacing of screw (surface ceiling): at most 12 in"],
    "Screws: 450 mm apart, maximum.": ["spacing of screw: at most 450 mm"],
    "Max. spacing of screws: walls 16 in., ceilings 12 in.":
        ["spacing of screw (surface wall): at most 16 in", "spacing of screw (surface ceiling): at most 12 in"],
    "Screws not more than 12 in. on ceilings and 16 in. on walls.":
        ["spacing of screw (surface ceiling): at most 12 in", "spacing of screw (surface wall): at most 16 in"],
    "Screws not more than 12 in. on ceilings; 16 in. on walls.":
        ["spacing of screw (surface ceiling): at most 12 in", "spacing of screw (surface wall): 16 in"],
}  # fmt: skip


@pytest.mark.parametrize("text", BOUNDS)
def test_a_bound_holds_for_all_it_is_said_of(text: str) -> None:
    assert said(text) == BOUNDS[text]
