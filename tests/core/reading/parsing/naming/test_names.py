"""Which words can name a place."""

from __future__ import annotations

import pytest

from darby.reading.parsing.naming.names import Names

NAMES = Names({"use"}, {"book"}, {"exposed"}, ("level",))


@pytest.mark.parametrize(
    ("word", "titled", "can"),
    [
        ("loft", False, True),
        ("use", True, False),
        ("exposed", True, False),
        ("book", False, False),
        ("book", True, True),
        ("x", True, False),
    ],
)
def test_a_word_that_means_something_else_names_no_place(word: str, titled: bool, can: bool) -> None:
    assert NAMES.can_name(word, titled=titled) is can
