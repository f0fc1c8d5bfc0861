"""What limits or describes a fact: type, sheen, layer, condition, the place on the work. What is not meant limits nothing."""

from __future__ import annotations

import pytest

from reads import said

LIMITED = {
    "Gypsum board on walls: moisture resistant, type X, 5/8 in. thick.":
        ["thickness of gypsum board (surface wall, type moisture resistant + type X): 5/8 in"],
    "Two coats of finish paint where walls are exposed.":
        ["coats of finish paint (condition under a condition, surface wall): 2"],
    "Screws: 8 in. o.c. at edges and 12 in. o.c. in the field.":
        ["spacing of screw (where edge): 8 in", "spacing of screw (where field): 12 in"],
    "First layer: screws 24 in. o.c.; second layer: 12 in. o.c.":
        ["spacing of screw (layer base): 24 in", "spacing of screw (layer face): 12 in"],
    "New walls: two coats finish paint. Existing walls: one coat finish paint.":
        ["coats of finish paint (condition new, surface wall): 2",
         "coats of finish paint (condition existing, surface wall): 1"],
    "Ceilings in halls, two coats flat; walls in offices, three coats satin finish paint.":
        ["coats of finish paint (room hall, sheen flat, surface ceiling): 2",
         "coats of finish paint (room office, sheen satin, surface wall): 3"],
    "Patched areas get one coat of primer.": ["coats of primer (where patch): 1"],
    "Damaged areas to have one coat primer and two coats matt.":
        ["coats of primer (where patch): 1", "coats of finish paint (sheen matt, where patch): 2"],
    "Made good areas: one coat primer. Two coats matt.":
        ["coats of primer (where patch): 1", "coats of finish paint (sheen matt, where patch): 2"],
    "PATCHED AREAS\n\n1. One coat primer.\n2. Two coats matt.":
        ["coats of primer (where patch): 1", "coats of finish paint (sheen matt, where patch): 2"],
    "Prime bare spots with one coat of primer.": ["coats of primer (where patch): 1"],
    "Repaired ceilings: one coat of primer.": ["coats of primer (surface ceiling, where repaired ceilings): 1"],
    "Doors:\n1. First Coat: Touch up shop primer with metal primer.": ["coats of primer (class metal, coat first, surface door, where patch): 1"],
    "Lower 4 ft of walls: one coat primer. Two coats satin.":
        ["coats of primer (surface wall, where lower 4 ft): 1", "coats of finish paint (sheen satin, surface wall, where lower 4 ft): 2"],
}  # fmt: skip


@pytest.mark.parametrize("text", LIMITED)
def test_what_is_said_beside_a_fact_limits_it(text: str) -> None:
    assert said(text) == LIMITED[text]


FREE = {
    "Screws 12 in. o.c. in the field and along edges.": ["spacing of screw: 12 in"],
    "Walls to receive two coats of finish paint.": ["coats of finish paint (surface wall): 2"],
    "Spot prime patches, two coats eggshell overall.": ["coats of finish paint (sheen eggshell): 2"],
    "Prime patches with one coat primer, then two coats matt to walls.":
        ["coats of primer (surface wall, where patch): 1", "coats of finish paint (sheen matt, surface wall): 2"],
}  # fmt: skip


@pytest.mark.parametrize("text", FREE)
def test_what_means_everywhere_or_nothing_here_limits_nothing(text: str) -> None:
    assert said(text) == FREE[text]
