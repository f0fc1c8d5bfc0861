"""Whether a rule is of what a sentence is about."""

from __future__ import annotations

import pytest

import reads
from darby.reading.addenda.wording.topics import IS, WIDER, Topic


def topic(text: str, *marks: str) -> Topic:
    return Topic(text, reads.language().lexicon.tags(text), frozenset(marks))


@pytest.mark.parametrize(
    ("text", "fits"),
    [
        ("lobby walls", IS), ("walls", IS), ("lobby", IS), ("lobby ceiling", 0), ("office walls", 0), ("screws in the lobby", 0),
        ("nothing of ours", IS),
    ],
)  # fmt: skip
def test_a_rule_of_the_lobby_walls_is_of_what_names_these(text: str, fits: int) -> None:
    (rule,) = reads.read_text("Lobby walls: two coats finish paint.").rules
    assert topic(text).fits(rule) == fits


def test_a_rule_of_all_walls_is_wider_than_one_room_and_is_narrowed_to_it() -> None:
    (rule,) = reads.read_text("Walls: two coats finish paint.").rules
    lobby = topic("lobby walls")
    assert lobby.fits(rule) == WIDER
    (narrow,) = lobby.narrowed(rule, rule.layer)
    assert dict(narrow.scope) == {"room": "lobby", "surface": "wall"}


def test_a_rule_of_a_mark_is_of_that_mark_alone() -> None:
    (rule,) = (
        r
        for r in reads.read_text("PT-1: two coats finish paint.\n\nLobby walls: PT-1.").rules
        if r.kind.name == "coats"
    )
    assert [topic("legend", mark).fits(rule) for mark in ("PT-1", "PT-2")] == [IS, 0]
    assert topic("walls").fits(rule) == 0


def test_a_word_that_no_list_knows_before_a_surface_is_a_name() -> None:
    assert topic("Change snug walls").names() == {"snug"}
    assert topic("Change lobby walls").names() == set()
