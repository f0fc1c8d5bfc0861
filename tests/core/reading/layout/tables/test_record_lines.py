"""Lines that open the sheet of a room."""

from __future__ import annotations

import pytest

from darby.reading.layout.lines import split_lines
from darby.reading.layout.tables.record_lines import record_lines
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
