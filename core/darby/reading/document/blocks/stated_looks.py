"""Looks that are said of some goods, and stand for none: `Sheen: flat` below the name of some goods, a cell under `SHEEN`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from attrs import evolve, field, frozen

from darby.reading.document.blocks.block_lines import plain
from darby.reading.layout.clause import Clause
from darby.reading.layout.tables.roles import LOOKS
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View


@frozen(eq=False)
class StatedLooks:
    """Where the word for a look stands before it."""

    words: Mapping[str, str] = field(factory=dict)
    """Words for looks, each with what stands behind it: `sheens` behind `gloss level`."""
    cells: Mapping[int, View] = field(factory=dict)
    """Those under such a word, by the `id` of their views."""

    def tagged(self, tags: Sequence[Tag], view: View) -> Sequence[Tag]:
        """The tags of a view; a look behind the word for it names no goods."""
        look = next((t for t in tags if f"{t.name}s" in LOOKS), None)
        if look is None:
            return tags
        before = plain(view.text[: look.start].replace("|", " "))
        stated = id(view) in self.cells or self.words.get(before) == f"{look.name}s"
        return [evolve(t, loose=True) if t is look else t for t in tags] if stated else tags


def stated_looks(clauses: Iterable[Clause], heads: Mapping[str, str]) -> StatedLooks:
    """What of a document says so. `heads` are the words that heads of columns are known by."""
    words = {word: what for word, what in heads.items() if what in LOOKS}
    under = (c.view for clause in clauses for c in clause.cells if any(plain(h.text) in words for h in c.heads))
    return StatedLooks(words, {id(view): view for view in under})
