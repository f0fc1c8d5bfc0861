"""Lines that open the sheet of a room."""

from __future__ import annotations

import pytest

from darby.reading.layout.lines import split_lines
from darby.reading.layout.tables.record_lines import numbered_name, record_lines, room_lines, sheet_lines
from reads import read_text


def found(text: str) -> list[tuple[str, str]]:
    """The codes and names of such lines."""
    return [(m["code"], m["name"]) for _, m in record_lines(split_lines(text))]


@pytest.mark.parametrize(
    ("lines", "names"),
    [
        (["G01  WAITING      Area 38 m2    Ceiling height 3000", "G02  SLUICE      Area 9 m2    Ceiling height 2700"], ["WAITING", "SLUICE"]),
        (["1.05 - Consulting 3 (14.2 m2)", "1.06 - Dirty Utility (8.0 m2)"], ["Consulting 3", "Dirty Utility"]),
        (["101  Lobby   12 x 14", "102  Office   10 x 9"], ["Lobby", "Office"]),
        (["101  Lobby   12 x 14", "102  Office   Level 4 and more"], []),
        (["101  Lobby   12 x 14"], []),
    ],
)  # fmt: skip
def test_several_alike_are_found(lines: list[str], names: list[str]) -> None:
    text = "".join(f"{line}\n  Walls: two coats matt\n" for line in lines)
    assert [name for _, name in found(text)] == names


def test_nothing_is_found_where_nothing_stands_below() -> None:
    assert found("101  Lobby   12 x 14\n102  Office   10 x 9\n") == []


def test_what_stands_below_is_said_of_the_room_and_its_size_of_nothing() -> None:
    text = "G01  STERILIZING   Area 9 m2   Ceiling height 2700\n  Wall lining:   10 mm plasterboard\nG02  SURGERY 1   Area 14 m2   Ceiling height 3000\n  Wall lining:   16 mm plasterboard\nG03  STORE   Area 4 m2   Ceiling height 2700\n  Wall lining:   13 mm plasterboard\n\nScrews: 300 mm centres."
    reading = read_text(text)
    assert [rule.scope.get("room", "") for rule in reading.rules] == ["sterilizing", "surgery 1", "store", ""]
    assert sum(n.why == "the size of a place" for n in reading.numbers) == 9


def means(text: str) -> frozenset[str]:
    """What a few words are, as the language would tell."""
    low = text.lower()
    if low in ("room", "rm"):
        return frozenset({"places"})
    if low in ("materials", "fixing"):
        return frozenset({"products"})
    return frozenset({"place"} if any(room in low for room in ("kitchen", "office", "study", "store")) else ())


def rooms(text: str) -> list[str]:
    """The lines of a text that name a room, or end such a row, over what is to be done there."""
    lines = split_lines(text)
    return [lines[n].text for n, _ in room_lines(lines, means)]


@pytest.mark.parametrize(
    "names",
    [
        ["Room 11 CLOAKS", "Room 12 / 13 STORES"],
        ["Rm. 4 - Bell loft", "Rm. 5 - Vestry"],
        ["201 KITCHEN", "202 MASHHOUSE"],
        ["Kitchen (1.05)", "Barley loft (1.06)"],
        ["Mashhouse", "Kitchen", "Office"],
        ["Mashhouse", "Kitchen", "Office", "Materials"],
    ],
)
def test_names_over_items_are_those_of_rooms(names: list[str]) -> None:
    assert sorted(rooms("".join(f"{name}\n- two coats\n" for name in names))) == sorted(names)


@pytest.mark.parametrize(
    "names",
    [
        ["Room 11 CLOAKS"],
        ["110 STORES", "120 OFFICES"],
        ["Materials", "Fixing"],
        ["Mashhouse", "Brewery", "Office"],
        ["Kitchen walls two coats and", "Office walls one coat and"],
    ],
)
def test_what_is_alone_or_counts_clauses_or_is_mostly_strange_is_no_row_of_rooms(names: list[str]) -> None:
    assert rooms("".join(f"{name}\n- two coats\n" for name in names)) == []


def test_a_name_goes_with_a_number_or_several() -> None:
    found = numbered_name("Room 104 / 105 RESTROOMS (existing)")
    assert found is not None
    assert (found["noun"], found["numbers"], found["name"]) == ("Room", "104 / 105", "RESTROOMS")
    assert numbered_name("Two coats") is None


def sheets(text: str, known: frozenset[str] = frozenset({"place"})) -> list[tuple[str, str, str]]:
    lines = split_lines(text)
    means = {"": frozenset[str](), "Walls": frozenset({"surface"}), "sheet": frozenset[str](), "item": frozenset[str]()}
    found = sheet_lines(lines, lambda said: means.get(said, known))
    return [(m["code"] or "", m["name"], m["size"].strip()) for _, m in found]


def test_numbers_and_sizes_of_sheets_are_told_from_the_names_of_places() -> None:
    text = "SHEET 1   FOYER   21 m2\nWalls: flat.\n\nSHEET 2   OFFICE 2   9 m2\nWalls: satin.\n"
    assert sheets(text) == [("1", "FOYER", "21 m2"), ("2", "OFFICE 2", "9 m2")]
    assert sheets("Foyer, 21 m2\nWalls: flat.\n\nAttic, 9 m2\nWalls: satin.\n")[0] == ("", "Foyer", ", 21 m2")


def test_one_such_line_alone_goods_and_what_holds_places_are_no_sheets() -> None:
    assert sheets("SHEET 1   FOYER   21 m2\nWalls: flat.\n") == []
    text = "Item 1  Primer, 5 m\nFor dry use.\n\nItem 2  Filler, 3 m\nFor wet use.\n"
    assert sheets(text, frozenset({"product"})) == []
    assert sheets("Block 1  Foyer\nWalls: flat.\n\nBlock 2  Foyer hall\nWalls: satin.\n") == []
