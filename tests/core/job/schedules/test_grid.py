"""Lines and cells of a table, found where they stand."""

from __future__ import annotations

import pytest

from darby.job.schedules.grid import Grid, cells, line_end, next_line, unquoted
from darby.text.spans import Source


@pytest.mark.parametrize(
    ("line", "parting", "found"),
    [
        ("a, b ,c", ",", ["a", "b", "c"]),
        ('"a,b" , "c""d"', ",", ["a,b", 'c""d']),
        ("8'-6\";x", ";", ["8'-6\"", "x"]),
        ("a\t\tb", "\t", ["a", "", "b"]),
        ("", ",", [""]),
        (",", ",", ["", ""]),
        ('"open,b', ",", ['"open', "b"]),
    ],
)
def test_cells_stand_without_blanks_and_quotes(line: str, parting: str, found: list[str]) -> None:
    assert [line[a:b] for a, b in cells(line, 0, len(line), parting)] == found


def test_lines_end_before_their_ends_and_those_of_blanks_are_passed_over() -> None:
    text = "a\r\n ,;\n\nb"
    assert (line_end(text, 0), next_line(text, 1), next_line(text, len(text))) == (1, 8, None)
    assert unquoted(' 8\'-6"" ') == "8'-6\""


def test_a_cell_that_is_not_there_is_its_line() -> None:
    grid = Grid(Source("x", "a,b\nc"), ",", {"one": 0, "two": 1}, [0, 4])
    assert [grid.at(path).value.text for path in ((0, "two"), (1, "two"), (1,), ())] == ["b", "c", "c", "a,b"]
    assert not grid.is_broken(())
