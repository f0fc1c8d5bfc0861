"""What the parts of a fact's tree come to: small pieces that the meanings in `facts` share."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from attrs import evolve

from darby.api import CONTAINERS, EACH, UNITS, Bound, Fact, Quantity, Tag, Unit

ONE = Fraction(1)
RATED_BY = ("C1629",)
"""Standards whose levels say how much a sheet withstands, and not how far it is finished."""
_AGREE = Fraction(1, 4)
"""Twin units further apart than this contradict each other; between soft rounding and this they are one fact."""
BOUNDS: dict[str, Bound] = {"AT_MOST": "at most", "AT_LEAST": "at least", "ABOUT": "about"}

Parts = list[Any]
Said = tuple[Quantity, str]
"""An amount and what is doubtful about it."""
Number = tuple[Fraction, Fraction | None, str]
"""Lower end, upper end of a range, and what is doubtful about it."""


def number_in(part: Any) -> Fraction:
    """The number of a tag, or a number already read; nothing is nought."""
    value = part.number if isinstance(part, Tag) else part
    return value if value is not None else Fraction(0)


def unit_of(tag: Tag) -> Unit:
    """The unit a tag stands for."""
    return UNITS["sq ft"] if tag.value == "msf" else UNITS[tag.value]


def times_of(tag: Tag) -> Fraction:
    """How many of its unit a tag stands for: a thousand for MSF."""
    return Fraction(1000) if tag.value == "msf" else ONE


def range_of(low: Fraction | None, high: Fraction | None) -> Number:
    """A range from two numbers; one that runs downwards is doubtful."""
    if low is None or high is None:
        return Fraction(0), None, "the word and the digit differ"
    return (low, high, "the range runs downwards" if high < low else "") if low != high else (low, None, "")


def contradiction(first: Fraction, second: Fraction) -> str:
    """Why two sizes cannot be one thing said twice, or nothing."""
    if not first or not second:
        return "one of the two units says nothing"
    return "" if abs(first / second - 1) <= _AGREE and abs(second / first - 1) <= _AGREE else "the two units disagree"


def per_nothing(per: Quantity) -> str:
    """Why a rate has no sense, or nothing."""
    return "" if per.low else "a rate per nothing"


def rate_fact(amount: Quantity, per: Quantity, doubt: str = "", kind: str = "", subject: str = "") -> Fact:
    """An amount per another. A range below the line (`900 sq ft per 2 to 3 gal`) is one above it, so that no end is lost."""
    doubt = doubt or per_nothing(per)
    if per.high is not None and not doubt:
        least, most = sorted((per.low, per.high))
        amount = evolve(amount, high=(amount.high or amount.low) * most / least)
        per = evolve(per, low=most, high=None)
    return Fact(kind, amount, per, doubt=doubt, subject=subject)


def first_of(parts: Parts, wanted: type | tuple[type, ...], name: str = "") -> Any:
    """The first part of a type, and of a terminal."""
    return next(p for p in parts if isinstance(p, wanted) and (not name or getattr(p, "name", "") == name))


def flattened(parts: Parts) -> Parts:
    """Parts with the lists among them opened."""
    return [q for p in parts for q in (flattened(p) if isinstance(p, list) else [p])]


def bound_of(parts: Parts) -> Bound:
    """What the words around an amount make of it."""
    found = [p for p in flattened(parts) if isinstance(p, str) and p in BOUNDS.values()]
    return found[0] if found else "exact"  # type: ignore[return-value]


def bounded(parts: Parts, kind: str) -> Fact:
    """A rate with its kind and bound."""
    fact: Fact = first_of(parts, Fact)
    if fact.kind or fact.doubt:
        return fact
    if fact.per is not None and fact.per.unit.name in CONTAINERS:
        return evolve(fact, kind="package", bound=bound_of(parts))
    return evolve(fact, kind=kind, bound=bound_of(parts))


def counted_fact(parts: Parts, kind: str) -> Fact:
    """A number of coats or layers, and what stands between the number and its noun."""
    plain = first_of(parts, (tuple, Fraction))
    low, high, doubt = plain if isinstance(plain, tuple) else (plain, None, "")
    words: dict[str, str] = next((p for p in parts if isinstance(p, dict)), {})
    noun = next((p for p in parts if isinstance(p, Tag) and p.name in ("COAT", "LAYER")), None)
    if high is not None:
        doubt = doubt or f"how many {kind}: the text leaves it open"
    if "MORE" in words:
        doubt = doubt or "more than what is said elsewhere: the total is open"
    scope = (
        *((("sheen", words["sheen"]),) if "sheen" in words else ()),
        *((key, value) for key, value in (noun.also if noun is not None else ()) if key != "count"),
    )
    named = next((p.value for p in parts if isinstance(p, Tag) and p.name == "subject"), "")
    subject = words.get("subject", named or (noun.value if noun is not None and noun.name == "COAT" else ""))
    return Fact(kind, Quantity(low, EACH, high), bound=bound_of(parts), scope=scope, doubt=doubt, subject=subject)


def twin_sheet(width: Said, length: Said, second_width: Said, second_length: Said) -> Fact:
    """A sheet said in both systems."""
    doubt = contradiction(width[0].size, second_width[0].size) or contradiction(length[0].size, second_length[0].size)
    said = next((p[1] for p in (width, length, second_width, second_length) if p[1]), "")
    return Fact("sheet", width[0], by=length[0], twin=(second_width[0], None), doubt=said or doubt)


def length_fact(parts: Parts, kind: str) -> Fact:
    """A length, a film or the like with its bound."""
    quantity, twin, doubt = first_of(parts, tuple)
    return Fact(kind, quantity, bound=bound_of(parts), twin=(twin, None) if twin else None, doubt=doubt)


def held(parts: Parts, amount: Quantity, subject: str, doubt: str) -> Fact | None:
    """What a package holds; nothing where several packages are counted, or where it is no package but a sheet."""
    counted = next((p for p in parts if isinstance(p, tuple) and len(p) == 3), None)
    if counted is not None and counted[0] != 1 and parts[0] is counted:
        return None
    one = Quantity(ONE, unit_of(first_of(parts, Tag, "CONTAINER")))
    if one.unit.name == "sheet":
        return None
    return Fact("package", amount, one, subject=subject, bound=bound_of(parts), doubt=doubt)
