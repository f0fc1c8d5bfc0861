"""The sheet of one product: what its labels say is of what its first lines name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
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


Pair = tuple[str, str]
SHEETS: dict[str, tuple[str, list[Pair], dict[str, str]]] = {
    "Interior Latex Primer": (
        "primer",
        [("Sheen", "flat"), ("Coverage", "300-400 sq. ft. per gallon"), ("Wet film thickness", "4.5 mils"), ("Volume solids", "36 %")],
        {"coverage": "300 sq ft", "film": "4.5 mil", "solids": "36 %"},
    ),
    "Acrylic Eggshell Wall Paint": (
        "finish paint",
        [("Spreading rate", "11.5 m2/L"), ("Number of coats", "2"), ("Volume solids", "40 %"), ("Pack size", "15 L pail")],
        {"coverage": "11.5 m2", "coats": "2", "solids": "40 %", "package": "15 L"},
    ),
    "Setting Compound 90": (
        "joint compound",
        [("Consumption", "0.35 kg/m2"), ("Packaging", "20 kg bag"), ("Working time", "90 minutes")],
        {"consumption": "0.35 kg", "package": "20 kg"},
    ),
    "Paper Joint Tape": (
        "joint tape",
        [("Consumption", "1.3 m/m2"), ("Roll length", "75 m")],
        {"consumption": "1.3 m", "package": "75 m"},
    ),
}  # fmt: skip
Outline = Callable[[str, list[Pair]], Iterator[str]]


def _colon(name: str, pairs: list[Pair]) -> Iterator[str]:
    yield from (name, "", *(f"{label}: {value}" for label, value in pairs))


def _capitals(name: str, pairs: list[Pair]) -> Iterator[str]:
    yield from (name.upper(), "", *(f"{label.upper()}: {value}" for label, value in pairs))


def _dashes(name: str, pairs: list[Pair]) -> Iterator[str]:
    yield from (name, "", *(f"{label} - {value}" for label, value in pairs))


def _items(name: str, pairs: list[Pair]) -> Iterator[str]:
    yield from (name, "", *(f"- {label}: {value}" for label, value in pairs))


def _columns(name: str, pairs: list[Pair]) -> Iterator[str]:
    yield from (name, "", *(f"{label:<26}{value}" for label, value in pairs))


def _tabs(name: str, pairs: list[Pair]) -> Iterator[str]:
    yield from (name, "", *(f"{label}\t{value}" for label, value in pairs))


def _dots(name: str, pairs: list[Pair]) -> Iterator[str]:
    yield from (name, "", *(f"{label} {'.' * (30 - len(label))} {value}" for label, value in pairs))


def _table(name: str, pairs: list[Pair]) -> Iterator[str]:
    yield from (
        name,
        "",
        "| Property | Value |",
        "| --- | --- |",
        *(f"| {label} | {value} |" for label, value in pairs),
    )


def _one_line(name: str, pairs: list[Pair]) -> Iterator[str]:
    yield from (name, " | ".join(f"{label} {value}" for label, value in pairs))


def _across(name: str, pairs: list[Pair]) -> Iterator[str]:
    wide = [max(map(len, pair)) + 3 for pair in pairs]
    yield from (name, "")
    for row in zip(*pairs, strict=True):
        yield "".join(cell.ljust(width) for cell, width in zip(row, wide, strict=True)).rstrip()


def _chapters(name: str, pairs: list[Pair]) -> Iterator[str]:
    yield from ("TECHNICAL DATA SHEET", name, "Issue 4", "", "DESCRIPTION", "For work indoors.", "", "TECHNICAL DATA")
    yield from (f"{label}: {value}" for label, value in pairs)


OUTLINES = (_colon, _capitals, _dashes, _items, _columns, _tabs, _dots, _table, _one_line, _across, _chapters)


@pytest.mark.parametrize("name", SHEETS)
@pytest.mark.parametrize("outline", OUTLINES)
def test_the_values_of_a_sheet_are_of_its_goods_in_every_outline(name: str, outline: Outline) -> None:
    subject, pairs, wanted = SHEETS[name]
    rules = read_text("\n".join(outline(name, pairs)) + "\n").rules
    found = {rule.kind.name: str(rule.amount) for rule in rules if rule.kind.name in wanted}
    assert {rule.subject for rule in rules} == {subject}
    assert found == wanted
