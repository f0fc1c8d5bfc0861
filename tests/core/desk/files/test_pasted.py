"""A pasted list becomes comma-separated values, wherever it was copied from."""

from __future__ import annotations

import pytest

from darby.desk.files.folder import RefusedError
from darby.desk.files.pasted import as_list


def test_tabs_become_commas_and_a_cell_keeps_its_own() -> None:
    assert as_list('a\tb\r\n"x\ty"\t1,5\n') == 'a,b\nx\ty,"1,5"\n'
    assert as_list("\na;b\n1;2\n\n") == "a;b\n1;2\n"
    assert as_list("name,length\nOil store  north,9 ft\n") == "name,length\nOil store  north,9 ft\n"


@pytest.mark.parametrize("text", ["", "\n\n", "Rm", "Walls: two coats."])
def test_what_is_no_list_is_refused_with_a_way_out(text: str) -> None:
    with pytest.raises(RefusedError, match="a room on each line"):
        as_list(text)


def test_a_table_of_a_document_is_parted_by_bars_or_by_wide_blanks() -> None:
    wanted = "Room,Walls,Height\nKiln room,PT-1,9 ft\nGlaze store,PT-2,9 ft\n"
    assert (
        as_list("| Room | Walls | Height |\n|---|:--|--|\n| Kiln room | PT-1 | 9 ft |\n| Glaze store | PT-2 | 9 ft |\n")
        == wanted
    )
    assert as_list("Room         Walls   Height\nKiln room    PT-1    9 ft\nGlaze store  PT-2    9 ft\n") == wanted


@pytest.mark.parametrize(
    ("line", "cells"),
    [
        ("Kiln room  12'-6\" x 10 ft x 9 ft", 'Kiln room,"12\'-6""",10 ft,9 ft'),
        ("Office 204: 12 x 10 x 9 ft high", "Office 204,12 ft,10 ft,9 ft"),
        ("Office 204: 12' x 10' X 9'", "Office 204,12',10',9'"),
        ("Cold store, 3.81 m by 2.4 m by 2.7 m", "Cold store,3.81 m,2.4 m,2.7 m"),
        ("Bath - 3600 × 2400 × 2700 mm", "Bath,3600 mm,2400 mm,2700 mm"),
        ("Porch 12 ft x 8 ft", "Porch,12 ft,8 ft"),
        ("Den 14 x 11 x 8", "Den,14,11,8"),
    ],
)
def test_a_room_on_a_line_has_its_sides_behind_its_name(line: str, cells: str) -> None:
    assert as_list(f"{line}\n") == f"name,length,width,height\n{cells}\n"


def test_sides_in_one_cell_are_taken_apart() -> None:
    text = "Room\tSize\tHeight\nKiln room\t12 x 10 ft\t9 ft\nStore\t\t9 ft\n"
    assert as_list(text) == "Room,length,width,Height\nKiln room,12 ft,10 ft,9 ft\nStore,,,9 ft\n"
    assert as_list("Room\tL\tlength\nA\t1 x 2\t9\n") == "Room,L,length\nA,1 x 2,9\n"
