"""Words that ask by themselves: what is not wanted, left as it is, taken over, excepted or left open."""

from __future__ import annotations

import pytest

from reads import asked, said

ASKED = {
    "Do not apply primer to walls.": "says what is not wanted: no rule was made of it",
    "No primer.": "says what is not wanted: no rule was made of it",
    "No board on ceilings.": "says what is not wanted: no rule was made of it",
    "Do not paint factory-finished doors.": "says what is left as it is: no rule was made of it",
    "Provide board as in the lobby.": "taken over from elsewhere: see that it says what is meant",
    "Same as offices: halls.": "taken over from elsewhere: see that it says what is meant",
    "Finish paint on walls except where tiled.": "an exception: what holds there is not said",
    "Paint all walls except in toilets.": "an exception: what holds there is not said",
    "An additional coat of finish paint on ceilings.": "more than what is said elsewhere: the total is open",
    "Finish paint as required.": "the text leaves it open",
}


@pytest.mark.parametrize("text", ASKED)
def test_a_word_that_asks_is_asked_about_once_and_makes_no_rule(text: str) -> None:
    assert said(text) == []
    assert [message.partition(": ")[2] for message in asked(text)] == [ASKED[text]]


@pytest.mark.parametrize("text", ["No board.", "Sweep the floor except in the lobby.", "As noted.", "More light."])
def test_words_about_nothing_of_ours_ask_nothing(text: str) -> None:
    assert asked(text) == []


def test_an_exception_that_the_text_goes_on_to_fill_is_not_asked_about() -> None:
    assert asked("Regular board on walls, except in baths, where moisture resistant board is used.") == []
    assert asked("Walls, except in baths: two coats finish paint. Baths: three coats finish paint.") == []
