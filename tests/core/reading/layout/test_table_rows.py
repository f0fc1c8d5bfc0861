"""Tables in their documents: which heading they stand under, and that every number of them is told once."""

from __future__ import annotations

from time import process_time

import pytest

from darby.reading.layout.segmenter import clauses
from darby.text.spans import Source, View
from laid import layout, table_rows
from reads import language, read_text, said


def test_the_line_right_above_a_table_names_it() -> None:
    rows = table_rows("PAINT\n\nInterior walls\nRoom      Walls\nLobby     PT-1\nStore     PT-2\n")
    assert rows[0].parents[0].text == "Interior walls"


def test_heads_are_one_heading_before_the_rows() -> None:
    found = layout("Room      Walls     Ceiling\nLobby     PT-1      PT-2\nStore     PT-2      PT-2\n").clauses
    assert [(c.text, c.heading) for c in found[1:3]] == [
        ("Room | Walls | Ceiling", True),
        ("Lobby | PT-1 | PT-2", False),
    ]


def test_a_turned_table_names_the_properties_and_the_corner_once() -> None:
    found = layout("| Sheen | Matte | Satin |\n|---|---|---|\n| Coats | 2 | 3 |\n| Rate, m2/L | 10 | 12 |\n").clauses
    assert found[1].text == "Sheen | Coats | Rate, m2/L"


def test_rows_of_one_table_share_it_behind_a_footnote() -> None:
    rows = table_rows(
        "Room      Walls     Ceiling\nLobby     PT-1      PT-2\nStore     PT-2      PT-2\n(a) South wall bare.\nPlant     PT-3      PT-4\n"
    )
    assert rows[2].table is rows[0].table


def test_a_section_of_another_kind_begins_a_table_of_its_own() -> None:
    text = "Room      Walls     Ceiling\nLobby     PT-1      PT-2\nStore     PT-2      PT-2\n\nSurface   Coats     Sheen\nWalls     2         satin\nCeilings  1         flat\n"
    rows = table_rows(text)
    assert rows[2].table is not rows[0].table
    assert [h.text for h in rows[2].cells[1].heads] == ["Coats"]


TABLES = [
    "Item 1     2 coats    350\nItem 2     3 coats    400\n",
    "            Matte    Satin\nSolids, %   38       36\nCoats       2        3\n",
    "Product\nPrimer\nFinish\nCoats\n1\n2\nRate\n300\n350\n425\n",
    "Room 1,PT-1,2\nRoom 2,PT-2,3\nRoom 3,PT-3,4\n",
    'Room   Walls (1)  Ceiling 2\n101    PT-1 (1)   "\n102    "          PT-4\n(1) Two coats 3 mils.\n',
    "A\t1\t2\n\t3\t4\n",
    "+---+---+\n| 1 | 2 |\n| 3 | 4 |\n+---+---+\n| 5 | 6 |\n+---+---+\n",
]


@pytest.mark.parametrize("text", TABLES)
def test_every_number_of_a_table_is_accounted_for_once(text: str) -> None:
    reading = read_text(text)
    digits = {n for n, c in enumerate(text) if c in "0123456789"}
    told = [set(range(number.span.start, number.span.end)) & digits for number in reading.numbers]
    assert set().union(*told) == digits
    assert sum(map(len, told)) == len(digits)


HOSTILE = [
    "A|B|C\n",
    "a   b   c\n",
    "W1  two coats\n",
    "x\ty\n",
    "a,b,c\n",
    "Coats\n1\n2\n",
    "Room\n",
    "PT-1 x\n",
    'Walls   "   do.\n',
    "x   (a)\n* b\n",
    "R   x\n    - y\n",
]


@pytest.mark.slow
@pytest.mark.parametrize("piece", HOSTILE)
def test_tables_take_no_longer_than_their_length(piece: str) -> None:
    words = language()

    def seconds(size: int) -> float:
        view = View.of(Source("s.txt", "SCHEDULE\n\n" + piece * (size // len(piece))))
        began = process_time()
        clauses(view, words.known, words.means)
        return process_time() - began

    small, large = max(min(seconds(5_000) for _ in range(2)), 0.02), min(seconds(20_000) for _ in range(2))
    assert large < 10 * small


def test_a_head_that_is_drawn_over_columns_ends_with_its_table() -> None:
    text = "          |-- WALLS --|\nROOM      N     S     CLG\nVestry    P1    P1    P4\nNave      P1    P1    P4\n\nFINISHES\nP1  Two coats satin\nP4  Two coats flat\n"
    assert [rule for rule in said(text) if "coats" in rule] == [
        "coats of finish paint (mark P1, sheen satin): 2",
        "coats of finish paint (mark P4, sheen flat): 2",
    ]
