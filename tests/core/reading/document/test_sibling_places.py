"""Places known by their siblings: the keys of a schedule are decided as a column."""

from __future__ import annotations

from reads import read_text, said

LEGEND = "\nPT-1: two coats satin finish paint.\nPT-2: one coat flat finish paint."


def given(text: str) -> list[str]:
    return [rule for rule in said(text) if rule.startswith("system")]


def test_a_name_that_no_list_knows_is_a_room_among_rooms() -> None:
    rows = "Room | Walls | Ceilings\nKitchen | PT-1 | PT-2\nServery | PT-2 | PT-2\nHall | PT-1 | PT-2\n"
    assert given(rows + LEGEND) == [
        f"system of finish paint (room {room}, surface {surface}): {mark}"
        for room, *marks in (("kitchen", "PT-1", "PT-2"), ("servery", "PT-2", "PT-2"), ("hall", "PT-1", "PT-2"))
        for surface, mark in zip(("wall", "ceiling"), marks, strict=True)
    ]


def test_a_number_before_the_name_is_no_key() -> None:
    rows = "No. | Name | Walls\n101 | Lobby | two coats satin\n102 | Hall | two coats flat\n"
    assert said(rows) == [
        "coats of finish paint (room lobby, sheen satin, surface wall): 2",
        "coats of finish paint (room hall, sheen flat, surface wall): 2",
    ]


def test_a_name_that_no_list_knows_is_a_place_behind_its_number_beside_others() -> None:
    text = "ROOM KEY\n\nP-1: 2 coats satin\n\n201 LOBBY         W: P-1    C: P-1\n202 MEETING       W: P-1    C: P-1\n203 PANTRY        W: P-1    C: P-1\n"
    rooms = [rule.scope["room"] for rule in read_text(text).rules if rule.kind.name == "system"]
    assert list(dict.fromkeys(rooms)) == ["lobby", "meeting", "pantry"]
