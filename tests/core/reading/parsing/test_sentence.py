"""A sentence and its parts: phrases in order, and whether it asks."""

from __future__ import annotations

from darby.reading.parsing.chunker import sentences
from darby.reading.parsing.sentence import Phrase, Sentence
from reads import language


def taken(text: str) -> list[Sentence]:
    tags = language().lexicon.tags(text)
    facts = [fact for reader in language().readers for fact in reader.facts(tags, text)]
    return sentences(tags, facts, text)


def test_the_phrases_of_all_parts_come_in_order() -> None:
    (sentence,) = taken("Walls: one coat primer, two coats satin; ceilings: three coats flat.")
    lows = [f.amount.low for p in sentence.phrases for f in p.facts if f.amount is not None]
    assert lows == [1, 2, 3]
    assert [len(part.phrases) for part in sentence.parts] == [2, 1]
    assert [part.start for part in sentence.parts] == sorted(part.start for part in sentence.parts)


def test_a_sentence_with_a_question_mark_asks() -> None:
    assert [s.asks for s in taken("Two coats on walls? Three coats on ceilings.")] == [True, False]


def test_a_phrase_gives_its_words_of_one_name() -> None:
    phrase: Phrase = next(taken("Two coats satin on walls and ceilings.")[0].phrases)
    assert [t.value for t in phrase.named("surface")] == ["wall", "ceiling"]
    assert phrase.named("room") == []
