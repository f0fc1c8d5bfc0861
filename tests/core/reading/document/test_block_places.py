"""A line of a block that says where its other lines hold."""

from __future__ import annotations

import pytest

from reads import said

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
        "spacing of screw (mark PT/B, surface wall): 230 mm",
    ]
