"""Frozen values as plain data, and back again by their annotations: what does not fit them is refused, not bent.

An exact number is a text, a unit its name, a class a table of its fields under its name. What plain data cannot hold, as an amount with its
working, is left to whoever reads and writes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from fractions import Fraction
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from attrs import fields, has

from darby.plugin_host.isolation.failures import NonsenseError
from darby.quantities.units import EACH, UNITS, Unit, combine
from darby.rules.rule import Scope

Write = Callable[[Any], object]
Read = Callable[[object], Any]

_NUMBER = re.compile(r"-?[0-9]{1,4000}(/[0-9]{1,4000})?")


def to_plain(value: object, special: Mapping[type, Write]) -> object:
    """A value as plain data; `special` writes what is of its types. A function is only said to be there. Raises NonsenseError."""
    for kind in type(value).__mro__[:-1]:
        if kind in special:
            return special[kind](value)
    if value is None or type(value) in (bool, str, int):
        return value
    if isinstance(value, str):  # of a class of its own
        return str(value)
    if isinstance(value, Fraction):
        return f"{value.numerator}/{value.denominator}"
    if isinstance(value, Unit):
        return [[u.name for u in value.over_parts], [u.name for u in value.under]]
    if isinstance(value, Mapping):
        return {to_plain(k, special): to_plain(v, special) for k, v in value.items()}
    if isinstance(value, tuple | list):
        return [to_plain(v, special) for v in value]
    if isinstance(value, frozenset | set):
        return sorted((to_plain(v, special) for v in value), key=repr)
    if has(type(value)):
        known = next((c for c in type(value).__mro__ if c.__module__.startswith("darby.")), type(value))
        return {"is": known.__name__} | {f.name: to_plain(getattr(value, f.name), special) for f in fields(known)}
    if callable(value):
        return True
    raise NonsenseError(f"gave a {type(value).__name__}, which cannot be handed over")


def from_plain(data: object, wanted: Any, special: Mapping[Any, Read]) -> Any:
    """The value of a type, as `to_plain` wrote it. Raises NonsenseError."""
    if wanted in special:
        return special[wanted](data)
    if wanted is Any:
        return None
    if wanted in (str, bool, int, NoneType):
        return _is(data, wanted)
    if wanted is Fraction:
        return number(data)
    if wanted is Unit:
        return unit(data)
    if wanted is Scope:
        return Scope(from_plain(data, Mapping[str, str], special))
    origin, of = get_origin(wanted), get_args(wanted)
    if origin in (Union, UnionType):
        return _one_of(data, of, special)
    if origin is Literal:
        if data not in of:
            raise NonsenseError(f"gave {str(data)[:40]!r} where one of {', '.join(map(str, of))} is wanted")
        return data
    if origin is Callable:
        return _gone if data else None
    if origin is tuple and of[-1:] != (Ellipsis,):
        parts = _is(data, list)
        if len(parts) != len(of):
            raise NonsenseError(f"gave {len(parts)} things where {len(of)} are wanted")
        return tuple(from_plain(part, kind, special) for part, kind in zip(parts, of, strict=True))
    if origin in (tuple, Collection, Iterable, Sequence, list):
        return tuple([from_plain(part, of[0], special) for part in _is(data, list)])
    if origin in (frozenset, set):
        return frozenset(from_plain(part, of[0], special) for part in _is(data, list))
    if origin is Mapping:
        table = _is(data, dict)
        return {from_plain(k, of[0], special): from_plain(v, of[1], special) for k, v in table.items()}
    if has(wanted):
        return _built(_is(data, dict), wanted, special)
    raise NonsenseError(f"gave something where a {wanted} is wanted")


def number(data: object) -> Fraction:
    """An exact number. Raises NonsenseError."""
    if type(data) is not str or not _NUMBER.fullmatch(data) or data.endswith("/0"):
        raise NonsenseError("gave what is no exact number")
    above, _, below = data.partition("/")
    try:
        return Fraction(int(above), int(below or 1))
    except ZeroDivisionError:
        raise NonsenseError("gave what is no exact number") from None


def unit(data: object) -> Unit:
    """A unit, plain or made of others, by the names of its parts. Raises NonsenseError."""
    if type(data) is list and len(data) == 2 and all(type(names) is list for names in data):
        over, under = map(tuple, data)
        if all(type(name) is str for name in (*over, *under)):
            return _unit(over, under)
    raise NonsenseError("gave what is no unit")


@cache
def _unit(over: tuple[str, ...], under: tuple[str, ...]) -> Unit:
    made = EACH
    for names, sign in ((over, 1), (under, -1)):
        for name in names:
            if name not in UNITS:
                raise NonsenseError(f"measures in {name[:40]}, which is no unit that is known here")
            made = UNITS[name] if made is EACH and sign == 1 else combine(made, UNITS[name], sign)
    return made


def _one_of(data: object, kinds: tuple[Any, ...], special: Mapping[Any, Read]) -> Any:
    """Of several types the first that fits."""
    wrong = NonsenseError("gave nothing that fits")
    for kind in kinds:
        try:
            return from_plain(data, kind, special)
        except NonsenseError as error:
            wrong = error
    raise wrong


def _built(data: dict[str, object], wanted: type, special: Mapping[Any, Read]) -> Any:
    hints = _hints(wanted)
    if data.get("is") != wanted.__name__:
        raise NonsenseError(f"gave a {str(data.get('is'))[:40]} where a {wanted.__name__} is wanted")
    try:
        return wanted(**{f.name: from_plain(data[f.name], hints[f.name], special) for f in fields(wanted)})
    except KeyError as error:
        raise NonsenseError(f"gave a {wanted.__name__} without {error}") from None


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)


def _is(data: object, kind: type) -> Any:
    if type(data) is not kind:
        raise NonsenseError(f"gave a {type(data).__name__} where a {kind.__name__} is wanted")
    return data


def _gone(*_: object) -> Any:
    """Stands for a function that stayed where it came from."""
    raise NonsenseError("was asked for something that it kept to itself")
