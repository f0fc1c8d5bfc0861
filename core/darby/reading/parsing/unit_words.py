"""How units are spelled, as words of a lexicon: those that are known anyway, and those that a vocabulary brings."""

from __future__ import annotations

from collections.abc import Iterator

from darby.quantities.units import AREA, CONTAINERS, LENGTH, MARKS, MASS, STANDARD, VOLUME, Unit
from darby.reading.parsing.vocabulary import Vocabulary

Said = tuple[str, str, str, tuple[str, str]]
"""Who says it, the shelf it stands on, a phrase, and its terminal and value."""

_DIMENSION_TERMINALS = {LENGTH: "LENGTH_UNIT", AREA: "AREA_UNIT", VOLUME: "VOLUME_UNIT", MASS: "MASS_UNIT"}
_THIN = {"mil", "um"}
_ONLY_AFTER_NUMBER = 2
"""A unit spelled with so few letters is a unit only behind a number: `in`, `m`, `L`, `pt`."""


def unit_words() -> Iterator[Said]:
    """The spellings of units: the short ones are words only behind a number."""
    for unit in STANDARD:
        yield from _spelled("units", unit)
    for mark, unit_name in MARKS.items():
        yield "units", "after_number", mark, ("LENGTH_UNIT", unit_name)


def own_unit_words(vocabulary: Vocabulary) -> Iterator[Said]:
    """The same for the units that a vocabulary brings."""
    for unit in vocabulary.units:
        yield from _spelled(vocabulary.name, unit)


def _spelled(who: str, unit: Unit) -> Iterator[Said]:
    terminal = _DIMENSION_TERMINALS.get(unit.dimension, "COUNT")
    terminal = "THIN_UNIT" if unit.name in _THIN else "PERCENT" if unit.name == "%" else terminal
    terminal = "CONTAINER" if unit.name in CONTAINERS else terminal
    for spelling in unit.spellings:
        yield who, "after_number", spelling, (terminal, unit.name)
        if len(spelling.rstrip(".")) > _ONLY_AFTER_NUMBER and spelling not in ("can", "tin"):
            yield who, "phrases", spelling, (terminal, unit.name)
