"""Phrases of vocabularies put together: the first meaning stays, and a stock of more words is the one before and these."""

from __future__ import annotations

import gc
import weakref

from darby.reading.parsing.vocabulary import Vocabulary
from darby.reading.parsing.word_stock import Stock, stock_of
from darby.reading.read import Language
from darby.text.spans import Source
from reads import language

BASE = Vocabulary(
    "guild",
    Source("guild", '[subject]\nfelt = ["felt", "roofing felt"]\n[surface]\nroof = ["roof"]\n[aside]\n"a year" = ["in the year"]\n'),
)  # fmt: skip
ROOMS = Vocabulary(
    "rooms", Source("rooms", '[room]\n"room of the job" = ["Roof garden", "Felt store", "One", "Felt"]\n')
)


def at(stock: Stock, text: str) -> tuple[int, tuple[str, str]] | None:
    return stock.index.at(text, 0, text.partition(" ")[0])


def test_what_is_put_to_a_stock_is_found_beside_what_was_there() -> None:
    base, more = stock_of((BASE,)), stock_of((BASE, ROOMS))
    assert at(more, "roof garden") == (11, ("room", "room of the job"))
    assert at(base, "roof garden") == at(more, "roof") == (4, ("surface", "roof"))
    assert more.parts - base.parts == {"garden", "store", "one"}
    assert more.spelled - base.spelled == {"garden", "store", "roof garden", "felt store"}


def test_of_two_meanings_the_first_stays_and_who_gave_both_is_known() -> None:
    more = stock_of((BASE, ROOMS))
    assert more.phrases["felt"] == ("subject", "felt")
    assert more.claims == {"felt": ["guild", "rooms"]}
    assert not stock_of((BASE,)).claims


def test_a_word_for_a_number_may_be_the_name_of_a_room() -> None:
    assert at(stock_of((BASE,)), "one") == (3, ("NUMBER", "one"))
    assert at(stock_of((BASE, ROOMS)), "one") == (3, ("room", "room of the job"))


def test_words_put_to_a_stock_one_after_another_are_found_as_those_put_there_at_once() -> None:
    known = language().lexicon.stock
    assert known.index.and_({}) is known.index
    everything = known._before.index if known._before is not None else None
    assert everything is not None
    again = Stock().and_((who, shelf, phrase, meaning) for shelf in ("phrases", "after_number", "after_unit") for who, phrase, meaning in (("all", *pair) for pair in getattr(known, shelf).items()))  # fmt: skip
    assert again.parts == known.parts
    assert again.spelled == known.spelled
    for phrase in known.phrases:
        said, _, ahead = phrase.partition(" {")
        if not ahead:
            first = said if said.isalpha() and said.isascii() else None
            text = f"{said} "
            one, other = (stock.index.at(text, 0, first or _first(text)) for stock in (known, again))
            assert one == other, phrase


def _first(text: str) -> str:
    from darby.reading.parsing.tagging.phrase_index import first_letters

    return first_letters(text, 0)


def test_a_language_that_nobody_uses_any_more_is_gone() -> None:
    """A desk that runs all day names the rooms of its job again and again."""
    kept = []
    for n in range(40):
        named = language().naming([f"Rope walk {'abcdefghij'[n % 10]}{'klmn'[n // 10]} loft"])
        assert named.lexicon.tags("walls of the rope walk")
        kept.append(weakref.ref(named.lexicon))
        assert isinstance(named, Language)
        del named
    gc.collect()
    assert sum(one() is not None for one in kept) <= 32
