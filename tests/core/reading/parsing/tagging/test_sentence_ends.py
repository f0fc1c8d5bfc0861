"""A stop behind a unit ends a sentence where capitals, a label, a verb or a complete rate say so."""

from __future__ import annotations

import pytest

from reads import language


def ends(text: str) -> list[str]:
    """What stands before each stop that is not the last sign."""
    tags = language().lexicon.tags(text)
    return [text[: t.start + 1].rsplit(maxsplit=1)[-1] for t in tags if t.name == "STOP" and t.start < len(text) - 1]


@pytest.mark.parametrize("text", [
    "Screws at 16 in. Nails at 8 in.",
    "Screws at 16 in. A coat of primer.",
    "SCREWS AT 16 IN. APPLY PRIMER.",
    "WALLS: 16 IN. CEILINGS: 12 IN.",
    "walls: 16 in. ceilings: 12 in.",
])  # fmt: skip
def test_a_sentence_ends_behind_the_inches(text: str) -> None:
    assert len(ends(text)) == 1


@pytest.mark.parametrize("text", [
    "Walls: 5/8 in. Type X board.",
    "WALLS: 5/8 IN. TYPE X BOARD.",
    "SCREWS 12 IN. O.C. MAX. ON WALLS.",
    "Board 4 ft. x 8 ft. sheets.",
    "walls: 5/8 in. thick board.",
    "CEILINGS 8 FT. 6 IN. HIGH.",
    "30 LB PER 100 SQ FT. WALLS.",
])  # fmt: skip
def test_none_ends_where_the_length_is_still_spoken_of(text: str) -> None:
    assert ends(text) == []


def test_a_rate_is_complete_with_its_lower_unit() -> None:
    assert ends("PRIMER 300 SQ FT PER GAL. FINISH PAINT 350 SQ FT PER GAL.") == ["GAL."]
    assert ends("PRIMER 300 SQ FT PER GAL. 2 COATS OF FINISH PAINT.") == ["GAL."]


def test_two_blanks_end_a_sentence_where_capitals_cannot() -> None:
    assert ends("SCREWS AT 16 IN.  PRIMER ON WALLS.") == ["IN."]
    assert ends("SCREWS AT 16 IN. PRIMER ON WALLS.") == []
