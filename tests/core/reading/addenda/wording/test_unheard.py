"""Sentences of an addendum that nothing is made of: those that tell a change are asked about, and no others."""

from __future__ import annotations

import pytest

import reads
from darby.reading.addenda.wording.unheard import names_of, tells_of

MARKS = {"PT-1", "PT-2"}
KNOWN = [("3", "2", "B"), ("3", "2")]


@pytest.mark.parametrize(
    ("sentence", "tells"),
    [
        ("Extra material is not required.", True),
        ("Level 5 is no longer needed on the lobby walls.", True),
        ("Delete the requirement for extra material.", True),
        ("Increase the number of coats.", True),
        ("Bids are due on June 4 in lieu of June 2.", False),
        ("The finish paint remains as specified.", False),
        ("The request to change the sheen is denied.", False),
        ("Attend the site meeting.", False),
    ],
)
def test_a_sentence_tells_a_change_of_goods_or_it_does_not(sentence: str, tells: bool) -> None:
    assert tells_of(sentence, reads.language().lexicon.tags(sentence)) is tells


@pytest.mark.parametrize(
    ("sentence", "names"),
    [
        ("3.2.B: also applies to the corridor.", True),
        ("PT-2, number of coats: two.", True),
        ("PT-2 remains unchanged.", False),
        ("3.2.B is not affected by this addendum.", False),
        ("Paragraph 4.7.C is about the weather.", False),
        ("PT-20: two.", False),
    ],
)
def test_a_sentence_names_a_mark_or_a_paragraph_of_ours(sentence: str, names: bool) -> None:
    assert names_of(sentence, MARKS, KNOWN) is names
