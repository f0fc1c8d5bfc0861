"""A table closed up to single blanks is read by its heads, where they leave no doubt."""

from __future__ import annotations

import pytest

from laid import laid

HEAD = "NO. ROOM WALLS CEILING REMARKS\n"


def test_words_between_the_cells_of_one_word_are_the_name() -> None:
    assert laid(HEAD + "101 VESTIBULE PT-1 PT-6\n102 MAIL ROOM PT-2 PT-6 (a)\n103 BEDROOM 1 PT-1 ACT\n") == [
        "101 VESTIBULE | WALLS: PT-1 | CEILING: PT-6",
        "102 MAIL ROOM | WALLS: PT-2 | CEILING: PT-6 | REMARKS: (a)",
        "103 BEDROOM 1 | WALLS: PT-1 | CEILING: ACT",
    ]


def test_a_mark_in_brackets_at_the_end_is_a_remark() -> None:
    assert (
        laid(HEAD + "101 LOBBY PT-1 PT-6\n105 BOARD ROOM WOOD PT-6 (c)\n")[1]
        == "105 BOARD ROOM | WALLS: WOOD | CEILING: PT-6 | REMARKS: (c)"
    )


def test_two_heads_of_one_thing_are_one() -> None:
    assert (
        laid("ROOM NAME WALLS CEILING\nMAIL ROOM PT-2 PT-6\nLOBBY PT-1 PT-6\n")[0]
        == "MAIL ROOM | WALLS: PT-2 | CEILING: PT-6"
    )


def test_products_and_systems_can_be_keys() -> None:
    assert (
        laid("Product Coats Rate\nWall primer 1 300\nLatex finish paint 2 400\n")[1]
        == "Latex finish paint | Coats: 2 | Rate: 400"
    )
    assert laid("System Coats Spread\nP1 2 350\nP2 1 400\n") == [
        "P1 | Coats: 2 | Spread: 350",
        "P2 | Coats: 1 | Spread: 400",
    ]


@pytest.mark.parametrize(
    "text",
    [
        HEAD + "101 LOBBY PT-1 PT-6\n",  # one row is none
        "ROOM WALLS CEILING\nLOBBY PT-1 PT-6 PT-7\nSTORE PT-1 PT-6 PT-7\n",  # a cell too many
        "Product Coats Rate\nPrimer two hundred\nFinish three hundred\n",
        "Room Walls Coats\nPaint all walls with 2 coats.\nPaint all doors with 3 coats.\n",
    ],
)
def test_doubt_makes_no_table(text: str) -> None:
    assert laid(text) == []
