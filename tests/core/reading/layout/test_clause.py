"""Clauses and the cells of a row: what stands beside a cell describes it, what stands beside it as another thing does not."""

from __future__ import annotations

from darby.reading.layout.clause import Cell, Clause, Column, Section
from darby.text.spans import Source, View


def cell(text: str, said_of: str | None = None) -> Cell:
    return Cell(View.of(Source("s.txt", text)), column=None if said_of is None else Column(said_of=said_of))


def test_a_cell_is_described_by_the_others_and_not_by_the_key_or_by_those_of_another_surface() -> None:
    key, walls, ceilings = cell("Hall", "place"), cell("2 coats", "surface"), cell("1 coat", "surface")
    sheen, remark = cell("satin", ""), cell("see note")
    row = Clause(key.view, cells=(key, walls, ceilings, sheen, remark))
    assert row.beside(walls) == (sheen, remark)
    assert row.beside(sheen) == (walls, ceilings, remark)
    assert row.beside(key) == (walls, ceilings, sheen, remark)


def test_the_text_of_a_clause_is_its_views() -> None:
    assert Clause(View.of(Source("s.txt", "Walls: two coats."))).text == "Walls: two coats."


def test_a_section_is_told_by_what_it_has() -> None:
    assert [str(Section(*one)) for one in (("09 91 23", "PAINTING"), ("09 91 23", ""), ("", "PAINTING"))] == [
        "09 91 23 PAINTING", "09 91 23", "PAINTING",
    ]  # fmt: skip
