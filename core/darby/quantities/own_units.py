"""Units that plugins bring: so many of a known one, or what goods come in. Taken in once, they stay what they were for the whole program."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache

from darby.quantities.numerals import exact
from darby.quantities.units import (
    CONTAINERS,
    EACH,
    STANDARD,
    UNITS,
    Dimension,
    Unit,
    UnitError,
    parse,
    preferred,
    unit_named,
)

CONTAINER = "container"
"""What a unit is worth that goods come in."""
_NAME = re.compile(r"[a-z][a-z ]{0,24}[a-z]")
_SPELLING = re.compile(r"[a-z][a-z0-9.]{0,15}(?: [a-z][a-z0-9.]{0,9}){0,2}")
_MOST = 1_000


def adopt(name: str, worth: str, spellings: tuple[str, ...] = ()) -> Unit:
    """A unit that a plugin brings: worth so many of a known one (`100 sq ft`), or `container`, what goods come in. The same of the same.

    Raises UnitError where the name or a spelling is another unit's, or the worth is none.
    """
    known = UNITS.get(name)
    if known in STANDARD or not _NAME.fullmatch(name) or len(UNITS) > _MOST:
        raise UnitError(f"{name[:40]!r} cannot be the name of a unit of its own")
    for said in (name, *spellings):
        if (other := unit_named(said)) is not None:
            raise UnitError(f"{said!r} is another unit already, {other.name}")
        if not _SPELLING.fullmatch(said):
            raise UnitError(f"{said[:40]!r} is no word in small letters")
    made = _made(name, worth, spellings)
    if known is None:
        UNITS[name] = known = made
        if worth == CONTAINER:
            CONTAINERS[name] = "|".join(spellings)
    if (known.dimension, known.factor, known.spellings) != (made.dimension, made.factor, made.spellings):
        raise UnitError(f"{name!r} is a unit of another plugin already, and not the same")
    return known


def told(units: Iterable[Unit]) -> dict[str, tuple[str, ...]]:
    """The plain units of plugins that some units are made of: by name what each is worth, then its spellings."""
    plain = {part.name: part for unit in units for part in (*unit.over_parts, *unit.under) if part not in STANDARD}
    return {name: (_worth(unit), *unit.spellings) for name, unit in sorted(plain.items())}


def as_told(name: str, worth: str, spellings: tuple[str, ...]) -> Unit:
    """The unit that `told` speaks of, though its plugin be another today, or none: then it is nobody else's. Raises UnitError."""
    known = UNITS.get(name)
    if known in STANDARD or not _NAME.fullmatch(name):
        raise UnitError(f"{name[:40]!r} cannot be the name of a unit of its own")
    made = _apart(name, worth, spellings)
    same = known is not None and (known.dimension, known.factor) == (made.dimension, made.factor)
    return known if known is not None and same else made


def _worth(unit: Unit) -> str:
    if unit.dimension == ((unit.name, 1),):
        return CONTAINER
    base = preferred(unit.dimension, unit.system or "metric") or EACH
    return f"{exact(unit.factor / base.factor)} {base.name}"


def _made(name: str, worth: str, spellings: tuple[str, ...]) -> Unit:
    if worth == CONTAINER:
        return Unit(name, ((name, 1),), Fraction(1), "", spellings)
    value, unit = parse(worth)
    if value <= 0 or unit not in STANDARD:
        raise UnitError(f"{worth[:40]!r} is no amount of a known unit")
    return Unit(name, unit.dimension, value * unit.factor, unit.system, spellings)


def among(dimension: Dimension, allowed: frozenset[Dimension]) -> bool:
    """Whether a dimension is one of those allowed; that of whatever goods come in is, where those of containers are."""
    if dimension in allowed:
        return True
    containers = {UNITS[name].dimension for name in CONTAINERS}
    return dimension in containers and not allowed.isdisjoint(containers)


_apart = lru_cache(1_000)(_made)
