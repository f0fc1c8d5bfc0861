"""Whether a number that is told as read is in a rule: worked out here from its spelling alone, not by asking the reader."""

from __future__ import annotations

import html
import re
from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import cache

from darby.quantities.amounts import Amount
from darby.quantities.units import AREA, LENGTH, NUMBER_ONLY, UNITS, Dimension
from darby.reading.account.ledger import Number
from darby.reading.read import Reading
from darby.rules.rule import Rule

_ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
).split()
_TENS = "_ _ twenty thirty forty fifty sixty seventy eighty ninety".split()
_ORDINALS = "_ first second third fourth fifth".split()
_TIMES = {"once": 1, "twice": 2, "single": 1, "double": 2, "triple": 3, "both": 2, "a": 1, "an": 1}
_PARTS = {"half": 2, "halves": 2, "quarter": 4, "quarters": 4, "third": 3, "thirds": 3, "eighth": 8, "eighths": 8, "sixteenth": 16, "sixteenths": 16}  # fmt: skip
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}
_NEAR = Fraction(1, 10)
"""Two spellings of one thing in two systems are no further apart: 8 ft and 2400 mm, 16 in. and 400 mm."""


def not_in_a_rule(reading: Reading) -> list[Number]:
    """The numbers that are told as read and stand in no rule: neither as its amount, its upper end, what it is by or per,
    nor in its scope, nor as the same thing said in the other system.
    """
    read = [n for n in reading.numbers if n.became == "read"]
    return [n for n in read if not any(_stands_in(n, rule, read) for rule in reading.rules)]


def _stands_in(number: Number, rule: Rule, read: Iterable[Number]) -> bool:
    if not (rule.span.start <= number.span.start and number.span.end <= rule.span.end):
        return False
    values = set(_values(number.span.text))
    amounts = [a for a in (rule.amount, rule.upper, rule.by, rule.per) if a is not None]
    if any(a.value in values for a in amounts):
        return True
    if set(_words(number.span.text)) & {word for said in rule.scope.values() for word in _words(said)}:
        return True
    rates = (
        [] if rule.per is None else [amount / rule.per for amount in (rule.amount, rule.upper) if amount is not None]
    )
    if any(_is_twin(value, amount) for value in values for amount in (*amounts, *rates)):
        return True
    if rule.per is not None and rule.upper is not None and _below_the_line(values, number, rule, read):
        return True
    if rule.amount.unit.dimension != AREA:
        return False
    sides = [n for n in read if n is not number and rule.span.start <= n.span.start < rule.span.end]
    products = {one * other for one in values for n in sides for other in _values(n.span.text)}
    sides_in = [unit.factor for unit in UNITS.values() if unit.dimension == LENGTH]
    return any(value * factor**2 == rule.amount.size for value in products for factor in sides_in)


def _below_the_line(values: set[Fraction], number: Number, rule: Rule, read: Iterable[Number]) -> bool:
    """Whether a number is an end of a range below the line: `900 per 2 to 3` is 900 per 3, or at the other end 1350 per 3."""
    assert rule.per is not None
    assert rule.upper is not None
    others = {
        v
        for n in read
        if n is not number and rule.span.start <= n.span.start < rule.span.end
        for v in _values(n.span.text)
    }
    pairs = {(value, other) for value in values for other in (*others, rule.amount.value)}
    ends = (tops for pair in pairs for tops in (pair, pair[::-1]))
    return any(low and top * rule.per.value == rule.upper.value * low for top, low in ends)


def _is_twin(value: Fraction, amount: Amount) -> bool:
    """Whether so much in some unit of the other system is about this amount."""
    system = {"us": "metric", "metric": "us"}.get(amount.unit.system, "")
    return any(abs(value * f - amount.size) <= _NEAR * amount.size for f in _factors(amount.unit.dimension, system))


