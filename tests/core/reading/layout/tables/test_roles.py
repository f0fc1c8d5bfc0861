"""What a column holds and what it is said of are decided for the whole of it."""

from __future__ import annotations

from laid import table_rows


def kinds(text: str) -> list[tuple[str, str]]:
    table = table_rows(text)[0].table
    assert table is not None
    return [(column.role, column.said_of) for column in table.columns]


def test_heads_say_what_their_columns_hold() -> None:
    text = "CODE   COLOR        SHEEN      COATS   REMARKS\nPT-1   Limestone    satin      2       a\nPT-2   Fog          flat       1       b\n"
    assert kinds(text) == [("marks", ""), ("colors", ""), ("sheens", ""), ("amounts", ""), ("remarks", "")]


def test_the_heads_of_surfaces_say_what_their_codes_are_given_to() -> None:
    assert kinds("ROOM     WALLS    CEILING\nLobby    PT-1     PT-2\nIDF      PT-9     -\n") == [
        ("places", ""),
        ("marks", "surface"),
        ("marks", "surface"),
    ]


def test_keys_that_nobody_knows_are_places_where_codes_or_looks_are_given_to_surfaces() -> None:
    assert kinds("        WALLS    CEILING\nSluice  PT-1     PT-2\nGnome   PT-1     PT-3\n")[0] == ("places", "")
    assert kinds("        Coats    Film\nQuoin   2        1.5\nGnome   1        1.4\n")[0] == ("", "")


def test_cells_say_what_a_column_without_a_head_holds() -> None:
    assert [role for role, _ in kinds("Walls     satin      2     PT-1\nCeilings  flat       1     PT-2\n")] == [
        "surfaces",
        "sheens",
        "amounts",
        "marks",
    ]
    assert kinds("Spreading rate      400 sq ft/gal\nVolume solids       38 %\n")[0] == ("labels", "")


def test_things_across_are_what_their_columns_are_said_of() -> None:
    assert (
        kinds("            Type A    Type B\nLobby       PT-1      PT-2\nOffice      PT-3      PT-2\n")[1:]
        == [("marks", "place")] * 2
    )


def test_heads_of_one_order_stand_beside_each_other() -> None:
    text = "System   First coat   Second coat   Sheen\nW-1      Sealer       Eggshell      low\nW-2      Filler       Epoxy         high\n"
    assert [said for _, said in kinds(text)] == ["", "series", "series", ""]


def test_what_is_said_of_another_surface_does_not_describe_a_cell() -> None:
    row = table_rows(
        "ROOM     WALLS    CEILING   REMARKS\nLobby    PT-1     PT-2      new\nStore    PT-3     PT-2      old\n"
    )[0]
    walls, remarks = row.cells[1], row.cells[3]
    assert [c.view.text for c in row.beside(walls)] == ["new"]
    assert [c.view.text for c in row.beside(remarks)] == ["PT-1", "PT-2"]


def test_walls_are_columns_by_the_compass() -> None:
    rows = "Room    North   South\nHall    PT-1    PT-2\nStore   PT-3    PT-2\n"
    assert kinds(rows) == [("places", ""), ("marks", "surface"), ("marks", "surface")]
    letters = "Room    N       E       S       W\nHall    PT-1    PT-2    PT-1    PT-1\nStore   PT-3    PT-2    PT-1    PT-1\n"
    assert [said for _, said in kinds(letters)] == ["", *["surface"] * 4]


def test_the_items_of_a_bill_are_numbers_and_its_quantities_its_own() -> None:
    rows = "ITEM   DESCRIPTION                    QTY\nC/1    Two coats satin on walls       1,850\nC/2    One coat flat on ceilings      210\n"
    assert [kinds(rows)[n][0] for n in (0, 2)] == ["numbers", "quantities"]
    bare = "Walls, two coats satin ........ 104 SF\nCeilings, one coat flat ....... 90 SF\n"
    assert [role for role, _ in kinds(bare)] == ["statements", "quantities"]


def test_keys_under_the_name_of_a_dwelling_are_kinds_of_it() -> None:
    rows = "UNIT TYPE        S        J\nWalls, sheen     matte    satin\nDoors, sheen     gloss    gloss\n"
    assert kinds(rows)[0] == ("units", "")


def heads(text: str) -> list[list[str]]:
    table = table_rows(text)[0].table
    assert table is not None
    return [[head.text for head in column.heads] for column in table.columns]


def test_a_look_is_of_the_surface_before_it() -> None:
    text = "ROOM     WALLS    COLOR    CEILING   COLOR    SHEEN\nLobby    PT-1     Blue     PT-2      White    flat\n"
    assert heads(text)[1:] == [["WALLS"], ["WALLS", "COLOR"], ["CEILING"], ["CEILING", "COLOR"], ["CEILING", "SHEEN"]]


def test_a_look_behind_several_surfaces_may_be_of_all() -> None:
    text = "ROOM     WALLS    CEILING   COLOR\nLobby    PT-1     PT-2      White\nStore    PT-1     PT-2      White\n"
    assert heads(text)[1:] == [["WALLS"], ["CEILING"], ["COLOR"]]
