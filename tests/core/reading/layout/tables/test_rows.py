"""Wrapped cells are joined, keys carry down, and the names of groups stand over their rows."""

from __future__ import annotations

from laid import laid, table_rows


def test_a_first_cell_left_empty_carries_down_and_is_counted_once() -> None:
    text = "Surface     Product     Coats\nWalls 1     Primer      1\n            Paint       2\n"
    assert laid(text) == ["Walls 1 | Product: Primer | Coats: 1", "<Walls 1> | Product: Paint | Coats: 2"]


def test_all_keys_before_the_first_own_cell_carry_down_and_none_behind_it() -> None:
    text = "| Floor | Surface | Product | Coats | Sheen |\n|---|---|---|---|---|\n| Upper | Walls | Primer | 1 | none |\n| | | Paint | 2 | |\n| | Ceilings | Paint | 1 | flat |\n"
    assert laid(text)[1:] == [
        "<Upper> | Surface: <Walls> | Product: Paint | Coats: 2",
        "<Upper> | Surface: Ceilings | Product: Paint | Coats: 1 | Sheen: flat",
    ]


def test_cells_that_break_off_go_on_in_the_next_line() -> None:
    text = "System    Primer             Finish              Coats\nP1        Latex primer-      Acrylic latex,      2\n          sealer, tinted     low odor\nP2        Alkyd              Enamel              1\n"
    assert laid(text) == [
        "P1 | Primer: Latex primer-sealer, tinted | Finish: Acrylic latex, low odor | Coats: 2",
        "P2 | Primer: Alkyd | Finish: Enamel | Coats: 1",
    ]


def test_a_key_that_begins_small_goes_on() -> None:
    assert laid("LOCATION          TYPE\nTenant            W2\nseparation\nLobby             W1\n") == [
        "Tenant separation | TYPE: W2",
        "Lobby | TYPE: W1",
    ]


def test_a_word_that_had_no_room_goes_on_and_one_that_had_room_does_not() -> None:
    text = "W1    studs at 16 in. on center, one layer on both sides of the partition\n      Extend to deck\nW2    Furring\n      One layer\n"
    assert laid(text) == [
        "W1 | studs at 16 in. on center, one layer on both sides of the partition Extend to deck",
        "W2 | Furring",
        "<W2> | One layer",
    ]


def test_a_row_with_values_of_its_own_goes_on_with_none() -> None:
    text = "Surface     Product     Coats\nwalls       primer      1\n            paint       2\nceilings    primer      1\n"
    assert laid(text)[1] == "<walls> | Product: paint | Coats: 2"


def test_drawn_boxes_hold_all_lines_of_their_rows() -> None:
    text = "+--------+-------+\n| System | Coats |\n+========+=======+\n| P2 for | 2     |\n| Doors  |       |\n+--------+-------+\n| P3     | 1     |\n+--------+-------+\n"
    assert laid(text) == ["P2 for Doors | Coats: 2", "P3 | Coats: 1"]


def test_statements_below_a_code_stand_under_its_row() -> None:
    text = 'W3   6" studs at 16" o.c.\n     Corridor side: two layers.\n     Room side: one layer.\nW4   Furring.\n'
    rows = table_rows(text)
    assert laid(text)[1] == "<W3> | Corridor side: two layers."
    assert [c.text for c in rows[1].parents][:1] == ['W3 | 6" studs at 16" o.c.']
    assert rows[3].parents == rows[0].parents


def test_lines_that_hang_below_a_code_stand_under_its_row() -> None:
    from laid import layout

    text = "W1  3-5/8 in. studs at 16 in.\n    - corridor side: two layers\n    - room side: one layer\nW2  furring at 24 in.\n\nScrews at 12 in.\n"
    clauses = {c.text: c for c in layout(text).clauses}
    assert clauses["room side: one layer"].parents[0].text == "W1 | 3-5/8 in. studs at 16 in."
    assert clauses["W2 | furring at 24 in."].parents[0].text == "SCHEDULE"
    assert [p.text for p in clauses["Screws at 12 in."].parents] == ["SCHEDULE"]


def test_members_that_are_set_in_stand_under_their_group_until_it_ends() -> None:
    text = "Surface        Coats   Sheen\nWalls\n  Offices      2       eggshell\n  Toilets      2       semi-gloss\nCeilings       1       flat\n"
    rows = table_rows(text)
    assert [row.parents[0].text for row in rows] == ["Walls", "Walls", "SCHEDULE"]


def test_names_of_groups_in_capitals_follow_each_other() -> None:
    text = "Room         Walls   Ceiling\nLEVEL 1\nLobby        PT-1    PT-2\nLEVEL 2\nOffice       PT-3    PT-2\n"
    assert [row.parents[0].text for row in table_rows(text)] == ["LEVEL 1", "LEVEL 2"]
    text = "LEVEL 1\nLobby        PT-1    PT-2\nStore        PT-1    PT-2\nLEVEL 2\nOffice       PT-3    PT-2\n"
    assert [p.text for p in table_rows(text)[2].parents][:2] == ["LEVEL 2", "SCHEDULE"]


def test_a_room_without_finishes_is_no_group() -> None:
    text = "Room         Walls   Ceiling\nLobby        PT-1    PT-2\nArchive\nOffice       PT-3    PT-2\n"
    assert [row.parents[0].text for row in table_rows(text)] == ["SCHEDULE"] * 3


def test_heads_that_come_back_on_the_next_page_are_no_row() -> None:
    text = "Room         Walls   Ceiling\nLobby        PT-1    PT-2\nRoom         Walls   Ceiling\nOffice       PT-3    PT-2\n"
    assert laid(text) == ["Lobby | Walls: PT-1 | Ceiling: PT-2", "Office | Walls: PT-3 | Ceiling: PT-2"]


def test_no_row_takes_more_lines_than_a_page_has() -> None:
    text = "System    Primer\nP1        sealer,\n" + "          and more,\n" * 60
    longest = max(len(row.text) for row in table_rows(text))
    assert longest < 400