@cache
def _factors(dimension: Dimension, system: str) -> tuple[Fraction, ...]:
    """What one of each unit of a system, or of each over each other, is in base units."""
    units = [unit for unit in UNITS.values() if unit.system == system != ""]
    if all(power > 0 for _, power in dimension):
        return tuple(unit.factor for unit in units if unit.dimension == dimension != NUMBER_ONLY)
    return tuple(
        a.factor / b.factor for a in units for b in units if _parted(a.dimension, b.dimension) == dict(dimension)
    )


def _parted(over: Dimension, under: Dimension) -> dict[str, int]:
    powers = dict(over)
    for base, power in under:
        powers[base] = powers.get(base, 0) - power
    return {base: power for base, power in powers.items() if power}


def _values(text: str) -> Iterator[Fraction]:
    """What a spelling may mean, the usual damage of scanners mended."""
    text = html.unescape(text).casefold().replace("⁄", "/").replace("\u00a0", " ").strip()
    for sign, plain in _VULGAR.items():
        text = text.replace(sign, f" {plain}").strip()
    mended = re.sub(r"[il|]", "1", text).replace("o", "0")
    barred = re.sub(r"(?<=\d)[il|](?=\d)", "/", text)
    for one in dict.fromkeys((text, mended, barred)):
        yield from _spelled(one)
    yield from _in_words(text)


def _spelled(text: str) -> Iterator[Fraction]:
    """Digits: whole, mixed, decimal with a point or a comma, grouped, feet and inches, ordinals; an inch mark read as 9."""
    if found := re.fullmatch(r"(?:(\d+)[- ]+)?(\d+)\s*/\s*([1-9]\d*)", text):
        yield int(found[1] or 0) + Fraction(int(found[2]), int(found[3]))
        if found[1] is None and len(found[2]) == 2 and int(found[2]) > int(found[3]):
            yield int(found[2][0]) + Fraction(
                int(found[2][1]), int(found[3])
            )  # a whole number that ran into its fraction
    elif found := re.fullmatch(r"(\d+)\s*['’′]\s*-?\s*(\d+)(?:[- ]+(\d+)/([1-9]\d*))?\s*(?:[\"”″]|'')?", text):
        inches = int(found[2]) + (Fraction(int(found[3]), int(found[4])) if found[3] else 0)
        yield int(found[1]) + Fraction(inches) / 12
        yield int(found[1]) * 12 + Fraction(inches)
    elif re.fullmatch(r"\d+(st|nd|rd|th)", text):
        yield Fraction(1)  # one coat, or layer, of so many
        yield Fraction(text[:-2])
    elif re.fullmatch(r"\d*[.,]?\d+", text):
        yield Fraction(text.replace(",", "."))
        if re.fullmatch(r"\d+9", text):
            yield Fraction(text[:-1])
    if re.fullmatch(r"\d{1,3}([ ,.’']\d{3})+(\.\d+)?", text):
        yield Fraction(re.sub(r"[ ,’']|\.(?=\d{3}(\D|$))", "", text))


def _in_words(text: str) -> Iterator[Fraction]:
    whole, group, parts = 0, 0, Fraction(0)
    words = [w for w in re.findall(r"[a-z]+", text) if w != "and"]
    for word in words:
        if word in _ONES:
            group += _ONES.index(word)
        elif word in _TENS:
            group += 10 * _TENS.index(word)
        elif word == "hundred":
            group = 100 * max(group, 1)
        elif word == "thousand":
            whole, group = whole + 1000 * max(group, 1), 0
        elif word in _PARTS and len(words) > 1:
            parts, group = Fraction(max(group, 1), _PARTS[word]), 0
        elif word in _TIMES or word in _PARTS:
            yield Fraction(_TIMES.get(word, 0)) or Fraction(1, _PARTS.get(word, 1))
        elif word in _ORDINALS:
            yield Fraction(1)
        else:
            return
    yield whole + group + parts


def _words(text: str) -> Iterator[str]:
    """Words and numbers, an ordinal in figures as the word."""
    for word in re.findall(r"\w+", text.casefold()):
        found = re.fullmatch(r"([1-5])(?:st|nd|rd|th)", word)
        yield _ORDINALS[int(found[1])] if found else word
