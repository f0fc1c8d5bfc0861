"""What a line with a label says of where its block holds."""

from __future__ import annotations

import pytest

from darby.reading.document.blocks.block_lines import plain, says_where
from darby.reading.layout.clause import Clause
from darby.text.spans import Source, View

HEADS = {"location": "places", "substrate": "surfaces"}


@pytest.mark.parametrize(
    ("text", "found"),
    [("Location: Vestry", 10), ("LOCATION - Vestry", 11), ("Substrate: walls", None), ("Locations vary", None), ("Location:", None)],
)  # fmt: skip
def test_a_line_says_where_by_its_label(text: str, found: int | None) -> None:
    view = View.of(Source("s.txt", text))
    assert says_where(Clause(view), HEADS) == (None if found is None else (view, found))


def test_a_label_is_told_without_its_signs() -> None:
    assert plain("  Where  Used: ") == "where used"
