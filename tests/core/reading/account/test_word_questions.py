"""Words that ask by themselves: what is not wanted, left as it is, taken over, excepted or left open."""

from __future__ import annotations

import pytest

from reads import asked, said

ASKED = {
    "Do not apply primer to walls.": "says what is not wanted: no rule was made of it",
    "No primer.": "says what is not wanted: no rule was made of it",
    "No board on ceilings over the stage.": "says what is not wanted: no rule was made of it",
    "No ceiling in the plant room.": "says what a place has none of: no rule was made of it",
    "Do not paint factory-finished doors.": "says what is left as it is: no rule was made of it",
    "Provide board as in the lobby.": "taken over from elsewhere: see that it says what is meant",
    "Same as offices: halls.": "taken over from elsewhere: see that it says what is meant",
    "Finish paint on walls except where tiled.": "an exception: what holds there is not said",
    "Paint all walls except in toilets.": "an exception: what holds there is not said",
    "An additional coat of finish paint on ceilings.": "more than what is said elsewhere: the total is open",
    "Lobby finish by others.": "named as the work of a trade: whether it is ours is not said",
    "Painting by others in tenant spaces.": "named as the work of a trade: whether it is ours is not said",
    "Decoration to meeting rooms by client.": "named as the work of a trade: whether it is ours is not said",
    "Refinishing of entrance doors is by others.": "named as the work of a trade: whether it is ours is not said",
    "Apply a third coat to doors.": "nothing near it says what it is of",
    "Where ceilings are over 10 ft, increase coats to three.": "a count that is raised or lowered: where it holds, and from what, is not said",
    "Restroom walls N.I.C.": "named as the work of a trade: whether it is ours is not said",
    "Ceilings in Suite 200: by landlord.": "named as the work of a trade: whether it is ours is not said",
    "Gypsum board in the elevator lobby is by others.": "named as the work of a trade: whether it is ours is not said",
    "Owner will supply the gypsum board.": "goods that somebody else brings: nothing is taken off the order",
    "Closets: no area is primer only.": "primer alone, and a word before it denies it: nothing is left out",
    "Finish paint as required.": "the text leaves it open",
}


@pytest.mark.parametrize("text", ASKED)
def test_a_word_that_asks_is_asked_about_once_and_makes_no_rule(text: str) -> None:
    assert said(text) == []
    assert [message.partition(": ")[2] for message in asked(text)] == [ASKED[text]]


@pytest.mark.parametrize(
    "text",
    [
        "No board.",
        "Colors approved by the owner.",
        "Blinds in offices by others.",
        "Framing by others.",
        "Sweep the floor except in the lobby.",
        "As noted.",
        "More light.",
    ],
)
def test_words_about_nothing_of_ours_ask_nothing(text: str) -> None:
    assert asked(text) == []


def test_an_exception_that_the_text_goes_on_to_fill_is_not_asked_about() -> None:
    assert asked("Regular board on walls, except in baths, where moisture resistant board is used.") == []
    assert asked("Walls, except in baths: two coats finish paint. Baths: three coats finish paint.") == []


def test_the_work_of_others_in_a_cell_is_asked_about() -> None:
    text = "Room | Walls | Ceiling\nLobby | painting by tenant | flat\nDen | flat | NIC\nHall | flat | flat"
    assert [m.partition("”")[0].lstrip("“") for m in asked(text)] == ["by tenant", "NIC"]


def test_a_mark_like_those_that_are_defined_is_asked_about_behind_a_surface() -> None:
    text = "Den walls P-1; end wall P-4. Column C-4.\nP-1: one coat primer, two coats eggshell."
    assert asked(text) == ["“P-4”: a mark that nothing in this document defines"]
