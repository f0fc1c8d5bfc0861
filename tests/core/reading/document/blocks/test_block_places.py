"""A line of a block that says where its other lines hold."""

from __future__ import annotations

import pytest

from reads import read_text, said

BODY = "  - Board: 12.5 mm gypsum board.\n  - Fixing: screws at 230 mm centres."


def placed(line: str, heading: str = "140  BOARD LININGS") -> set[str]:
    """The rooms of the rules below a heading, with such a line between."""
    found = set()
    for rule in said(f"WORKS\n\n{heading}\n  - {line}\n{BODY}"):
        scope = rule.partition("(")[2].partition(")")[0].split(", ")
        found.update(part[5:] for part in scope if part.startswith("room "))
    return found


@pytest.mark.parametrize(
    ("line", "rooms"),
    [
        ("Location: Ladies and cellar wash-up.", {"lady", "cellar wash-up"}),
        ("Where used: Stair 2, Common room", {"stair 2", "common room"}),
        ("Rooms - Oak Vault & Map Store", {"oak vault", "map store"}),
        ("Areas: Boiler House.", {"boiler house"}),
        ("Location: all rooms except the studio.", set()),
        ("Location: generally.", set()),
        ("Finish: taped and filled.", set()),
    ],
)
def test_it_holds_for_all_lines_of_its_block(line: str, rooms: set[str]) -> None:
    assert placed(line) == rooms


def test_it_ends_with_its_block() -> None:
    text = f"WORKS\n\n140  LININGS\n  - Location: Boiler House.\n{BODY}\n150  OTHER LININGS\n  - Board: 9.5 mm gypsum board."
    assert said(text)[-1] == "thickness of gypsum board: 9.5 mm"


def test_under_a_mark_it_gives_the_system_and_limits_no_definition() -> None:
    text = f"WORKS\n\n116  METAL STUD PARTITION  PT/B\n  - Where: Oak Vault; Map Store.\n{BODY}"
    assert said(text) == [
        "system of gypsum board (room oak vault, surface wall): PT/B",
        "system of gypsum board (room map store, surface wall): PT/B",
        "thickness of gypsum board (mark PT/B, surface wall): 12.5 mm",
        "spacing of screw (mark PT/B, note steel, surface wall): 230 mm",
    ]


@pytest.mark.parametrize(
    ("text", "rooms"),
    [
        ("Room: Vestry\nWalls: two coats matt\n\nRoom: Organ Loft\nWalls: two coats silk", ["vestry", "organ loft"]),
        ("Room: Vestry\n\nWalls: two coats matt\n\nCeiling: one coat matt", ["vestry", "vestry"]),
        ("Name: Classroom 5\nWalls: two coats matt", ["classroom 5"]),
        ("Name: Ada Grey\nWalls: two coats matt", [""]),
        ("Location - Ward 3\nWalls - two coats matt", ["ward 3"]),
        ("Location: Springfield\nClient: the Parish\n\nWalls: two coats matt", [""]),
        ("Area: Nave\nWalls: two coats matt\nArea: Crypt\nWalls: two coats silk", ["nave", "crypt"]),
        ("Area: Ground floor\nWalls: two coats matt\nArea: First floor\nWalls: one coat matt", ["ground floor", "first floor"]),
        ("Floor: Ground\nWalls: two coats matt\nFloor: First\nWalls: one coat matt", ["ground floor", "first floor"]),
        ("Floor: vinyl\nWalls: two coats matt", [""]),
        ("Zone: A\nWalls: two coats matt\nZone: B\nWalls: one coat matt", ["zone a", "zone b"]),
        ("Room: All\nWalls: two coats matt", [""]),
        ("Name: Classroom 5\nWalls: two coats matt\nAll woodwork: two coats gloss\n\nScrews: 32 mm long.", ["classroom 5", "classroom 5", ""]),
    ],
)  # fmt: skip
def test_a_line_that_names_a_record_holds_for_the_lines_below_it(text: str, rooms: list[str]) -> None:
    assert [rule.scope.get("room", "") for rule in read_text(text).rules] == rooms
