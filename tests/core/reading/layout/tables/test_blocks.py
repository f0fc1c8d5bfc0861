"""Lines stand together as a table where they have columns, or where their neighbours show that they are rows."""

from __future__ import annotations

import pytest

from darby.reading.layout.headings import label_lines
from darby.reading.layout.lines import split_lines
from darby.reading.layout.tables.blocks import blocks
from darby.text.spans import Source, View
from reads import language, said


def stands(text: str) -> list[tuple[str, int]]:
    """What parts each block, and of how many lines it is."""
    text = f"SCHEDULE\n\n{text}"
    lines = split_lines(text)
    label_lines(lines, View.of(Source("s.txt", text)), [])
    return [(block.parted, len(block.lines)) for block in blocks(lines)][1:]


def test_rows_with_gaps_end_at_a_line_without_columns() -> None:
    assert stands("Walls     2 coats\nCeilings  1 coat\nAll work is inside.\n") == [("gaps", 2), ("", 1)]


def test_one_row_alone_is_running_text_unless_it_holds_labels_and_values() -> None:
    assert stands("A heading      A-701\n") == [("", 1)]
    assert stands("Spread    400 sq ft/gal     Package    5 gal\n") == [("gaps", 1)]
    assert stands("Tape ....... 500 ft\n") == [("gaps", 1)]


def test_a_cell_goes_on_below_its_column_and_not_left_of_it() -> None:
    assert stands("W1    studs at 16 in.,\n      one layer\nW2    furring\n") == [("gaps", 3)]
    assert stands("W1    studs\nAll partitions run to the deck above, without exception.\n")[-1] == ("", 1)


def test_the_name_of_a_group_stays_with_the_rows_below_it() -> None:
    assert stands("Walls     PT-1    2\nSECOND FLOOR\nWalls     PT-2    2\n") == [("gaps", 3)]
    assert stands("Walls     PT-1    2\nPaint nothing else.\nWalls     PT-2    2\n") != [("gaps", 3)]


def test_a_blank_line_ends_rows_of_gaps_and_no_rows_of_pipes() -> None:
    assert stands("a     b\nc     d\n\ne     f\ng     h\n") == [("gaps", 2), ("gaps", 2)]
    assert stands("| a | b |\n\n| c | d |\n") == [("pipes", 2)]


def test_a_single_row_goes_on_with_a_table_just_above_whose_columns_it_shares() -> None:
    table = "101   Lobby    PT-1    PT-2\n102   Office   PT-1    PT-2\n"
    assert stands(table + "(a) Paint behind the desk.\n103   Store    PT-3    PT-2\n")[-1] == ("gaps", 1)
    assert stands(table + "(a) Paint behind the desk.\nsee      sheet      A-701\n")[-1] == ("", 1)


def test_codes_with_one_blank_behind_them_are_a_legend_where_three_of_a_kind_open_lines() -> None:
    assert stands("PT-1 eggshell\nPT-2 flat\nPT-3 gloss over\nan undercoat\n") == [("marks", 4)]
    assert stands("PT-1 eggshell\nPT-2 flat\n") == [("", 1), ("", 1)]
    assert stands("PT-1 eggshell\nW2 studs\nPT-3 gloss\n") == [("", 1)] * 3
    assert stands("PT-1 eggshell\nPT-1 flat\nPT-1 gloss\n") == [("", 1)] * 3


def test_commas_and_single_pipes_want_lines_that_agree() -> None:
    assert stands("a,b,c\nd,e,f\ng,h,i\n") == [("commas", 3)]
    assert stands("a,b,c\nd,e,f\n") == [("", 1), ("", 1)]
    assert stands("Lobby | PT-1\nOffice | PT-2\n") == [("pipes", 2)]
    assert stands("Lobby | PT-1\nOffice PT-2\n") == [("", 1), ("", 1)]


def test_a_box_begins_with_its_upper_edge() -> None:
    assert stands("+---+---+\n| a | b |\n+---+---+\n| c | d |\n+---+---+\n") == [("pipes", 5)]


def test_numbered_paragraphs_are_no_rows() -> None:
    assert stands("A.   Walls shall be even.\nB.   Ceilings too.\n") == [("", 1), ("", 1)]


def test_the_number_of_a_room_is_no_paragraph_where_rows_like_it_stand_above() -> None:
    text = "1.03  Ceramics   E4     E1\n1.04  Archive    left as it is\n"
    assert stands(text) == [("gaps", 2)]


@pytest.mark.parametrize("text", [". . . : ", ". . .", "- - - -\n", "Room  Walls\n. . . : "])
def test_a_rule_at_the_very_end_of_a_text_is_no_table_and_stops_nothing(text: str) -> None:
    assert said(text) == []


SHEET = "{}\nNo.,Room,Walls,Ceiling,Remarks\n101,Lobby,P1,P2,\n102,Porch,P1,P2,\n103,Nave,P2,P2,\n,,,,\n{}"


@pytest.mark.parametrize(
    ("behind", "blocks_of"),
    [
        ("LEGEND,,,,\nCode,Description,Colour,Sheen,Coats\nP1,Latex,White,flat,2\nP2,Latex,Grey,satin,3\n", [6, 4]),
        ("Code,Description,Colour,Sheen,Coats\nP1,Latex,White,flat,2\nP2,Latex,Grey,satin,3\n", [6, 3]),
        ("Notes,,,,\n1,Two coats on walls.,,,\n2,One coat on ceilings.,,,\n", [6, 3]),
        ("LEVEL 2,,,,\n201,Loft,P1,P2,\n202,Bell room,P1,P2,\n", [9]),
        ("201,Loft,P1,P2,\n202,Bell room,P1,P2,\n", [8]),
    ],
)
def test_a_sheet_that_was_written_as_one_is_several_tables(behind: str, blocks_of: list[int]) -> None:
    text = SHEET.format("TITLE,,,,", behind)
    lines = split_lines(text)
    label_lines(lines, View.of(Source("s.txt", text)), [])
    found = [len(block.lines) for block in blocks(lines, language().means) if block.parted]
    assert found == blocks_of


def test_the_legend_of_such_a_sheet_defines_its_marks() -> None:
    behind = "LEGEND,,,,\nCode,Product,Colour,Sheen,Finish coats\nP1,Latex,White,flat,2\nP2,Latex,Grey,satin,3\n"
    rules = said(SHEET.format("FINISHES,,,,", behind))
    assert "system of finish paint (room lobby, surface wall): P1" in rules
    assert sum("mark P" in rule for rule in rules) > 1
