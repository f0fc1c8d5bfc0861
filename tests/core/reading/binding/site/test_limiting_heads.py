"""Headings that say where what stands below them holds, and titles that limit nothing."""

from __future__ import annotations

import pytest

from reads import said

LIMITED = {
    "FIELD\nScrews shall be 12 in. o.c.\n\nEDGES\nScrews shall be 8 in. o.c.": [
        "spacing of screw (where field): 12 in",
        "spacing of screw (where edge): 8 in",
    ],
    "BASE LAYER\nScrews at 24 in. o.c.\n\nFACE LAYER\nScrews at 12 in. o.c.": [
        "spacing of screw (layer base): 24 in",
        "spacing of screw (layer face): 12 in",
    ],
    "ABOVE CEILINGS\nLevel 1 finish.\n\nBEHIND TILE\nLevel 2 finish.": [
        "finish level of gypsum board (where above ceilings): 1",
        "finish level of gypsum board (where behind tile): 2",
    ],
    "3.5 FINISHING ABOVE CEILINGS\nA. Level 1.": ["finish level of gypsum board (where above ceilings): 1"],
    "3.5 SCREWS AT EDGES\nA. Screws 8 in. o.c.": ["spacing of screw (where edge): 8 in"],
    "INSIDE CORNERS\nDrywall clips at 16 in. o.c.": ["spacing of drywall clip (where inside corner): 16 in"],
    "JOINTS\nJoint compound shall be applied in three coats.": ["coats of joint compound (where joint): 3"],
    "WITH ADHESIVE\nScrews 24 in. o.c. on walls.": [
        "spacing of screw (method with adhesive, surface wall): 24 in",
    ],
    "Screws with adhesive\nWalls: 24 in. o.c.\nCeilings: 16 in. o.c.": [
        "spacing of screw (method with adhesive, surface wall): 24 in",
        "spacing of screw (method with adhesive, surface ceiling): 16 in",
    ],
    # so does what opens a list
    "With adhesive, screws 24 in. o.c. on walls and 16 in. o.c. on ceilings.": [
        "spacing of screw (method with adhesive, surface wall): 24 in",
        "spacing of screw (method with adhesive, surface ceiling): 16 in",
    ],
}  # fmt: skip


@pytest.mark.parametrize("text", LIMITED)
def test_a_heading_of_a_place_on_the_work_limits_what_stands_below_it(text: str) -> None:
    assert said(text) == LIMITED[text]


TITLES = {
    "3.5 FINISHING OF JOINTS AND EDGES\nA. Screws 12 in. o.c.": ["spacing of screw: 12 in"],
    "JOINTS\nPrimer: one coat.": ["coats of primer: 1"],
    "JOINTS\nJoint compound: 14 lb per 100 sq ft.": ["consumption of joint compound: 14 lb per 100 sq ft"],
    "FIELD QUALITY CONTROL\nScrews 12 in. o.c.": ["spacing of screw: 12 in"],
    "ABOVE CEILINGS\n\nFASTENING\nScrews 12 in. o.c.": ["spacing of screw: 12 in"],
}


@pytest.mark.parametrize("text", TITLES)
def test_a_heading_that_names_its_subject_limits_nothing(text: str) -> None:
    assert said(text) == TITLES[text]


def test_edges_and_fields_limit_distances_alone() -> None:
    text = "Fasteners: 1 in. Type S screws at 12 in. o.c. field, 8 in. o.c. perimeter"
    assert "fastener length of screw (type type S): 1 in" in said(text)
