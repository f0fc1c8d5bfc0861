"""Footnotes of tables and the cells that cite them are told of each other."""

from __future__ import annotations

from darby.reading.layout.clause import Clause
from laid import laid, layout, table_rows

HEAD = "ROOM         WALLS     CEILING   REMARKS\n"


def note(text: str, begins: str) -> Clause:
    return next(c for c in layout(text).clauses if c.text.startswith(begins))


def cited(clause: Clause) -> list[tuple[str, str]]:
    """The key of each row, and the cell, where it is not the whole row, that cites a footnote."""
    return [(c.row.cells[0].view.text, c.cell.view.text if c.cell is not None else "") for c in clause.cited_by]


def test_a_letter_among_the_remarks_is_cited_by_its_whole_row() -> None:
    text = (
        HEAD
        + "Lobby        PT-1      PT-2      (a)\nOffice       PT-3      PT-2      (b)\nStore        PT-3      PT-2      (a)\n\n(a)  South wall PT-3.\n(b)  Level 5.\n"
    )
    assert cited(note(text, "South wall")) == [("Lobby", ""), ("Store", "")]
    assert [n.text for n in table_rows(text)[1].notes] == ["Level 5."]


def test_a_sign_behind_a_code_is_cited_by_its_cell_and_cut_off() -> None:
    text = (
        HEAD
        + "Lobby        PT-1 *    PT-2\nOffice       PT-3      PT-2 (1)  dry\n* North wall in plum.\n(1) One coat only.\n"
    )
    assert laid(text)[0] == "Lobby | WALLS: PT-1 | CEILING: PT-2"
    assert cited(note(text, "North wall")) == [("Lobby", "PT-1")]
    assert [n.text for n in table_rows(text)[1].cells[2].notes] == ["One coat only."]


def test_a_mark_behind_a_room_is_cited_by_its_row() -> None:
    text = HEAD + "Lobby (a)    PT-1      PT-2\nOffice       PT-3      PT-2\n(a) Existing.\n"
    assert cited(note(text, "Existing")) == [("Lobby", "")]
    assert laid(text)[0].startswith("Lobby |")


def test_a_cell_that_only_cites_keeps_its_place_and_is_not_read() -> None:
    text = HEAD + "Lobby        (a)       PT-2\nOffice       PT-3      PT-2\n(a) See the artist.\n"
    cell = table_rows(text)[0].cells[1]
    assert cell.again
    assert [n.text for n in cell.notes] == ["See the artist."]


def test_numbers_among_the_remarks_cite_numbered_notes() -> None:
    text = (
        HEAD
        + "Lobby        PT-1      PT-2      1, 2\nOffice       PT-3      PT-2      Note 2\n\nNotes:\n1. East wall in PT-5.\n2. Two coats only.\n"
    )
    assert cited(note(text, "East wall")) == [("Lobby", "")]
    assert cited(note(text, "Two coats")) == [("Lobby", ""), ("Office", "")]


def test_a_raised_number_is_a_footnote_and_a_square_metre_is_none() -> None:
    text = "Product      Rate      Area\nPrimer¹      300       12 m²\nFinish       350       14 m²\n¹ On smooth board.\n² No note.\n"
    assert cited(note(text, "¹ On")) == [("Primer", "")]
    assert table_rows(text)[0].cells[2].view.text == "12 m²"


def test_a_mark_in_a_head_is_cited_by_the_cells_of_its_column() -> None:
    text = "Surface      Spacing*    Length\nWalls        16          1\nCeilings     12          2\n* On center.\n"
    assert cited(note(text, "On center")) == [("Walls", "16"), ("Ceilings", "12")]


def test_what_is_not_defined_below_stays_in_its_cell() -> None:
    text = HEAD + "Lobby        PT-1 *    PT-2\nOffice       PT-3      PT-2\nAll work is inside.\n"
    assert laid(text)[0] == "Lobby | WALLS: PT-1 * | CEILING: PT-2"


def test_no_footnote_stands_under_another() -> None:
    text = (
        HEAD
        + "Lobby        PT-1 *    PT-2      1\nOffice       PT-3      PT-2      2\n1. East wall in PT-5.\n2. Two coats only.\n* North wall in plum.\n"
    )
    assert [p.text for p in note(text, "North wall").parents] == ["SCHEDULE"]


def test_a_note_may_stand_in_a_table_of_notes() -> None:
    text = (
        HEAD
        + "Lobby        PT-1      PT-2      a\nOffice       PT-3      PT-2      b\n\na    South wall PT-3\nb    Level 5\n"
    )
    assert [n.text for n in table_rows(text)[0].notes] == ["a | South wall PT-3"]
