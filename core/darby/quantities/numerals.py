"""Numbers as people write them, read and printed exactly: digits, decimals, fractions, mixed numbers, words."""

from __future__ import annotations

import re
from fractions import Fraction

VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip

_VULGAR = "[" + "".join(VULGAR) + "]"
_FRACTION = r"[0-9]{1,4}[/⁄](?:[1-9][0-9]{0,3}|0)"
_WHOLE = r"(?:[0-9]{1,3}(?:[,\u00a0\u202f][0-9]{3}){1,4}|[0-9]{1,15})"

# Longest spelling first. A run of more digits than any quantity has is no number of ours and is matched by LONG.
NUMBER = (
    rf"[0-9]{{1,4}}[-‑–\s]{{0,2}}(?:{_VULGAR})"
    rf"|[0-9]{{1,4}}(?:-|‑|\s{{1,2}}|-\s)(?:{_FRACTION})(?![0-9/⁄])"
    rf"|{_FRACTION}(?![0-9/⁄])"
    rf"|{_WHOLE}(?:\.[0-9]{{1,9}})?(?![0-9])"
    rf"|\.[0-9]{{1,9}}(?![0-9])"
    rf"|{_VULGAR}"
)
"""Pattern of one number in digits. Every repeat is bounded and only the digits 0 to 9 count as digits."""

MINUS = re.compile(rf"[-−](?=[0-9.]|{_VULGAR})")
"""A minus sign right before a number. Specifications hold no negative numbers; what we print may."""

_ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen"
).split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()

WORDS: dict[str, Fraction] = {word: Fraction(n) for n, word in enumerate(_ONES)}
WORDS |= {word: Fraction(10 * n) for n, word in enumerate(_TENS, 2)}
WORDS |= {
    f"{ten}{hyphen}{one}": Fraction(10 * t + o)
    for t, ten in enumerate(_TENS, 2)
    for o, one in enumerate(_ONES[1:10], 1)
    for hyphen in "- "
}
_PARTS = {"half": 2, "third": 3, "quarter": 4, "fifth": 5, "eighth": 8, "sixteenth": 16}
WORDS |= {
    f"{top}{hyphen}{part}{plural}": Fraction(n, below)
    for part, below in _PARTS.items()
    for n, top in enumerate(_ONES[1:16], 1)
    for plural in ("", "s")
    for hyphen in "- "
    if n < below
}
WORDS |= {"half": Fraction(1, 2), "hundred": Fraction(100), "thousand": Fraction(1000), "one hundred": Fraction(100)}
"""Number words, lower case, and their values."""

_BELOW_HUNDRED = rf"(?:(?:{'|'.join(_TENS)})(?:[-‑ ](?:{'|'.join(_ONES[1:10])}))?|{'|'.join(reversed(_ONES[1:]))})"
_REST = rf"(?:\s{{1,2}}(?:and\s{{1,2}})?{_BELOW_HUNDRED}\b(?![-‑\s]{{1,2}}(?:hundred|thousand)\b))?"
_HUNDREDS = rf"{_BELOW_HUNDRED}[-‑\s]{{1,2}}hundred\b"
SPELLED = re.compile(
    rf"{_BELOW_HUNDRED}[-‑\s]{{1,2}}thousand\b(?:\s{{1,2}}{_HUNDREDS})?{_REST}|{_HUNDREDS}(?:[-‑\s]{{1,2}}thousand\b)?{_REST}"
)
"""A number of hundreds or thousands in words, lower case: `two hundred fifty`, `one thousand`."""


def spelled(text: str) -> Fraction:
    """The value of what `SPELLED` matches."""
    thousands = total = 0
    for word in re.findall(r"[a-z]+", text):
        if word == "thousand":
            thousands, total = total * 1000, 0
        elif word == "hundred":
            total *= 100
        elif word != "and":
            total += int(WORDS[word])
    return Fraction(thousands + total)


ORDINALS = "first second third fourth fifth sixth seventh eighth ninth tenth".split()
"""Ordinal words in order, from the first."""

_TOP_BELOW = re.compile(r"(?<![0-9])([0-9]{1,300})[/⁄]([0-9]{1,300})$")
_PLAIN = re.compile(r"[0-9]{1,300}(?:\.[0-9]{1,300})?|\.[0-9]{1,300}")


def value_of(text: str) -> Fraction | None:
    """The exact value of a number written in digits or words, or None where it is none (as with 1/0)."""
    text = text.strip().lower()
    if text in WORDS:
        return WORDS[text]
    if MINUS.match(text):
        below_zero = value_of(text[1:])
        return None if below_zero is None else -below_zero
    for sign, plain in VULGAR.items():
        if sign in text:
            text = text.replace(sign, " " + plain, 1)
            break
    text = re.sub(r"(?<=[0-9])[,\u00a0\u202f](?=[0-9]{3})", "", text)
    part = _TOP_BELOW.search(text)
    whole = text[: part.start()].strip(" -‑–") if part else text
    if not (_PLAIN.fullmatch(whole) or (part and not whole)):
        return None
    value = Fraction(whole or 0)
    if part:
        if int(part[2]) == 0:
            return None
        value += Fraction(int(part[1]), int(part[2]))
    return value


def exact(value: Fraction) -> str:
    """Shortest exact spelling: `250`, `0.45`, `8 1/3`. `value_of` reads each of them back to the same value."""
    below = value.denominator
    if below == 1:
        return str(value.numerator)
    while below % 2 == 0:
        below //= 2
    while below % 5 == 0:
        below //= 5
    if below == 1:
        digits = 0
        scaled = value
        while scaled.denominator != 1 and digits < 7:
            scaled *= 10
            digits += 1
        if scaled.denominator == 1:
            whole = str(abs(scaled.numerator)).rjust(digits + 1, "0")
            return f"{'-' if value < 0 else ''}{whole[:-digits]}.{whole[-digits:]}"
    return mixed(value)


def mixed(value: Fraction) -> str:
    """Exact, as a folding rule has it: `8`, `5/8`, `1 1/8`."""
    whole, top = divmod(abs(value.numerator), value.denominator)
    sign = "-" if value < 0 else ""
    if not top:
        return f"{sign}{whole}"
    return f"{sign}{whole} {top}/{value.denominator}" if whole else f"{sign}{top}/{value.denominator}"


def rounded(value: Fraction, places: int = 2) -> str:
    """For the eye: thousands commas and at most `places` decimals (half up).

    Small values keep two figures, and what is not whole is not shown as whole: 6.0035 pails are `6.004`, not 6, since
    they are ordered as 7.
    """
    if value.denominator == 1:
        return f"{value.numerator:,}"
    while abs(value) * 10**places < 10 and places < 12:
        places += 1
    units, part = _decimals(value, places)
    while not part and places < 12:
        places += 1
        units, part = _decimals(value, places)
    text = f"{units:,}.{str(part).rjust(places, '0')}".rstrip("0") if part else f"{units:,}"
    return "-" + text if value < 0 and (units or part) else text


def _decimals(value: Fraction, places: int) -> tuple[int, int]:
    """The size of a value, half up: its units, and as many decimals as are asked for as one whole number."""
    one: int = 10**places
    scaled = abs(value) * one
    return divmod((2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator), one)
