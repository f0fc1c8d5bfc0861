"""What a cell of a row stands under, and what limits it there."""

from __future__ import annotations

import pytest

from reads import read_text, said

MATRIX = """Room\tWall board\tLayers\tWall paint\tCoats\tWall colour\tCeiling paint\tCoats\tRemarks
Crypt\t15 acoustic\t2\tmatt\t2\tDusk Moss\tsatin\t1\tceiling existing
Nave\t12.5 std\t1\tmatt\t3\tFern Hollow\tnone\t-\tdouble height
"""


def test_what_stands_beside_a_cell_limits_it_only_on_its_own_surface() -> None:
    assert said(MATRIX)[:4] == [
        "thickness of gypsum board (room crypt, surface wall, type sound): 15 mm",
        "layers of gypsum board (room crypt, surface wall, type sound): 2",
        "coats of finish paint (color dusk moss, room crypt, sheen matt, surface wall): 2",
        "coats of finish paint (condition existing, room crypt, sheen satin, surface ceiling): 1",
    ]


def test_nothing_under_the_head_of_a_product_leaves_the_goods_of_other_trades_there() -> None:
    assert [rule for rule in said(MATRIX) if rule.startswith("replaced")] == [
        "replaced of finish paint (room nave, surface ceiling): none",
        "replaced of primer (room nave, surface ceiling): none",
    ]


def test_a_column_of_sorts_tells_what_the_counts_and_sizes_beside_it_are_of() -> None:
    text = "| Space | Board | Thk (mm) | Layers |\n|---|---|---|---|\n| Nave | MR | 12.5 | 1 |\n| Crypt | Type X | 15 | 2 |\n"
    assert said(text) == [
        "thickness of gypsum board (room nave, type moisture resistant): 12.5 mm",
        "layers of gypsum board (room nave, type moisture resistant): 1",
        "thickness of gypsum board (room crypt, type type X): 15 mm",
        "layers of gypsum board (room crypt, type type X): 2",
    ]


def test_a_level_before_the_places_that_are_left_at_it_is_no_storey() -> None:
    schedule = "FINISH LEVEL SCHEDULE\n\nLevel | Location | Remarks\n3 | Archive | \n4 | Store, lobby | typical\n"
    assert said(schedule) == [
        "finish level of gypsum board (room archive): 3",
        "finish level of gypsum board (room store): 4",
        "finish level of gypsum board (room lobby): 4",
    ]
    storeys = "ROOM FINISHES\n\nLevel | Room | Walls\n1 | Lobby | two coats satin\n2 | Archive | one coat flat"
    assert not any(rule.startswith("finish level") for rule in said(storeys))


@pytest.mark.parametrize("head", ["Location", "Where", "Place"])
def test_a_surface_and_its_layer_are_no_place(head: str) -> None:
    text = (
        "Board fastening\n\n"
        f"{head:<24}Screw length    Field, max o.c.    Edges, max o.c.\n"
        'Walls, base layer       1"              24"                24"\n'
        'Ceilings, face layer    2"              10"                8"\n'
        'Walls, single layer     1-1/4"          16"                12"\n'
        'Gymnasium walls         2-1/4"          8"                 8"\n'
    )
    rules = [rule for rule in read_text(text).rules if rule.subject == "screw"]
    assert {(r.scope.get("layer", ""), r.scope.get("room", ""), r.scope["surface"]) for r in rules} == {
        ("base", "", "wall"),
        ("face", "", "ceiling"),
        ("", "", "wall"),
        ("", "gymnasium", "wall"),
    }
    assert len(rules) == 12
