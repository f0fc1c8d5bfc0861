"""The sheet of one product: what its labels say is of what its first lines name."""

from __future__ import annotations

from itertools import product

import pytest

from reads import read_text

TITLES = {
    "Brightwall Indoor Latex Flat": "finish paint",
    "Brightwall Semi-Gloss Enamel": "finish paint",
    "Brightwall 100% Acrylic Eggshell": "finish paint",
    "BRIGHTWALL\nLow Lustre Interior\nEnamel for Walls": "finish paint",
    "Brightwall Vapor Retarder Primer": "primer",
    "Brightwall Alkyd Enamel Undercoater": "primer",
}
HEADS = ("", "OVERVIEW\nTECHNICAL DATA\n", "TECHNICAL DATA\nIt goes on evenly and hides well.\n")
BODIES = (
    "Volume solids: 38%\nVOC: 40 g/L\nWHY CHOOSE IT\nFew laps are seen.\nSpreading rate: 350 sq ft/gal\n",
    "Solids:\nBy volume - 38% ± 2%\nVOC:\n40 g/L\nCoverage:\nSpread at 350 sq ft/gal (8.6 m2/L).\n",
    "VOLUME SOLIDS: 38%\nWEIGHT SOLIDS: 52%\nCOVERAGE: 350 SQ FT/GAL\n",
)


@pytest.mark.parametrize("title", TITLES)
def test_every_layout_of_a_sheet_says_the_same_of_its_product(title: str) -> None:
    for head, body in product(HEADS, BODIES):
        reading = read_text(f"{title}\n{head}{body}")
        said = {(r.kind.name, r.subject) for r in reading.rules if r.kind.name not in ("class", "sheen")}
        assert said == {("solids", TITLES[title]), ("coverage", TITLES[title])}, (head, body)


def test_without_a_name_at_the_top_nothing_is_said_of_any_product() -> None:
    reading = read_text("TECHNICAL DATA\nVolume solids: 38%\nVOC: 40 g/L\nCoverage: 350 sq ft/gal\n")
    assert [r.kind.name for r in reading.rules] == []
