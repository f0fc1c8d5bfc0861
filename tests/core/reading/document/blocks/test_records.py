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
