"""Legends whose rows run on in one line."""

from __future__ import annotations

import pytest

from darby.reading.layout.tables.run_on import rows_of


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("PT-1 Matte, Reed. PT-2 Satin, Slate.", ["PT-1 Matte, Reed. ", "PT-2 Satin, Slate."]),
        ("W1: one layer; W2: two layers, W3: as W1", ["W1: one layer; ", "W2: two layers, ", "W3: as W1"]),
        ("PT-1: oil, two coats PT-2: wax", ["PT-1: oil, two coats ", "PT-2: wax"]),
        ("PT-1 = Reed; PT-2 = Slate. Two coats each.", ["PT-1 = Reed; ", "PT-2 = Slate.", "Two coats each."]),
        ("PT-1 Matte. One coat. PT-2 Satin. Two coats.", ["PT-1 Matte. One coat. ", "PT-2 Satin. Two coats."]),
        ("PT-1 on walls; PT-2 on ceilings; two coats each.", []),
        ("PT-1 and PT-2 are matte. PT-3 is satin.", []),
        ("PT-1 Matte, as PT-2 Satin.", []),
        ("W1 One layer. PT-2 Satin.", []),
        ("Walls: PT-1 Matte. PT-2 Satin.", []),
        ("PT-1: Matte.", []),
    ],
)  # fmt: skip
def test_each_code_opens_a_row_and_what_is_said_of_all_stands_alone(text: str, rows: list[str]) -> None:
    assert [text[start:end] for start, end in rows_of(text)] == rows
