"""Kinds of dwellings by their letters."""

from __future__ import annotations

import pytest

from darby.reading.document.marks.dwellings import lettered, of_dwellings
from darby.reading.layout.clause import Clause
from darby.text.spans import Source, View


def clauses(*texts: str) -> list[Clause]:
    return [Clause(View.of(Source("spec.txt", text))) for text in texts]


@pytest.mark.parametrize(
    ("texts", "told"),
    [
        (("Type A: 12 units.", "Type B: 8 units."), True),
        (("Type A flats: two coats.",), True),
        (("Type A walls: two layers on the unit side.",), False),
        (("Type X board in all apartments.",), False),
        (("Type A: one layer.", "Type B: two layers."), False),
    ],
)
def test_a_letter_is_of_dwellings_where_a_clause_says_so(texts: tuple[str, ...], told: bool) -> None:
    assert of_dwellings(clauses(*texts)) is told


def test_two_letters_that_mean_nothing_in_the_trade_tell_kinds_apart() -> None:
    assert lettered(clauses("Type A", "Type B"))
    assert not lettered(clauses("Type A", "Type X"))
