"""Money: exact decimals in one currency, rounded half up to its smallest coin, once a line.

A sum of lines is the sum of what the lines show, so that a bid adds up on paper. What is shared out over several is rounded so
that the shares make up the whole.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from attrs import frozen

_PLACES = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    3: "BHD IQD JOD KWD LYD OMR TND",
}
"""Decimal places of currencies that have other than two: ISO 4217, from memory."""
_KNOWN = {code: places for places, codes in _PLACES.items() for code in codes.split()}
_CODE = re.compile(r"[A-Z]{3}")
_MONEY = re.compile(
    r"(?P<sign>[-−]?)\s{0,4}[$€£]?\s{0,4}(?P<sign2>[-−]?)(?P<whole>[0-9]{1,3}(?:,[0-9]{3}){1,5}|[0-9]{1,15})?(?P<rest>\.[0-9]{1,9})?"
    r"\s{0,4}(?P<code>[A-Z]{3})?"
)


@frozen
class Currency:
    """The currency of a bid, by its three letters; nothing where nobody says which."""

    code: str = ""

    @property
    def places(self) -> int:
        """Decimal places of its smallest coin."""
        return _KNOWN.get(self.code, 2)

    def rounded(self, value: Fraction | Decimal | int) -> Decimal:
        """A sum rounded to the smallest coin, half a coin away from nothing."""
        exact = Fraction(value) * 10**self.places
        doubled = abs(exact) * 2 + 1
        coins = doubled.numerator // (doubled.denominator * 2)
        return Decimal(-coins if exact < 0 else coins).scaleb(-self.places)

    def nothing(self) -> Decimal:
        """No money at all, with its decimal places."""
        return self.rounded(0)

    def total(self, sums: Iterable[Decimal]) -> Decimal:
        """What sums that are rounded make together."""
        return sum(sums, self.nothing())

    def shared(self, whole: Decimal, weights: Sequence[Fraction]) -> tuple[Decimal, ...]:
        """A sum parted by weights, of which one at least is above zero and none below; the parts make up the whole to the coin.

        Each part is rounded down, and the coins that are left go to the parts that lost most, the first of equals first.
        """
        among = sum(weights, Fraction(0))
        coins = abs(int(Fraction(whole) * 10**self.places))
        exact = [coins * weight / among for weight in weights]
        parts = [share.numerator // share.denominator for share in exact]
        order = sorted(range(len(parts)), key=lambda n: (parts[n] - exact[n], n))
        for n in order[: coins - sum(parts)]:
            parts[n] += 1
        sign = -1 if whole < 0 else 1
        return tuple(Decimal(sign * part).scaleb(-self.places) for part in parts)

    def shown(self, value: Decimal) -> str:
        """A sum for the eye: `12,450.00`."""
        return f"{value:,.{self.places}f}"


def is_code(text: str) -> bool:
    """Whether a text has the form of a currency's code."""
    return _CODE.fullmatch(text) is not None


@lru_cache(1 << 14)
def money_of(text: str) -> tuple[Fraction, str] | None:
    """A sum as somebody wrote it, and the code of a currency behind it or nothing; None where it is none.

    `24.50`, `1,250`, `$18.40`, `18.40 USD`. A comma parts thousands and never cents.
    """
    match = _MONEY.fullmatch(text.strip())
    if match is None or not (match["whole"] or match["rest"]):
        return None
    value = Fraction((match["whole"] or "0").replace(",", "") + (match["rest"] or ""))
    return (-value if match["sign"] or match["sign2"] else value), match["code"] or ""


def spelled(value: Fraction) -> str:
    """An exact price as a decimal, at least two places where it has any: `18.40`, `0.0325`, `12`."""
    if value.denominator == 1:
        return f"{value.numerator:,}"
    places = next((n for n in range(2, 13) if (value * 10**n).denominator == 1), 12)
    return f"{Decimal(round(value * 10**places)).scaleb(-places):,.{places}f}"
