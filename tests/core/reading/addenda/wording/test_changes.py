"""The old words and the new, however a sentence puts them."""

from __future__ import annotations

import pytest

from darby.reading.addenda.wording.changes import beside, changes_in


@pytest.mark.parametrize(
    ("sentence", "old", "new"),
    [
        ("Change hall walls from two coats to three coats.", "two coats", "three coats"),
        ("Hall walls shall be three coats, not two coats.", "two coats", "three coats"),
        ("Provide three coats in lieu of two coats.", "two coats", "three coats"),
        ("In lieu of two coats provide three coats.", "two coats", "three coats"),
        ("Hall: now three coats (was two coats).", "two coats", "three coats"),
        ("Hall: satin (previously gloss).", "gloss", "satin"),
        ("Hall: gloss -> satin", "gloss", "satin"),
        ("Hall: gloss is superseded by satin.", "gloss", "satin"),
        ("Hall is amended by deleting 'gloss' and substituting 'satin'.", "'gloss'", "'satin'"),
        ("Where the specification calls for gloss, provide satin.", "gloss", "satin"),
        ("Hall: read gloss as satin.", "gloss", "satin"),
    ],
)
def test_the_old_and_the_new_are_told_apart(sentence: str, old: str, new: str) -> None:
    (change,) = changes_in(sentence)
    assert (change["old"], change["new"]) == (old, new)
    assert beside(change) == ""


@pytest.mark.parametrize("sentence", ["Walls: two coats.", "Sweep the floor.", "Two coats over one coat of primer."])
def test_what_tells_no_change_has_none(sentence: str) -> None:
    assert not changes_in(sentence)
