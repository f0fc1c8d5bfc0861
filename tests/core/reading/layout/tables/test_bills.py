"""Bills of quantities whose items run over several lines."""

from __future__ import annotations

import pytest

from darby.reading.layout.lines import split_lines
from darby.reading.layout.tables.bills import bill_lines
from reads import language, read_text, said

HEAD = "Item   Description                                              Unit    Qty    Rate"
BILL = f"""BILL No. 2 - LININGS

{HEAD}

       BOARDS

A      12.5 mm thick plasterboard with screws at 300 mm
       centres in walls of bathrooms                            m2      186

B      9.5 mm plasterboard in two layers to
       ceilings of bedrooms                                     m2      310

       PAINT

C      Prepare and apply two coats matt to plastered
       walls of hall                                            m2      1240
D      Ditto to ceilings                                        m2      420
E      One coat of primer and two coats eggshell on
       walls of kitchen                                         m2      212

NOTES

Doors: one coat of primer.
"""


def test_items_are_read_whole_and_their_quantities_set_aside() -> None:
    assert said(BILL) == [
        "thickness of gypsum board (room bathroom, surface wall): 12.5 mm",
        "spacing of screw (room bathroom, surface wall): 300 mm",
        "thickness of gypsum board (room bedroom, surface ceiling): 9.5 mm",
        "layers of gypsum board (room bedroom, surface ceiling): 2",
        "coats of finish paint (room hall, sheen matt, surface wall): 2",
        "coats of primer (room kitchen, surface wall): 1",
        "coats of finish paint (room kitchen, sheen eggshell, surface wall): 2",
        "coats of primer (surface door): 1",
    ]
    why = [number.why for number in read_text(BILL).numbers]
    assert why.count("a quantity that a bill gives") == len((186, 310, 1240, 420, 212)) * 2


@pytest.mark.parametrize(
    "text",
    [
        f"{HEAD}\n1.1    12.5 mm board on walls                                   m2      186\n1.2    9.5 mm board to ceilings,                                m2      310\n       in bedrooms\n",
        "Room   Walls      Ceiling\nA      P1         P2\nB      P1         P2\n",
        f"{HEAD}\nA      12.5 mm plasterboard in\n       walls                                                    m2      186\n",
    ],
)
def test_other_tables_are_left_as_they_are(text: str) -> None:
    lines = split_lines(text)
    assert list(bill_lines(lines, language().means)) == []


def test_a_line_is_cut_by_the_columns_of_the_head() -> None:
    lines = split_lines(BILL)
    cut = [(BILL[slice(*one.item)], BILL[slice(*one.words)]) for one in bill_lines(lines, language().means)]
    assert cut[1] == ("A", "12.5 mm thick plasterboard with screws at 300 mm")
    assert cut[2] == ("", "centres in walls of bathrooms")
    assert [item for item, _ in cut if item] == ["A", "B", "C", "D", "E"]


def test_the_next_head_ends_a_bill() -> None:
    head = "NO     DESCRIPTION                                              UNIT    QTY"
    text = f"{head}\nA      12.5 mm board in\n       walls                                                    m2      186\n"
    lines = split_lines(text * 2)
    assert list(bill_lines(lines, language().means)) == []


def test_who_is_to_do_something_is_no_place() -> None:
    text = """MINUTES

Item  Matter                                                              Action

2.1   LININGS
2.1.1 Architect confirmed two layers of 12.5 mm board to the plant room    SL
      walls.
2.1.2 Kitchen ceiling to be 12.5 mm moisture resistant board.              SL
2.2   PAINT
2.2.1 Corridor walls to be eggshell, three coats.                          PR
"""
    assert said(text) == [
        "layers of gypsum board (room plant room, surface wall): 2",
        "thickness of gypsum board (room plant room, surface wall): 12.5 mm",
        "thickness of gypsum board (room kitchen, surface ceiling, type moisture resistant): 12.5 mm",
        "coats of finish paint (room corridor, sheen eggshell, surface wall): 3",
    ]


def test_long_lines_of_dots_before_a_price_are_read_at_once() -> None:
    rules = said(f"Walls: two coats satin {'. ' * 2000}$ ____\nCeilings: one coat flat {'.' * 4000} x\n")
    assert rules[0] == "coats of finish paint (sheen satin, surface wall): 2"
