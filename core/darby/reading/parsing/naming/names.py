"""Which words can name a place."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence

from attrs import frozen

LEADING = frozenset("in at of on throughout within inside for to".split())
ARTICLES = frozenset("the all each both every any other our these those three two four".split())


@frozen(eq=False)
class Names:
    """Which words can name a place: all that mean nothing else here and do not merely describe."""

    plain: Container[str]
    parts: Container[str]
    """The words of all known phrases."""
    described: Container[str]
    """`[no_place]` and `[common]`: words that describe a surface, nouns of documents, plain English."""
    numbered: Sequence[str]
    """`[numbered_place]`: words that a number or letter makes a place of."""
    labels: Container[str] = frozenset()
    """`[label_only]`: words that open a line and name no place, whatever is said behind them."""
    sided: Container[str] = frozenset()
    """`[sided]`: words that tell one side of a wall from the other."""
    no_sides: Container[str] = frozenset()
    """`[no_side]`: words before `side` that tell no side of a wall from the other: all of them, and those of a sheet."""
    heads: Container[str] = frozenset()
    """`[place_nouns]`: nouns that with a plain word before them name a place: `common areas`."""
    alone: Container[str] = frozenset()
    """Of these nouns those that name a place by themselves."""
    dwellings: Sequence[str] = ()
    """Kinds of dwellings, which are places where a word leads to them."""
    counted: Container[str] = frozenset()
    """Words before such a noun that name no place: `remaining areas`, `surface area`."""
    buildings: Container[str] = frozenset()
    """Rooms that may as well be all of a building: a clinic, a library."""
    several: Container[str] = frozenset()
    """Nouns of several places, which what stands behind them may tell apart: `spaces without windows`."""
    dividing: Container[str] = frozenset()
    """Words for what stands between two places: `separation`."""
    beside: Container[str] = frozenset()
    """Words that mean something else elsewhere, and beside a room are another: `Telecom rooms, risers: ..`."""
    carrying: Container[str] = frozenset()
    """`[carrying]`: verbs of taking goods somewhere."""
    short: Mapping[str, str] = {}
    """`[short_rooms]`: what drawings write for the name of a room before its number, and the name: `elec` for electrical."""
    papers: Container[str] = frozenset()
    """Nouns of documents, dates and the like, whose numbers name no room: `in Schedule 104`."""
    sorts: Container[str] = frozenset()
    """`[sorts]`: words of which a letter or a number makes one sort of a surface: `type A`."""
    kinds: bool = False
    """Whether `Type A` is a kind of dwelling in the document."""

    def can_name(self, word: str, *, titled: bool = False) -> bool:
        """Whether a lower-case word can be (part of) the name of a place; written with a capital it may be part of a phrase elsewhere."""
        known = word in self.plain or word in self.described or (word in self.parts and not titled)
        return not known and len(word) > 1
