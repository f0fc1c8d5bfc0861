"""A number of goods that are put on in coats counts coats."""

from __future__ import annotations

import pytest

from reads import read_text


@pytest.mark.parametrize(
    ("text", "coats"),
    [
        ("Doors: 1 No undercoat and 1 No gloss.", ["1", "1"]),
        ("Doors: 2 nr. gloss.", ["2"]),
        ("Walls: 2 No. quick drying acrylic eggshell.", ["2"]),
        ("Walls: 2 No. coats emulsion.", ["2"]),
        ("Walls: 1P + 2F eggshell.", ["1", "2"]),
        ("Walls: 1 p, 2 t.", ["1", "2"]),
        ("Shutters: undercoat 1, gloss 2.", ["1", "2"]),
        ("Kitchen walls: primer (1), satin (2).", ["1", "2"]),
        ("Flush doors: primer 1, undercoat 1, satin 2 coats.", ["1", "1", "2"]),
        ("P1: primer 1, gloss 2.", ["1", "2"]),
        ("Number of coats: primer 1, gloss 2.", ["1", "2"]),
        ("Walls in offices: primer 1, gloss 2.", ["1", "2"]),
        ("Gallons: primer 2, gloss 4.", []),
        ("Tins required: primer 2, gloss 4.", []),
        ("Order of work: primer 1, undercoat 2, gloss 3.", []),
        ("Colours: primer 1, gloss 2.", []),
        ("Walls: gloss 2.", []),
        ("Walls: primer 12 m2/L, satin 14, gloss 13.", []),
        ("Walls: primer 1 L, gloss 2 L.", []),
        ("Walls: 2P + 3P.", []),
        ("Walls of 1P.", []),
        ("Walls: 1P + 2C.", []),
        ("Walls: 2 No. doors, gloss.", []),
        ("Order 12 No. gypsum board sheets for walls.", []),
        ("Walls: 3 No. 10 L tins of emulsion.", []),
    ],
)
def test_a_number_of_goods_that_come_in_coats_is_so_many_coats(text: str, coats: list[str]) -> None:
    assert [
        str(r.amount.value) for r in read_text(text).rules if r.kind.name == "coats" and r.amount is not None
    ] == coats
