"""Exceptions among words: the places that are taken out of what a line is about."""

from __future__ import annotations

import pytest

from darby.reading.parsing.exceptions import unexcepted
from darby.reading.parsing.tagging.tag import Tag


@pytest.mark.parametrize(
    ("names", "kept"),
    [
        ("surface EXCEPT room AND room COLON", "surface COLON"),
        ("EXCEPT room COLON", "EXCEPT room COLON"),
        ("surface EXCEPT surface EITHER where subject", "surface subject"),
        ("subject EXCEPT room", "subject"),
        ("surface PLACE_BEHIND surface COLON", "surface COLON"),
        ("PLACE_BEHIND surface NUMBER", "NUMBER"),
        ("sheen EXCEPT room NUMBER room", "sheen NUMBER room"),
        ("COLON EXCEPT room", "COLON EXCEPT room"),
        ("surface room", "surface room"),
    ],
)
def test_what_an_exception_names_is_left_out(names: str, kept: str) -> None:
    tags = [Tag(n, n + 1, name) for n, name in enumerate(names.split())]
    assert [t.name for t in unexcepted(tags)] == kept.split()
