"""Data sheets: the same values of the same goods in every outline that such sheets have, and never those of other goods."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from reads import read_text

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
