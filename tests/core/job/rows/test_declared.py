"""Keys and tables that a trade declares: what they say of themselves, and what is wrong with a declaration."""

from __future__ import annotations

import pytest

from darby.job.rows.declared import JobTable, Key, unsound_keys, unsound_table


def test_a_key_tells_itself_in_a_few_words() -> None:
    assert (
        Key("side", "length", "of a panel", least="1 ft", most="5 ft").told
        == "side: a length from 1 ft to 5 ft, of a panel"
    )
    assert Key("laid", "word", words=("straight", "diagonal")).told == "laid: straight or diagonal"
    assert Key("heated", "flag").told == "heated: true or false"
    assert JobTable("decks", "deck", "flat", keys=(Key("heated", "flag"),), about="what is walked on").told == (
        "[[decks]], what is walked on: name, length, width, area, room, type; heated: true or false"
    )


@pytest.mark.parametrize(
    ("key", "said"),
    [
        (Key("Side"), "is no name"),
        (Key("room"), "has a meaning there already"),
        (Key("laid", "word"), "has no words"),
        (Key("laid", words=("a",)), "has words and is no word"),
        (Key("side", "length", least="soon"), "has a bound that is none"),
        (Key("side", "length", least="2 sq ft"), "is no length"),
        (Key("side", "count", most="many"), "is no whole number"),
        (Key("side", "length", least="2 ft", most="6 in"), "the wrong way round"),
    ],
)
def test_a_key_that_cannot_be_one_is_said_to_be(key: Key, said: str) -> None:
    assert said in unsound_keys([key], ("name", "room"))


def test_two_keys_of_one_name_are_told_and_good_ones_are_not() -> None:
    assert "key a has a meaning" in unsound_keys([Key("a"), Key("a")])
    assert unsound_keys([Key("a"), Key("b", "count", least="1", most="9")]) == ""


@pytest.mark.parametrize(
    ("table", "said"),
    [
        (JobTable("walls", "deck"), "cannot be called so"),
        (JobTable("Decks", "deck"), "cannot be called so"),
        (JobTable("decks", "wall"), "of the kind wall"),
        (JobTable("decks", "deck", "upright", of_rooms=True), "no flat shape"),
        (JobTable("decks", "deck", "flat", keys=(Key("length"),)), "its key length has a meaning"),
        (JobTable("decks", "deck", "flat", keys=(Key("pile"),)), ""),
    ],
)
def test_a_table_that_cannot_be_one_is_said_to_be(table: JobTable, said: str) -> None:
    wrong = unsound_table(table, ("walls",), ("wall",))
    assert said in wrong
    assert bool(wrong) is bool(said)
