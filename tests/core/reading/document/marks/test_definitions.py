"""Of what a mark's definition makes it a system."""

from __future__ import annotations

import pytest

from darby.reading.binding.choices import SYSTEM
from darby.reading.document.marks.definitions import hint_kind, subject_of
from reads import language


@pytest.mark.parametrize(
    ("said", "of"),
    [
        ("New plasterboard: two coats matt emulsion", "finish paint"),
        ("Gypsum board on furring: one layer moisture resistant gypsum board", "gypsum board"),
        ("Gypsum board ceilings, satin", "finish paint"),
        ("Paint: as selected", "finish paint"),
        ("two layers each side", "gypsum board"),
        ("Fire resistant system. Sealer, one coat; finish paint, two coats", "finish paint"),
        ("Mould resistant system. Sealer: one coat. Others: two coats", "finish paint"),
        ("Fire resistant each side, two coats matt emulsion", "gypsum board"),
        ("Fire resistant, two layers, two coats matt emulsion", "gypsum board"),
        ("see drawings", ""),
    ],
)
def test_what_stands_behind_a_label_goes_before_what_it_goes_on(said: str, of: str) -> None:
    lexicon = language().lexicon
    assert subject_of(lexicon.tags(said), lexicon, SYSTEM) == of


def test_a_counting_word_speaks_of_its_kind() -> None:
    lexicon = language().lexicon
    assert [hint_kind(t) for t in lexicon.tags("layers") if hint_kind(t)] == ["layers"]
