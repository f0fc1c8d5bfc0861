"""Which column of a table names what its rows are of."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from darby.reading.layout.clause import Cell, Clause
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

_NUMBERED = re.compile(r"[A-Z]{0,2}-?[0-9]{1,3}(?:\.[0-9]{1,3})?[A-Za-z]?")
"""The number of a room, as a cell."""
_SAYS_WHAT = ("subject", "COAT", "LAYER")


def key_column(group: Sequence[Clause], tags: Callable[[View], Sequence[Tag]]) -> int:
    """The column of the keys: the second where the first holds numbers of rooms and the second words. A mark in the first is the key
    where its row says what it is, wherever a later cell says that it goes."""
    roles = [c.column.role if c.column is not None else "" for c in group[0].cells]
    if "places" in roles:
        defined = sum(
            any(t.name == "mark" and t.end == len(c.cells[0].view.text) for t in tags(c.cells[0].view)[:1])
            and any(t.name in _SAYS_WHAT for cell in c.cells[1:] for t in tags(cell.view))
            for c in group
        )
        return 0 if 2 * defined > len(group) else roles.index("places")
    rows = [c for c in group if len(c.cells) > 2]
    numbered = [
        c for c in rows
        if _NUMBERED.fullmatch(c.cells[0].view.text.strip())
        and not any(t.name == "mark" for t in tags(c.cells[0].view)) and _names(c.cells[1], tags)
    ]  # fmt: skip
    return int(len(rows) > 0 and 2 * len(numbered) > len(rows))


def _names(cell: Cell, tags: Callable[[View], Sequence[Tag]]) -> bool:
    """Whether a cell holds words, and none that counts or measures."""
    return re.search(r"[A-Za-z]{3}", cell.view.text) is not None and not any(
        t.name in ("NUMBER", "COAT", "LAYER", "mark", "subject", "sheen") for t in tags(cell.view)
    )
