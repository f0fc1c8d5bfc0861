"""Which words around a fact are its own, where a sentence has goods of several sorts."""

from __future__ import annotations

import pytest

from reads import said

BOARD = "thickness of gypsum board"


@pytest.mark.parametrize(
    ("text", "board"),
    [
        ("Offices: 1/2 in. board, walls PT-2, ceilings PT-1.", [f"{BOARD} (room office): 1/2 in"]),
        ("Lounge: 5/8 in. board on ceiling, walls PT-4.", [f"{BOARD} (room lounge, surface ceiling): 5/8 in"]),
        ("Lounge: 5/8 in. board on ceiling, walls eggshell.", [f"{BOARD} (room lounge, surface ceiling): 5/8 in"]),
        ("Offices: 1/2 in. board, walls eggshell, ceilings flat.", [f"{BOARD} (room office): 1/2 in"]),
        (
            "Bath: walls and ceiling 1/2 in. board, walls PT-2.",
            [f"{BOARD} (room bath, surface wall): 1/2 in", f"{BOARD} (room bath, surface ceiling): 1/2 in"],
        ),
    ],
)
def test_board_goes_where_it_is_said_to(text: str, board: list[str]) -> None:
    assert [rule for rule in said(text) if rule.startswith(BOARD)] == board


def test_a_look_goes_on_the_surface_between_its_own_commas() -> None:
    assert said("Library: 5/8 in. board to walls and ceiling, walls eggshell, ceiling flat.")[2:] == [
        "sheen of finish paint (room library, surface wall): eggshell",
        "sheen of finish paint (room library, surface ceiling): flat",
    ]
    assert said("Amenities: sealer only to ceilings, low sheen to walls.") == [
        "sheen of finish paint (room amenity, surface wall): low sheen"
    ]


def test_places_of_a_list_that_say_nothing_of_their_own_stay_in_it() -> None:
    found = said("5/8 in. board on walls, ceilings and soffits.")
    assert [rule.split("surface ")[1] for rule in found] == ["wall): 5/8 in", "ceiling): 5/8 in", "soffit): 5/8 in"]
