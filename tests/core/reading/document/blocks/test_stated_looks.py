"""A look behind the word for it is one of the goods it stands below, and stands for no goods itself."""

from __future__ import annotations

import pytest

from reads import read_text

PRIMER = ["Interior Latex Primer", ""]
PAINT = ["Interior Acrylic Wall Paint", ""]


def subjects(lines: list[str]) -> set[str]:
    return {
        rule.subject for rule in read_text("\n".join(lines) + "\n").rules if rule.kind.name in ("coverage", "solids")
    }


@pytest.mark.parametrize(
    "look",
    [
        ["Sheen: flat"], ["SHEEN: FLAT"], ["Sheen - flat"], ["Sheen", "flat"], ["Gloss level: satin"], ["| Sheen | flat |"],
        ["Lustre: eggshell"], ["Sheen\tflat"],
    ],
)  # fmt: skip
def test_below_the_name_of_goods_a_sheen_is_theirs(look: list[str]) -> None:
    rates = ["Coverage: 350 sq ft per gallon", "Volume solids: 36 %"]
    assert subjects([*PRIMER, *look, *rates]) == {"primer"}
    assert subjects([*PAINT, *look, *rates]) == {"finish paint"}


def test_in_one_row_with_its_values_too() -> None:
    assert subjects([*PRIMER, "Sheen flat | Coverage 350 sq ft per gallon | Volume solids 36 %"]) == {"primer"}
    row = ["Sheen   Coverage               Volume solids", "flat    350 sq ft per gallon   36 %"]
    assert subjects([*PRIMER, *row]) == {"primer"}
    assert subjects(["Technical data", "", *row]) == {"finish paint"}


def test_a_sheen_by_itself_still_names_the_finish() -> None:
    assert subjects([*PRIMER, "Coverage: 350 sq ft per gallon", "", "Eggshell", "Coverage: 400 sq ft per gallon"]) == {
        "primer",
        "finish paint",
    }
    assert subjects(["PAINT", "Sheen: flat", "Coverage: 350 sq ft per gallon"]) == {"finish paint"}


@pytest.mark.parametrize("name", ["Interior Latex Primer", "Acrylic Eggshell Paint", "Ceiling Matt"])
@pytest.mark.parametrize("title", ["TECHNICAL DATA SHEET", "Product data", "Product Data Sheet"])
def test_the_goods_below_the_title_of_a_data_sheet_hold_in_all_its_chapters(title: str, name: str) -> None:
    sheet = [
        title,
        name,
        "Issue 4",
        "",
        "DESCRIPTION",
        "For work indoors.",
        "",
        "TECHNICAL DATA",
        "Coverage: 350 sq ft/gal",
    ]
    assert subjects(sheet) == {"primer" if "Primer" in name else "finish paint"}
