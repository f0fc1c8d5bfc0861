"""Whichever way a table lies on its page, each of its rows is of one thing and begins with its name."""

from __future__ import annotations

import pytest

from laid import laid, table_rows


def test_properties_down_and_looks_across_are_turned() -> None:
    text = "                     Matte     Satin     Gloss\nVolume solids, %     38        36        34\nRate, sq ft/gal      375       380       400\nCoats                2         2         3\n"
    assert laid(text) == [
        "Matte | Volume solids, %: 38 | Rate, sq ft/gal: 375 | Coats: 2",
        "Satin | Volume solids, %: 36 | Rate, sq ft/gal: 380 | Coats: 2",
        "Gloss | Volume solids, %: 34 | Rate, sq ft/gal: 400 | Coats: 3",
    ]
    assert all(row.table is not None and row.table.turned for row in table_rows(text))


def test_rooms_across_and_surfaces_down_are_turned() -> None:
    text = "| Surface | Lobby | Office | Servery |\n|---|---|---|---|\n| Walls | PT-1 | PT-2 | PT-3 |\n| Ceiling | PT-4 | PT-4 | |\n"
    assert laid(text) == [
        "Lobby | Walls: PT-1 | Ceiling: PT-4",
        "Office | Walls: PT-2 | Ceiling: PT-4",
        "Servery | Walls: PT-3",
    ]


def test_types_of_dwellings_across_are_turned_with_their_counts() -> None:
    text = "                 Type A     Type B\nNo. of units     12         8\nBathroom walls   E3         E4\nCeilings         E1         E1\n"
    assert laid(text) == [
        "Type A | No. of units: 12 | Bathroom walls: E3 | Ceilings: E1",
        "Type B | No. of units: 8 | Bathroom walls: E4 | Ceilings: E1",
    ]


@pytest.mark.parametrize(
    "text",
    [
        "Surface     Coats   Sheen\nWalls       2       satin\nCeilings    1       flat\n",
        "Room       Walls    Ceiling\nLobby      PT-1     PT-2\nOffice     PT-3     PT-2\n",
        "Product     Solids, %   Coats\nPrimer      28          1\nFinish      38          2\n",
        "Room       Walls    Ceiling\nLEVEL 1\nLobby      PT-1     PT-2\nLEVEL 2\nOffice     PT-3     PT-2\n",
        "            US           Metric\nRate        400 sq ft/gal    10 m2/L\nFilm        1.5 mils     38 microns\n",
    ],
)
def test_other_tables_lie_as_they_should(text: str) -> None:
    assert not any(row.table is not None and row.table.turned for row in table_rows(text))


def test_names_of_groups_of_properties_stand_over_their_heads() -> None:
    text = "               Matte     Satin\nWET\n  Film, mils   4.3       4.1\nDRY\n  Film, mils   1.6       1.4\n"
    assert laid(text)[0] == "Matte | WET / Film, mils: 4.3 | DRY / Film, mils: 1.6"


def test_a_number_before_a_name_is_one_key_with_it() -> None:
    assert (
        laid("NO.    ROOM        WALLS\n101    Lobby       PT-1\n102    Mail room   PT-2\n")[1]
        == "102 Mail room | WALLS: PT-2"
    )
    assert (
        laid(
            "ROOM               WALLS     CEILING\n0.01  Foyer        E2        E1\n0.02  Servery      E3        E1\n"
        )[0]
        == "0.01 Foyer | WALLS: E2 | CEILING: E1"
    )
    assert laid("101   Lobby     PT-1    PT-2\n102   Office    PT-1    PT-2\n")[0] == "101 Lobby | PT-1 | PT-2"


def test_numbers_that_only_count_rows_stand_behind_what_they_count() -> None:
    text = "| Item | Surface | Coats |\n|---|---|---|\n| 1 | Walls | 2 |\n| 2 | Ceilings | 1 |\n"
    assert laid(text) == ["Walls | Item: 1 | Coats: 2", "Ceilings | Item: 2 | Coats: 1"]


def test_codes_that_rows_define_stay_their_keys() -> None:
    assert (
        laid("E1    vinyl matt ..... 1 mist, 2 full\nE2    eggshell ....... 2 full\n")[0]
        == "E1 | vinyl matt | 1 mist, 2 full"
    )


def test_amounts_before_places_change_sides() -> None:
    assert laid("LEVEL    WHERE\n4        offices\n5        lobby\n") == ["offices | LEVEL: 4", "lobby | LEVEL: 5"]
    assert laid("Two coats      walls\nOne coat       ceilings\n") == ["walls | Two coats", "ceilings | One coat"]
    assert laid("Walls       two coats\nCeilings    one coat\n")[0] == "Walls | two coats"


def test_bare_numbers_take_the_heading_that_names_a_measure() -> None:
    listed = "3    stores\n5    lobby\n1    above ceilings\n"
    assert laid("FINISH LEVELS\n" + listed)[0] == "stores | FINISH LEVELS: 3"
    assert laid("ROOMS OF THE FIRST STAGE\n" + listed)[0] == "3 | stores"
    # 1, 2, 3 only number their lines
    assert laid("FINISH LEVELS\n1    stores\n2    lobby\n3    above ceilings\n")[0] == "1 | stores"


def test_labels_and_values_by_turns_become_one_pair_to_a_row() -> None:
    text = "Spreading rate    400 sq ft/gal      Package     5 gal pails\nVolume solids     38 %               Coats       2\n"
    assert laid(text) == [
        "Spreading rate | 400 sq ft/gal",
        "Package | 5 gal pails",
        "Volume solids | 38 %",
        "Coats | 2",
    ]
    assert laid("Walls     2 coats     satin     350 sq ft/gal\nCeilings  1 coat      flat      400 sq ft/gal\n")[
        0
    ].startswith("Walls | 2 coats | satin")


def test_ditto_marks_stand_for_the_cell_above_at_their_own_place() -> None:
    text = 'Room       Walls     Ceiling\nLobby      PT-1      PT-2\nOffice     "         ditto\nStore      do.       PT-3\n'
    assert laid(text)[1:] == ["Office | Walls: PT-1 | Ceiling: PT-2", "Store | Walls: PT-1 | Ceiling: PT-3"]
    cell = table_rows(text)[1].cells[1]
    assert (cell.view.whole.text, cell.view.whole.line) == ('"', 5)


def test_ditto_marks_in_a_turned_table_stand_for_the_cell_to_the_left_where_the_first_line_has_one() -> None:
    head = "| Surface | Lobby | Office |\n|---|---|---|\n"
    assert laid(head + '| Walls | PT-1 | " |\n| Ceiling | PT-4 | do. |\n')[1] == "Office | Walls: PT-1 | Ceiling: PT-4"
    assert laid(head + '| Walls | PT-1 | PT-2 |\n| Ceiling | PT-4 | " |\n')[1] == 'Office | Walls: PT-2 | Ceiling: "'


def test_the_head_in_the_corner_holds_for_all_cells_where_it_names_a_measure() -> None:
    text = (
        'SCREW SPACING      Walls      Ceilings\nSingle layer       16"        12"\nBase layer         24"        16"\n'
    )
    assert laid(text)[0] == 'Single layer | SCREW SPACING / Walls: 16" | SCREW SPACING / Ceilings: 12"'
