"""What several of a thing are called: `walls`, `boxes`; of what nobody counts the word itself, `trim`.

For words that no vocabulary spells out in front of whoever prints them. What a vocabulary or a unit spells is taken from there.
"""

from __future__ import annotations

from functools import cache

from darby.quantities.units import STANDARD, Unit

_UNCOUNTED = frozenset({"joinery", "trim", "woodwork"})
"""Kinds of surface that are many as they stand."""
_HISSING = ("ch", "sh", "x", "z")
_VOWELS = "aeiou"


@cache
def plural(noun: str) -> str:
    """More than one of them, by the last word: `walls`, `cover strips`, `boxes`, `assemblies`; what ends in s is many already."""
    if noun.endswith("s") or noun.rpartition(" ")[2] in _UNCOUNTED or not noun:
        return noun
    if noun.endswith("y") and noun[-2:-1] not in _VOWELS:
        return f"{noun[:-1]}ies"
    return f"{noun}es" if noun.endswith(_HISSING) else f"{noun}s"


@cache
def plural_of(unit: Unit) -> str:
    """What several of a unit are called: `pails`, `boxes`, of a plugin's own `squares`. Its name where a number changes nothing, as `ft`."""
    counted = unit.dimension == ((unit.name, 1),)
    if not counted and (unit in STANDARD or not unit.spellings):
        return unit.name
    said = (s for s in unit.spellings if s.endswith("s") and s.startswith(unit.name[:3]) and s != unit.name)
    return next(said, plural(unit.name) if counted else unit.name)
