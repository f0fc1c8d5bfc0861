"""Sheets: what stands below the headings of a record is said of its room."""

from __future__ import annotations

import pytest

from reads import read_text

SHEET = "ROOM SHEET\n\nRoom name: {}\nDepartment: Stores\n\nFINISHES\nWalls      2 coats {}\nCeiling    1 coat matt\n\n"


def held(text: str) -> list[str]:
    """Where the rules of a text hold."""
    return [rule.scope.get("room", "") for rule in read_text(text).rules if rule.kind.name == "coats"]


def test_every_sheet_holds_for_its_own_room() -> None:
    text = SHEET.format("Sluice", "silk") + SHEET.format("Parlatorium", "matt")
    assert held(text) == ["sluice", "sluice", "parlatorium", "parlatorium"]


def test_a_document_may_be_one_sheet() -> None:
    assert held(SHEET.format("Sluice", "silk")) == ["sluice", "sluice"]


@pytest.mark.parametrize(
    ("text", "rooms"),
    [
        (SHEET.format("Sluice", "silk") + SHEET.format("Mess", "matt") + "GENERAL\nWalls: 1 coat primer", ["sluice", "sluice", "mess", "mess", ""]),
        ("Walls: 2 coats silk.\n\nRoom name: Mess\nKey: 4\n\nFINISHES\nCeilings: 1 coat matt", ["", ""]),
        ("Room: Mess\nWalls: 2 coats silk\n\nGENERAL WORKS\nCeilings: 1 coat matt", ["mess", ""]),
        ("Name: Ada Grey\nFirm: Grey and Sons\n\nFINISHES\nWalls: 2 coats silk", [""]),
    ],
)  # fmt: skip
def test_what_is_of_no_sheet_is_of_no_room(text: str, rooms: list[str]) -> None:
    assert held(text) == rooms


def test_a_name_that_ends_a_block_of_labels_is_of_the_lines_above_it() -> None:
    text = "BOARDS\n\nProduct: Plasterboard\nThickness: 13 mm\nWhere: Bathrooms\n\nProduct: Plasterboard\nThickness: 16 mm\nWhere: Lobby\n\nScrews: 300 mm centres"
    assert [rule.scope.get("room", "") for rule in read_text(text).rules] == ["bathroom", "lobby", ""]


def test_a_line_without_a_label_parts_one_block_of_labels_from_the_next() -> None:
    text = "BOARDS\n\nThickness: 13 mm\nLayers: 2\nWhere: Bathrooms.\nKeep all boards dry on site, stacked up.\nProduct: Plasterboard\nThickness: 16 mm\nWhere: Lobby\n\nScrews: 300 mm centres"
    rules = [(rule.kind.name, rule.scope.get("room", "")) for rule in read_text(text).rules]
    assert {("thickness", "lobby"), ("spacing", "")} <= set(rules)


def test_a_record_of_a_mark_defines_it_and_says_where_it_goes() -> None:
    text = "PARTITIONS\n\nType: G1\nStuds: 92 mm at 600 mm centres\nLining: 1 layer 13 mm plasterboard\nWhere: Offices\n\nType: G2\nStuds: 64 mm at 450 mm centres\nLining: 2 layers 13 mm plasterboard\nWhere: Lobby\n"
    rules = read_text(text).rules
    assert [(r.choice, r.scope["room"]) for r in rules if r.kind.name == "system"] == [
        ("G1", "office"),
        ("G2", "lobby"),
    ]
    assert [(r.scope["mark"], r.amount.value) for r in rules if r.kind.name == "layers"] == [("G1", 1), ("G2", 2)]
