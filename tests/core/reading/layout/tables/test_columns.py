"""Lines in columns become rows of cells that know the heads over them and the key before them."""

from __future__ import annotations

from darby.reading.layout.clause import Clause
from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.text.spans import Source
from reads import language


def rows(text: str) -> list[Clause]:
    """The rows of the table under a title, which are the clauses that have cells."""
    layout = clauses(mend(Source("s.txt", f"SCHEDULE\n\n{text}"), language().known), language().known)
    return [c for c in layout.clauses if c.cells]


def cells(row: Clause) -> list[tuple[str, tuple[str, ...], bool]]:
    return [(c.view.text, tuple(h.text for h in c.heads), c.again) for c in row.cells]


def test_a_table_of_blanks_has_heads_over_its_cells() -> None:
    first, second = rows("ROOM     WALLS       CEILING\nStair    one coat    2 coats\nOffice   2 coats     2 coats\n")
    assert cells(first) == [
        ("Stair", ("ROOM",), False),
        ("one coat", ("WALLS",), False),
        ("2 coats", ("CEILING",), False),
    ]
    assert cells(second)[0] == ("Office", ("ROOM",), False)


def test_a_table_of_pipes_loses_its_rule() -> None:
    first, second = rows("| Product | Coats |\n|---|---|\n| Primer | 1 |\n| Paint | 2 |\n")
    assert cells(first) == [("Primer", ("Product",), False), ("1", ("Coats",), False)]
    assert cells(second) == [("Paint", ("Product",), False), ("2", ("Coats",), False)]


def test_a_first_cell_left_empty_carries_down_and_is_counted_once() -> None:
    text = "Surface     Product     Coats\nWalls 1     Primer      1\n            Paint       2\n"
    _, second = rows(text)
    assert cells(second)[0] == ("Walls 1", ("Surface",), True)
    assert [c[0] for c in cells(second)] == ["Walls 1", "Paint", "2"]


def test_leader_dots_part_a_label_from_its_value() -> None:
    first, second = rows("Joint compound .......... 62 lb pails\nJoint tape .............. 500 ft rolls\n")
    assert [c[0] for c in cells(first)] == ["Joint compound", "62 lb pails"]
    assert [c[0] for c in cells(second)] == ["Joint tape", "500 ft rolls"]


def test_labels_and_values_in_two_columns_have_no_head() -> None:
    first, _ = rows("Walls      two coats\nCeilings   one coat\n")
    assert cells(first) == [("Walls", (), False), ("two coats", (), False)]


def test_every_cell_points_at_its_own_place() -> None:
    text = "ROOM     WALLS       CEILING\nStair    one coat    2 coats\n"
    for row in rows(text):
        for cell in row.cells:
            assert cell.view.whole.text == cell.view.text


def test_running_text_is_no_table() -> None:
    assert rows("Apply two coats of primer.\nSand the walls smooth.\n") == []
