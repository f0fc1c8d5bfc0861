"""What the trees of facts.lark mean."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from attrs import evolve

from darby.readers import Fact, Quantity
from darby.rules import Bound
from darby.tagging import Tag
from darby.units import CONTAINERS, EACH, PERCENT, UNITS, Unit

_ONE = Fraction(1)
_AGREE = Fraction(1, 4)
"""Twin units further apart than this contradict each other; between soft rounding and this they are one fact."""
_BOUNDS: dict[str, Bound] = {"AT_MOST": "at most", "AT_LEAST": "at least", "ABOUT": "about"}

Parts = list[Any]
Said = tuple[Quantity, str]
"""An amount and what is doubtful about it."""
Number = tuple[Fraction, Fraction | None, str]
"""Lower end, upper end of a range, and what is doubtful about it."""


class Facts:
    """One method for each rule of the grammar; each takes what its parts mean."""

    # numbers

    def single(self, parts: Parts) -> Fraction:
        """A number alone."""
        return _number(parts[0])

    def restated(self, parts: Parts) -> Fraction | None:
        """`two (2)`: one number said twice, or two that contradict each other."""
        first, second = _number(parts[0]), _number(parts[2])
        return first if first == second else None

    def bracketed(self, parts: Parts) -> Fraction:
        """`(2)`."""
        return _number(parts[1])

    def one(self, parts: Parts) -> Number:
        """A single number."""
        return (parts[0], None, "") if parts[0] is not None else (Fraction(0), None, "the word and the digit differ")

    def range(self, parts: Parts) -> Number:
        """Two ends."""
        return _range(parts[0], parts[2])

    def between(self, parts: Parts) -> Number:
        """`between 8 and 10`."""
        return _range(parts[1], parts[3])

    def tolerance(self, parts: Parts) -> Number:
        """`38 ± 2`: the second number is how far the first may be off."""
        return (_number(parts[0]), None, "")

    # amounts

    def amount(self, parts: Parts) -> tuple[Quantity, str]:
        """A number and a unit."""
        (low, high, doubt), unit = parts
        return Quantity(low * _times(unit), _unit(unit), None if high is None else high * _times(unit)), doubt

    def feet_inches(self, parts: Parts) -> tuple[Quantity, str]:
        """`8'-0"`, joined by the tagger."""
        return Quantity(_number(parts[0]), UNITS["ft"]), ""

    def long_range(self, parts: Parts) -> tuple[Quantity, Quantity | None, str] | None:
        """`2" to 2-1/2"`."""
        (first, doubt), _, (second, _) = parts
        if first.unit is not second.unit or first.high is not None or second.high is not None:
            return None
        low, high, crossed = _range(first.low, second.low)
        return Quantity(low, first.unit, high), None, doubt or crossed

    def plain(self, parts: Parts) -> tuple[Quantity, Quantity | None, str]:
        """An amount said once."""
        quantity, doubt = parts[0]
        return quantity, None, doubt

    def twin(self, parts: Parts) -> tuple[Quantity, Quantity | None, str] | None:
        """An amount said in both systems."""
        (first, doubt), (second, other) = (p for p in parts if isinstance(p, tuple))
        if first.unit.system == second.unit.system:
            return None if len(parts) == 2 else (first, None, doubt)
        return first, second, doubt or other or _differ(first.size, second.size)

    def proven(self, parts: Parts) -> tuple[Quantity, Quantity | None, str]:
        """`69 (152 mm)`: a scanner read the inch mark as a 9, and the twin proves it."""
        number, (second, doubt) = _number(parts[0]), parts[2]
        inches = Quantity(Fraction(int(number) // 10), UNITS["in"])
        agrees = number.denominator == 1 and number % 10 == 9 and number > 10 and not _differ(inches.size, second.size)
        if agrees and abs(inches.size / second.size - 1) < Fraction(1, 20):
            return inches, second, doubt
        return second, None, "a number without a unit stands before its twin and does not agree with it"

    # rates

    def per_unit(self, parts: Parts) -> Quantity:
        """`per gallon`, and `per MSF`, a thousand."""
        return Quantity(_times(parts[1]), _unit(parts[1]))

    def per_amount(self, parts: Parts) -> Quantity:
        """`per 100 sq ft`."""
        quantity, _ = parts[1]
        return quantity  # type: ignore[no-any-return]

    def rate(self, parts: Parts) -> Fact:
        """An amount per another."""
        (amount, doubt), per = parts
        return Fact("", amount, per, doubt=doubt or _empty(per))

    def rate_of(self, parts: Parts) -> Fact:
        """`62 lb of compound per 1000 sq ft`."""
        (amount, doubt), _, subject, per = parts
        return Fact("", amount, per, subject=subject.value, doubt=doubt or _empty(per))

    def twin_rate(self, parts: Parts) -> Fact:
        """A rate said in both systems."""
        (amount, doubt), per, _, (second, _), second_per, _ = parts
        if not per.low or not second_per.low:
            return Fact("", amount, per, doubt="a rate per nothing")
        doubt = doubt or _differ(amount.size / per.size, second.size / second_per.size)
        return Fact("", amount, per, twin=(second, second_per), doubt=doubt)

    def container_rate(self, parts: Parts) -> Fact:
        """`5 tubes per 1000 sq ft`."""
        (low, high, doubt), container, per = parts
        return Fact("", Quantity(low, _unit(container), high), per, doubt=doubt or _empty(per))

    def count_rate(self, parts: Parts) -> Fact:
        """`1.1 screws per sq ft`."""
        (low, high, doubt), per = parts[0], parts[-1]
        if per.unit.name in CONTAINERS and per.unit.name != "sheet":
            return Fact("package", Quantity(low, EACH, high), per, doubt=doubt)
        if per.unit.name == "sheet":
            return Fact("", Quantity(low, EACH, high), per, doubt="the unit is missing")
        subject = parts[1].value if len(parts) == 3 and isinstance(parts[1], Tag) and parts[1].name == "subject" else ""
        return Fact("", Quantity(low, EACH, high), per, subject=subject, doubt=doubt or _empty(per))

    def thing(self, parts: Parts) -> Tag:
        """What is counted."""
        return parts[0]  # type: ignore[no-any-return]

    def coverage(self, parts: Parts) -> Fact:
        """Area per volume."""
        return _with_bound(parts, "coverage")

    def consumption(self, parts: Parts) -> Fact:
        """Amount per area or length."""
        return _with_bound(parts, "consumption")

    def covers(self, parts: Parts) -> Fact:
        """`a gallon covers 350 sq ft`."""
        per = Quantity(_ONE, _unit(parts[0])) if isinstance(parts[0], Tag) else parts[0][0]
        area, doubt = parts[-1]
        return Fact("coverage", area, per, bound=_bound(parts), doubt=doubt or _empty(per))

    def does(self, parts: Parts) -> Fact:
        """`.. does about 85 ft`: of the package just named."""
        amount, doubt = parts[-1]
        return Fact("does", amount, bound=_bound(parts), doubt=doubt)

    # packages

    def contents(self, parts: Parts) -> Fact | None:
        """`64 lb pails`, `61 lb per pail`, `4.5 gal pail (17 L)`."""
        amounts = [p for p in parts if isinstance(p, tuple)]
        quantity, twin, doubt = amounts[0]
        one = Quantity(_ONE, _unit(_find(parts, Tag, "CONTAINER")))
        if len(amounts) > 1:
            twin, _, other = amounts[1]
            if twin.unit.dimension != quantity.unit.dimension:
                return None
            doubt = doubt or other or _differ(quantity.size, twin.size)
        return Fact("package", quantity, one, bound=_bound(parts), twin=(twin, one) if twin else None, doubt=doubt)

    def contents_after(self, parts: Parts) -> Fact | None:
        """`pails of 4.5 gal`."""
        (quantity, twin, doubt), one = parts[-1], Quantity(_ONE, _unit(parts[0]))
        if one.unit.name == "sheet":
            return None
        return Fact("package", quantity, one, bound=_bound(parts), twin=(twin, one) if twin else None, doubt=doubt)

    def pieces_after(self, parts: Parts) -> Fact:
        """`boxes of 50`."""
        return Fact("package of", Quantity(_number(parts[2]), EACH), Quantity(_ONE, _unit(parts[0])))

    def lengths(self, parts: Parts) -> Fact:
        """`in 2.7 m lengths`: what one piece measures."""
        quantity, twin, doubt = parts[0]
        one = Quantity(_ONE, UNITS["stick"])
        return Fact("package", quantity, one, twin=(twin, one) if twin else None, doubt=doubt)

    def loose_pieces(self, parts: Parts) -> Fact:
        """`about 5,500 pieces`, of a container named before it."""
        return Fact("pieces", Quantity(_find(parts, tuple)[0], EACH), bound=_bound(parts))

    # coats and layers

    def adjective(self, parts: Parts) -> dict[str, str]:
        """Words between the number and its noun, as in `two finish coats`."""
        return {part.name: part.value for part in parts}

    def coats(self, parts: Parts) -> Fact:
        """`two coats`."""
        return _counted(parts, "coats")

    def ordinal_coat(self, parts: Parts) -> Fact:
        """`second coat`: one coat, and which."""
        ordinal = _find(parts, Tag, "ORDINAL")
        words: dict[str, str] = next((p for p in parts if isinstance(p, dict)), {})
        noun = next((p.value for p in parts if isinstance(p, Tag) and p.name == "COAT"), "")
        subject = words.get("subject", noun)
        return Fact("coats", Quantity(_ONE, EACH), scope=(("coat", ordinal.value),), subject=subject)

    def ordinal_coats(self, parts: Parts) -> Fact:
        """`second and third coats`: two, and which."""
        return Fact("coats", Quantity(Fraction(2), EACH), scope=(("coat", f"{parts[0].value} and {parts[2].value}"),))

    def ordinal_row(self, parts: Parts) -> Fact:
        """`First`, alone: the key of a row of coats, or a word of running text."""
        return Fact("ordinal", Quantity(_ONE, EACH), scope=(("coat", parts[0].value),))

    def a_coat(self, _parts: Parts) -> Fact:
        """`a coat of`."""
        return Fact("coats", Quantity(_ONE, EACH))

    def layers(self, parts: Parts) -> Fact:
        """`two layers`."""
        return _counted(parts, "layers")

    # lengths

    def bound(self, parts: Parts) -> Bound:
        """What a word makes of the number beside it."""
        return next(_BOUNDS[p.name] for p in parts if p.name in _BOUNDS)

    def before(self, parts: Parts) -> Parts:
        """Words before an amount."""
        return parts

    def after(self, parts: Parts) -> Any:
        """Words behind a rate."""
        return parts[0]

    def spacing(self, parts: Parts) -> Fact:
        """A length and `on center`."""
        return _lengthy(parts, "spacing")

    def thickness(self, parts: Parts) -> Fact:
        """A length and `thick`."""
        return _lengthy(parts, "thickness")

    def length_of(self, parts: Parts) -> Fact:
        """A length and `long`."""
        return _lengthy(parts, "long")

    def sheet_width(self, parts: Parts) -> Fact:
        """A length and `wide`."""
        return _lengthy(parts, "wide")

    def sheet(self, parts: Parts) -> Fact:
        """`4 ft by 12 ft`."""
        (width, doubt), _, (length, other) = parts
        return Fact("sheet", width, by=length, doubt=doubt or other)

    def sheet_worded(self, parts: Parts) -> Fact:
        """`48 inches wide by 10 feet long`."""
        (width, twin, doubt), (length, _, other) = (p for p in parts if isinstance(p, tuple))
        return Fact("sheet", width, by=length, twin=(twin, None) if twin else None, doubt=doubt or other)

    def sheet_twin(self, parts: Parts) -> Fact:
        """`4 ft x 12 ft (1220 x 3660 mm)`: one size in both systems."""
        return _twin_sheet(*(p for p in parts if isinstance(p, tuple)))

    def sheet_each(self, parts: Parts) -> Fact:
        """`48 in. (1220 mm) x 12 ft (3660 mm)`."""
        width, second_width, length, second_length = (p for p in parts if isinstance(p, tuple))
        return _twin_sheet(width, length, second_width, second_length)

    def sheet_shared(self, parts: Parts) -> Fact | None:
        """`1200 x 2700 mm`: one unit for both."""
        number, _, (length, doubt) = parts
        return None if number is None else Fact("sheet", Quantity(number, length.unit), by=length, doubt=doubt)

    def sheet_shared_twin(self, parts: Parts) -> Fact | None:
        """`1220 x 3048 mm (48 in. x 10 ft)`."""
        number, _, length, _, second_width, _, second_length, _ = parts
        if number is None:
            return None
        return _twin_sheet((Quantity(number, length[0].unit), ""), length, second_width, second_length)

    def sheet_shared_after(self, parts: Parts) -> Fact | None:
        """`4' x 8`: the second number takes the unit of the first."""
        (width, doubt), _, number = parts
        return None if number is None else Fact("sheet", width, by=Quantity(number, width.unit), doubt=doubt)

    def same(self, parts: Parts) -> Any:
        """A rule that only names another."""
        return parts[0]

    def film(self, parts: Parts) -> Fact:
        """Mils or microns, wet or dry."""
        fact = _lengthy(parts, "film")
        state = next((p.name.lower() for p in parts if isinstance(p, Tag) and p.name in ("WET", "DRY")), "")
        return evolve(fact, scope=(("film", state),)) if state else fact

    def film_after(self, parts: Parts) -> Fact:
        """`DFT 2 mils`."""
        return self.film(parts)

    # shares, levels

    def share(self, parts: Parts) -> Fact:
        """A percentage, and what of, where a word says it."""
        low, high, doubt = _find(parts, tuple)
        kind = next((p.name.lower() for p in parts if isinstance(p, Tag) and p.name in ("SOLIDS", "WASTE")), "")
        return Fact(kind, Quantity(low, PERCENT, high), bound=_bound(parts), doubt=doubt)

    def share_after(self, parts: Parts) -> Fact:
        """`waste 10 %`."""
        return self.share(parts)

    def level(self, parts: Parts) -> Fact | None:
        """`Level 4`."""
        return Fact("finish level", Quantity(_number(parts[1]), EACH))

    # openings

    def compare(self, parts: Parts) -> str:
        """`over` or `under`."""
        return parts[0].name  # type: ignore[no-any-return]

    def deduct(self, parts: Parts) -> Fact:
        """`deduct openings over 32 sq ft`."""
        area, _, doubt = parts[-1] if isinstance(parts[-1], tuple) else _find(parts, tuple)
        if "SMALLER_THAN" in parts:
            doubt = doubt or "small openings come out and large ones stay: is that meant?"
        return Fact("deduct openings over", area, doubt=doubt)

    def deduct_all(self, _parts: Parts) -> Fact:
        """Every opening comes out: over nothing."""
        return Fact("deduct openings over", Quantity(Fraction(0), UNITS["sq ft"]))

    def keep(self, parts: Parts) -> Fact:
        """`openings under 20 sq ft stay in`: larger ones come out."""
        area, _, doubt = _find(parts, tuple)
        if "LARGER_THAN" in parts:
            doubt = doubt or "large openings stay in and small ones are not spoken of: is that meant?"
        return Fact("deduct openings over", area, doubt=doubt)

    def keep_all(self, _parts: Parts) -> Fact:
        """No opening comes out: no share of any."""
        return Fact("deduct openings over", Quantity(Fraction(0), PERCENT))

    # the rest

    def aside(self, parts: Parts) -> Fact:
        """A number that measures something else."""
        return Fact("", why=parts[1].value)

    def bare(self, parts: Parts) -> Fact:
        """A measure of which only the words around it tell what it is."""
        quantity, twin, doubt = _find(parts, tuple)
        return Fact("", quantity, bound=_bound(parts), twin=(twin, None) if twin else None, doubt=doubt)

    def bare_count(self, parts: Parts) -> Fact:
        """`4 pails`: how many, not how large."""
        low, high, doubt = parts[0]
        return Fact("", Quantity(low, _unit(parts[1]), high), doubt=doubt)

    def bare_number(self, parts: Parts) -> Fact:
        """A number without a unit."""
        low, high, doubt = parts[0]
        return Fact("", Quantity(low, EACH, high), doubt=doubt)


def _number(part: Any) -> Fraction:
    value = part.number if isinstance(part, Tag) else part
    return value if value is not None else Fraction(0)


def _unit(tag: Tag) -> Unit:
    return UNITS["sq ft"] if tag.value == "msf" else UNITS[tag.value]


def _times(tag: Tag) -> Fraction:
    return Fraction(1000) if tag.value == "msf" else _ONE


def _range(low: Fraction | None, high: Fraction | None) -> Number:
    if low is None or high is None:
        return Fraction(0), None, "the word and the digit differ"
    return (low, high, "the range runs downwards" if high < low else "") if low != high else (low, None, "")


def _differ(first: Fraction, second: Fraction) -> str:
    if not first or not second:
        return "one of the two units says nothing"
    return "" if abs(first / second - 1) <= _AGREE and abs(second / first - 1) <= _AGREE else "the two units disagree"


def _empty(per: Quantity) -> str:
    return "" if per.low else "a rate per nothing"


def _find(parts: Parts, wanted: type, name: str = "") -> Any:
    return next(p for p in parts if isinstance(p, wanted) and (not name or p.name == name))


def _flat(parts: Parts) -> Parts:
    return [q for p in parts for q in (_flat(p) if isinstance(p, list) else [p])]


def _bound(parts: Parts) -> Bound:
    found = [p for p in _flat(parts) if isinstance(p, str) and p in _BOUNDS.values()]
    return found[0] if found else "exact"  # type: ignore[return-value]


def _with_bound(parts: Parts, kind: str) -> Fact:
    fact: Fact = _find(parts, Fact)
    if fact.kind or fact.doubt:
        return fact
    if fact.per is not None and fact.per.unit.name in CONTAINERS:
        return evolve(fact, kind="package", bound=_bound(parts))
    return evolve(fact, kind=kind, bound=_bound(parts))


def _counted(parts: Parts, kind: str) -> Fact:
    low, high, doubt = _find(parts, tuple)
    words: dict[str, str] = next((p for p in parts if isinstance(p, dict)), {})
    noun = next((p.value for p in parts if isinstance(p, Tag) and p.name == "COAT"), "")
    if high is not None:
        doubt = doubt or f"how many {kind}: the text leaves it open"
    if "MORE" in words:
        doubt = doubt or "more than what is said elsewhere: the total is open"
    scope = (("sheen", words["sheen"]),) if "sheen" in words else ()
    subject = words.get("subject", noun)
    return Fact(kind, Quantity(low, EACH, high), bound=_bound(parts), scope=scope, doubt=doubt, subject=subject)


def _twin_sheet(width: Said, length: Said, second_width: Said, second_length: Said) -> Fact:
    doubt = _differ(width[0].size, second_width[0].size) or _differ(length[0].size, second_length[0].size)
    said = next((p[1] for p in (width, length, second_width, second_length) if p[1]), "")
    return Fact("sheet", width[0], by=length[0], twin=(second_width[0], None), doubt=said or doubt)


def _lengthy(parts: Parts, kind: str) -> Fact:
    quantity, twin, doubt = _find(parts, tuple)
    return Fact(kind, quantity, bound=_bound(parts), twin=(twin, None) if twin else None, doubt=doubt)
