"""Codes that look like marks and number something else."""

from __future__ import annotations

import pytest

from darby.reading.document.marks.no_marks import cites_clause, numbers_of_clauses, numbers_of_notes, of_a_sheet
from darby.reading.layout.clause import Clause
from darby.text.spans import Source, View
from reads import read_text


def clauses(*texts: str) -> list[Clause]:
    return [Clause(View.of(Source("spec.txt", text))) for text in texts]


def of_walls(view: View) -> bool:
    return "walls" in view.text


def test_codes_that_open_lines_of_which_many_define_nothing_number_notes() -> None:
    assert numbers_of_notes(clauses("N1 Tape.", "N2 Two coats on walls.", "N3 Keep dry."), of_walls) == {
        "N1",
        "N2",
        "N3",
    }


@pytest.mark.parametrize(
    "texts",
    [
        ("N1 One on walls.", "N2 Two on walls.", "N3 Three on walls."),
        ("N1 Tape.", "N2 Two coats on walls.", "N3 Keep dry.", "Walls of the hall: N2."),
        ("N1 Tape.", "N2 Keep dry."),
    ],
)
def test_codes_that_define_or_are_used_number_no_notes(texts: tuple[str, ...]) -> None:
    assert numbers_of_notes(clauses(*texts), of_walls) == set()


def test_a_code_that_an_exception_cites_is_that_of_a_clause() -> None:
    text = "One coat, unless another is given in B3."
    assert cites_clause(text, text.index("B3"))
    assert numbers_of_clauses(["B2", "B3"], clauses(text, "B2 Walls", "B3 Ceilings")) == {"B2", "B3"}


def test_the_number_of_a_drawing_stands_in_a_title_once() -> None:
    assert of_a_sheet("A-010", clauses("Notes on A-010", "Walls: one coat."))
    assert not of_a_sheet("A-010", clauses("Notes", "A-010: one coat."))
    assert not of_a_sheet("P1", clauses("Notes on P1"))


TITLES = (
    "K10 PLASTERBOARD DRY LINING AND CEILINGS",
    "K10  Plasterboard dry linings",
    "K13 LININGS",
    "M60 PAINTING",
    "K10: PLASTERBOARD",
)


@pytest.mark.parametrize("title", TITLES)
@pytest.mark.parametrize("above", ["", "MILL LANE SURGERY\n", "MILL LANE SURGERY\n\n", "SPECIFICATION\nPart 2\n\n"])
def test_the_number_of_a_section_of_works_is_no_mark(title: str, above: str) -> None:
    text = f"{above}{title}\n\nWalls: one layer 12.5 mm wallboard, three coats matt emulsion.\n"
    rules = read_text(text).rules
    assert {rule.kind.name for rule in rules} >= {"thickness", "coats"}
    assert not any("mark" in rule.scope or rule.kind.name == "system" for rule in rules)
    assert not any(rule.confirm for rule in rules), [rule.confirm for rule in rules]


def test_a_number_of_a_section_that_a_cell_gives_to_something_is_a_mark() -> None:
    text = "LEGEND\nK10: one layer 12.5 mm wallboard\n\nRoom    Walls\nHall    K10\nPorch   K10\n"
    assert any(rule.scope.get("mark") == "K10" for rule in read_text(text).rules)
