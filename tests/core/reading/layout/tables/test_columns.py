"""Where columns lie, and which cell and which head stand in which."""

from __future__ import annotations

from laid import laid, table_rows


def test_a_table_of_blanks_has_heads_over_its_cells() -> None:
    text = "ROOM     WALLS       CEILING\nStair    one coat    2 coats\nOffice   2 coats     2 coats\n"
    assert laid(text) == ["Stair | WALLS: one coat | CEILING: 2 coats", "Office | WALLS: 2 coats | CEILING: 2 coats"]


def test_a_table_of_pipes_loses_its_rule() -> None:
    assert laid("| Product | Coats |\n|---|---|\n| Primer | 1 |\n| Paint | 2 |\n") == [
        "Primer | Coats: 1",
        "Paint | Coats: 2",
    ]


def test_an_empty_cell_between_pipes_or_tabs_keeps_the_others_in_their_columns() -> None:
    assert laid(
        "| Room | Walls | Ceiling |\n|---|---|---|\n| Lobby | | PT-2 |\n| Store || PT-3 |\n| Plant | PT-1 |\n"
    ) == [
        "Lobby | Ceiling: PT-2",
        "Store | Ceiling: PT-3",
        "Plant | Walls: PT-1",
    ]
    assert laid("Room\tWalls\tCeiling\nLobby\t\tPT-2\nStore\tPT-1\n") == [
        "Lobby | Ceiling: PT-2",
        "Store | Walls: PT-1",
    ]


def test_a_row_with_fewer_cells_has_them_where_they_lie() -> None:
    text = "Room      Walls     Ceiling   Notes\nLobby     PT-1      PT-2      dry\nStore               PT-2\nPlant     PT-1                dry\n"
    assert laid(text) == [
        "Lobby | Walls: PT-1 | Ceiling: PT-2 | Notes: dry",
        "Store | Ceiling: PT-2",
        "Plant | Walls: PT-1 | Notes: dry",
    ]


def test_numbers_set_to_the_right_stand_under_their_heads() -> None:
    text = "Product              Coats         Rate\nPrimer                   1          300\nFinish paint             2\nEnamel                              425\n"
    assert laid(text) == ["Primer | Coats: 1 | Rate: 300", "Finish paint | Coats: 2", "Enamel | Rate: 425"]


def test_leader_dots_part_a_label_from_its_value() -> None:
    assert laid("Joint compound .......... 62 lb pails\nJoint tape .............. 500 ft rolls\n") == [
        "Joint compound | 62 lb pails",
        "Joint tape | 500 ft rolls",
    ]


def test_labels_and_values_in_two_columns_have_no_head() -> None:
    assert laid("Walls      two coats\nCeilings   one coat\n") == ["Walls | two coats", "Ceilings | one coat"]


def test_heads_may_leave_out_the_column_of_the_keys() -> None:
    text = "             Coats     Film\nWalls        2         1.5\nCeilings     1         1.4\n"
    assert laid(text) == ["Walls | Coats: 2 | Film: 1.5", "Ceilings | Coats: 1 | Film: 1.4"]
    # also where they are set further left than what they stand over
    assert laid("        Coats     Film\nAll the walls       2         1.5\nCeilings            1         1.4\n") == [
        "All the walls | Coats: 2 | Film: 1.5",
        "Ceilings | Coats: 1 | Film: 1.4",
    ]


def test_a_head_spans_the_columns_up_to_the_next_one() -> None:
    text = "Room         Walls                 Ceiling\n             Board      Coats      Board      Coats\n"
    text += 'Lobby        5/8"       2          1/2"       1\nStore        1/2"       1          1/2"       1\n'
    assert (
        laid(text)[0] == 'Lobby | Walls / Board: 5/8" | Walls / Coats: 2 | Ceiling / Board: 1/2" | Ceiling / Coats: 1'
    )
    text = "System    Primer               Finish\nP1        Sealer         1     Eggshell      2\nP2        Undercoat      2     Gloss         2\n"
    assert laid(text)[0] == "P1 | Primer: Sealer | Primer: 1 | Finish: Eggshell | Finish: 2"


def test_a_unit_below_its_head_belongs_to_it() -> None:
    text = "            Dry film    Spread\nSystem      (mils)      (sq ft/gal)     Coats\nP1          1.5         350             2\nP2          1.2         400             1\n"
    assert laid(text)[0] == "P1 | Dry film / (mils): 1.5 | Spread / (sq ft/gal): 350 | Coats: 2"


def test_a_cell_that_touches_the_next_column_is_parted_from_its_number() -> None:
    text = "Surface      Primer        Coats    Rate\nWalls        Sealer        1        300\nDoors        Enamel under- 2        400\n             coat\n"
    assert laid(text)[1] == "Doors | Primer: Enamel undercoat | Coats: 2 | Rate: 400"


def test_rows_go_on_behind_what_cuts_their_table() -> None:
    head = "No.   Room       Walls    Ceiling\n101   Lobby      PT-1     PT-2\n102   Store      PT-1     PT-2\n"
    assert (
        laid(head + "(a) Behind the desk only.\n103   Plant      PT-3     PT-4\n")[2]
        == "103 Plant | Walls: PT-3 | Ceiling: PT-4"
    )
    below = table_rows(head + "\nSECOND FLOOR\n201   Office     PT-1     PT-2\n202   Archive    PT-5     PT-2\n")
    assert [c.text for c in below[3].parents][:1] == ["SECOND FLOOR"]
    assert [h.text for h in below[3].cells[1].heads] == ["Walls"]


def test_a_legend_below_a_schedule_is_no_part_of_it() -> None:
    text = "No.   Room      Walls    Ceiling\n101   Lobby     PT-1     PT-2\n102   Store     PT-1     PT-2\n\nPAINT\nPT-1  Latex eggshell\nPT-2  Latex flat\n"
    assert laid(text)[2:] == ["PT-1 | Latex eggshell", "PT-2 | Latex flat"]


def test_every_cell_points_at_its_own_place() -> None:
    text = "ROOM     WALLS       CEILING\nStair    one coat    2 coats\nOffice   2 coats     2 coats\n"
    for row in table_rows(text):
        for cell in row.cells:
            assert cell.view.whole.text == cell.view.text
