"""Tables come back as they were, and no spreadsheet changes a cell."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.documents.tables import Column, Sheet, decimal, defused, read_csv, to_csv


@pytest.mark.parametrize("text", ["1/2", "2-3", "12:30", "1,200", "0012", "1e5", "=1", " =1", "'x", "-", "+a", "\tx"])
def test_what_a_spreadsheet_would_change_has_an_apostrophe_in_front(text: str) -> None:
    assert defused(text) == f"'{text}"


@pytest.mark.parametrize("text", ["1/2 in", "satin, wall", "semi-gloss", "4 ft x 8 ft", "", "north wall"])
def test_plain_text_stays_as_it_is(text: str) -> None:
    assert defused(text) == text


TEXT = st.text(
    st.characters(blacklist_categories=("Cc", "Cf", "Cs", "Cn", "Zl", "Zp")) | st.sampled_from("\n\r\t=+-@'\",;")
)


@given(st.lists(st.tuples(TEXT, st.fractions(), st.integers()), max_size=5))
def test_a_table_comes_back_as_it_was(rows: list[tuple[str, Fraction, int]]) -> None:
    data = to_csv(Sheet("t", (Column("text"), Column("value", exact=True), Column("count")), tuple(rows)))
    back = [(r["text"], Fraction(r["value exact"]), int(r["count"])) for r in read_csv(data)]
    assert back == rows


@given(st.fractions())
def test_a_decimal_is_within_half_a_millionth(value: Fraction) -> None:
    assert abs(Fraction(decimal(value)) - value) <= Fraction(1, 2_000_000)
