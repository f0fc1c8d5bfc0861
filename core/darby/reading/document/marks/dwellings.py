"""Kinds of dwellings by their letters: `Type A` of flats is a place, and no mark of a system."""

from __future__ import annotations

import re
from collections.abc import Sequence

from darby.reading.layout.clause import Clause

LETTERED = re.compile(r"(?:Type|TYPE|type)\s(?P<letter>[A-Z]|[0-9]{1,2})(?![A-Za-z0-9/.\"'’-])")
"""A kind by its letter or number."""
_WORDS_OF_TRADE = frozenset("CXSWG")


def lettered(clauses: Sequence[Clause]) -> bool:
    """Whether two kinds or more are told apart by letters that mean nothing in the trade."""
    found = {m["letter"] for clause in clauses for m in LETTERED.finditer(clause.view.text)}
    return len(found - _WORDS_OF_TRADE) > 1


_NOUN = r"(?:units?|apartments?|flats?|dwellings?|houses?|homes?|suites?|villas?|plots?|[0-9][ -]?bed(?:room)?s?)"
_NO_WALL = r"(?!\s(?:sides?|to|and|or|separation|separating|party|demising|walls?|partitions?|doors?)\b)"
_DWELLING = re.compile(
    rf"\b{_NOUN}\s(?:of\s)?types?\s|(?<!between\s)(?<!between the\s)\b{_NOUN}\b{_NO_WALL}",
    re.IGNORECASE,
)
"""A word for dwellings; what a wall stands between or looks to says nothing of kinds of them."""


def of_dwellings(clauses: Sequence[Clause]) -> bool:
    """Whether `Type A` is a kind of dwelling: a clause says of how many units or flats it is. That a wall has a `unit side` or stands
    between flats says it not."""
    return any(
        _DWELLING.search(c.view.text)
        and any(m["letter"] not in _WORDS_OF_TRADE for m in LETTERED.finditer(c.view.text))
        for c in clauses
    )
