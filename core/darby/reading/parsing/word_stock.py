"""The stock of words: every phrase of units and vocabularies with its meaning, the first that is given, and who gave another.

The stock of some vocabularies is that of all but the last with the last one's words put to it. What the rooms of one job add costs no more
than they are, whatever all the others hold.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cached_property, lru_cache
from itertools import islice

from attrs import field, frozen

from darby.quantities.numerals import ORDINALS, WORDS
from darby.quantities.units import AREA, CONTAINERS, LENGTH, MARKS, MASS, STANDARD, VOLUME, Unit
from darby.reading.parsing.tagging.phrase_index import PhraseIndex
from darby.reading.parsing.tagging.tag import Meaning
from darby.reading.parsing.tagging.units_behind import UnitsBehind
from darby.reading.parsing.vocabulary import NO_WORDS, Vocabulary, strings

Said = tuple[str, str, str, Meaning]
"""Who says it, the shelf it stands on, a phrase, and its terminal and value."""

_REASONS = {
    "aside": ("phrases", "ASIDE"), "aside_all": ("phrases", "ASIDE_ALL"), "aside_next": ("phrases", "REFERENCE"), "ask": ("phrases", "ASK"),
    "aside_unit": ("after_unit", "STRIP"), "aside_after": ("after_number", "FOREIGN"),
}  # fmt: skip
"""Tables that give reasons: where their phrases count, and what they are."""
_DIMENSION_TERMINALS = {LENGTH: "LENGTH_UNIT", AREA: "AREA_UNIT", VOLUME: "VOLUME_UNIT", MASS: "MASS_UNIT"}
_THIN = {"mil", "um"}
_ONLY_AFTER_NUMBER = 2
"""A unit spelled with so few letters is a unit only behind a number: `in`, `m`, `L`, `pt`."""
_LETTERS = re.compile(r"[a-z]+")
_NUMBERS = {**{word: ("NUMBER", word) for word in WORDS}, **{word: ("ORDINAL", word) for word in ORDINALS}}


@frozen(eq=False, slots=False)
class Stock:
    """Phrases, lower case, each to its terminal and value."""

    phrases: Mapping[str, Meaning] = field(factory=dict, repr=False)
    after_number: Mapping[str, Meaning] = field(factory=dict, repr=False)
    """What means something only right behind a number or a "per"."""
    after_unit: Mapping[str, Meaning] = field(factory=dict, repr=False)
    """What a word right behind a length makes of it, as `3/8 inch gap`."""
    claims: Mapping[str, list[str]] = field(factory=dict, repr=False)
    """Phrases that two vocabularies gave different meanings, and who did."""
    _owner: Mapping[str, str] = field(factory=dict, repr=False)
    _before: Stock | None = field(default=None, repr=False)

    def and_(self, said: Iterator[Said]) -> Stock:
        """This stock and what somebody says; of two meanings for one phrase the first stays and the clash is recorded."""
        shelves = {name: dict(getattr(self, name)) for name in ("phrases", "after_number", "after_unit")}
        claims, owner = {phrase: list(who) for phrase, who in self.claims.items()}, dict(self._owner)
        for who, shelf, phrase, meaning in said:
            low = phrase.lower()
            if shelves[shelf].setdefault(low, meaning) == meaning:
                owner.setdefault(low, who)
            elif who != owner.get(low):
                claims.setdefault(low, [owner.get(low, "")]).append(who)
        return Stock(**shelves, claims=claims, owner=owner, before=self)

    def _more(self, shelf: str) -> dict[str, Meaning]:
        """What stands on a shelf and not on that of the stock before."""
        known = len(getattr(self._before, shelf)) if self._before is not None else 0
        return dict(islice(getattr(self, shelf).items(), known, None))

    @cached_property
    def index(self) -> PhraseIndex:
        """All phrases, and the words for numbers, ready to look up."""
        before = self._before.index if self._before is not None else PhraseIndex(_NUMBERS)
        return before.and_(self._more("phrases"))

    @cached_property
    def units(self) -> UnitsBehind:
        """What stands behind numbers and lengths, ready to look up."""
        if self._before is None:
            return UnitsBehind(
                self.index, self.after_number, PhraseIndex(self.after_number), PhraseIndex(self.after_unit)
            )
        known = self._before.units
        units, strips = known.units.and_(self._more("after_number")), known.strips.and_(self._more("after_unit"))
        return UnitsBehind(self.index, self.after_number, units, strips)

    @cached_property
    def parts(self) -> frozenset[str]:
        """The words of all phrases."""
        said = (phrase.partition(" {")[0] for shelf in ("phrases", "after_number") for phrase in self._more(shelf))
        known = self._before.parts if self._before is not None else frozenset()
        return known | {word for phrase in said for word in phrase.split()}

    @cached_property
    def spelled(self) -> frozenset[str]:
        """All phrases as they are written, and every run of letters in them."""
        more = [*self._more("phrases"), *self._more("after_number")]
        known = self._before.spelled if self._before is not None else frozenset(WORDS)
        return known.union(more, (word for phrase in more for word in _LETTERS.findall(phrase)))


@lru_cache(32)
def stock_of(vocabularies: tuple[Vocabulary, ...]) -> Stock:
    """The stock of some vocabularies, the first of two meanings first. Raises tomllib.TOMLDecodeError, UnitError."""
    if not vocabularies:
        return Stock().and_(unit_words())
    return stock_of(vocabularies[:-1]).and_(_said(vocabularies[-1]))


def _said(vocabulary: Vocabulary) -> Iterator[Said]:
    """Every phrase of a vocabulary: first its terminals, then its reasons, then what it calls subjects, surfaces and the like; then its units."""
    tables, who = vocabulary.tables, vocabulary.name
    for table, shelf in (("words", "phrases"), ("after_number", "after_number")):
        for terminal, phrases in tables.get(table, {}).items():
            name, _, value = terminal.partition(":")
            yield from ((who, shelf, phrase, (name, value)) for phrase in strings(phrases))
    for table, (shelf, name) in _REASONS.items():
        for reason, phrases in tables.get(table, {}).items():
            yield from ((who, shelf, phrase, (name, reason)) for phrase in strings(phrases))
    for key, values in tables.items():
        if key not in NO_WORDS and key not in _REASONS and key not in ("words", "after_number"):
            for value, phrases in values.items():
                yield from ((who, "phrases", phrase, (key, value)) for phrase in strings(phrases))
    for unit in vocabulary.units:
        yield from _spelled(who, unit)


def unit_words() -> Iterator[Said]:
    """The spellings of units: the short ones are words only behind a number."""
    for unit in STANDARD:
        yield from _spelled("units", unit)
    for mark, unit_name in MARKS.items():
        yield "units", "after_number", mark, ("LENGTH_UNIT", unit_name)


def _spelled(who: str, unit: Unit) -> Iterator[Said]:
    terminal = _DIMENSION_TERMINALS.get(unit.dimension, "COUNT")
    terminal = "THIN_UNIT" if unit.name in _THIN else "PERCENT" if unit.name == "%" else terminal
    terminal = "CONTAINER" if unit.name in CONTAINERS else terminal
    for spelling in unit.spellings:
        yield who, "after_number", spelling, (terminal, unit.name)
        if len(spelling.rstrip(".")) > _ONLY_AFTER_NUMBER and spelling not in ("can", "tin"):
            yield who, "phrases", spelling, (terminal, unit.name)
