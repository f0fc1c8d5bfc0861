"""Labels: what stands before the colon of a part; one of words that nobody knows is strange."""

from __future__ import annotations

import pytest

from darby.reading.parsing.chunker import sentences
from darby.reading.parsing.sentence import Part
from reads import language


def parts(text: str) -> list[Part]:
    tags = language().lexicon.tags(text)
    facts = [fact for reader in language().readers for fact in reader.facts(tags, text)]
    return [part for sentence in sentences(tags, facts, text) for part in sentence.parts]


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("Walls: two coats satin.", ["wall"]),
        ("Walls – two coats satin.", ["wall"]),
        ("Walls - two coats satin.", ["wall"]),
        ("Walls-two coats satin.", []),
        ("Two coats - walls - satin.", []),
        ("Walls two coats: satin.", []),
        ("Screws: ceilings: 12 in. o.c.", ["screw", "ceiling"]),
        ("Two coats satin.", []),
    ],
)
def test_a_label_ends_at_the_last_colon_or_dash_before_the_first_fact(text: str, label: list[str]) -> None:
    assert [t.value for t in parts(text)[0].label if t.name not in ("COLON", "DASH")] == label


@pytest.mark.parametrize(
    ("text", "strange"),
    [
        ("Grobble: two coats.", True),
        ("Grobble of the wompus: two coats.", True),
        ("One two three four grobbles that hold: two coats.", False),
        ("Walls: two coats.", False),
        ("Grobble walls: two coats.", False),
        ("Two coats.", False),
        ("Walls two coats. Grobble: two coats.", True),
    ],
)
def test_a_label_of_a_few_words_that_nobody_knows_is_strange(text: str, strange: bool) -> None:
    assert parts(text)[-1].strange is strange
