"""What is no word: codes (standards, dates, marks), numbers that a scanner damaged, words that are always cut short."""

from __future__ import annotations

import re

from darby.quantities.numerals import value_of
from darby.reading.parsing.tagging.tag import Tag

_MONTH = "January|February|March|April|May|June|July|August|September|October|November|December|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sept?|Oct|Nov|Dec"

CODES: tuple[tuple[str, str, str], ...] = (
    ("a standard", "letter", r"(?-i:(?:ASTM|ANSI|BS EN|BS|EN|ISO|DIN|AS/NZS|AS|NZS|CAN/CSA|CSA|CAN|UL|GA|NFPA|MPI|UFC|IRC|IBC|CFR|FF|TT-P|SANS|JIS|NBR|GB/T|NF P|UNI|NEN|SFS|GOST|PN-EN|PN)[- ]?(?:[A-Z][- ]?)?[0-9]{1,5}(?:[-./][A-Z0-9]{1,6}){0,4})"),
    ("a standard", "letter", r"(?-i:IS)(?:\s?[:-]\s?[0-9]{3,5}|\s[0-9]{3,5}(?=\s?[:(]|\s?[-–]\s?(?:19|20)[0-9]{2}))"),
    ("a section number", "digit", r"[0-9]{2}[ \u00a0][0-9O]{2}[ \u00a0][0-9O]{2}(?:\.[0-9]{2})?(?:-[0-9]{1,3})?"),
    ("a date", "digit", r"[0-9]{4}-[0-9]{2}-[0-9]{2}|[0-9]{1,2}/[0-9]{1,2}/(?:[0-9]{4}|[0-9]{2})|[0-9]{1,2}\.[0-9]{1,2}\.(?:19|20)[0-9]{2}"),
    ("a date", "digit", rf"[0-9]{{1,2}}(?:st|nd|rd|th)?\s(?:(?:{_MONTH})\.?,?\s(?:19|20)[0-9]{{2}}|(?-i:{_MONTH}))"),
    ("a date", "letter", rf"(?:{_MONTH})\.?\s(?:[0-9]{{1,2}}(?:,?\s[0-9]{{4}})?|(?:19|20)[0-9]{{2}})"),
    ("a time of day", "digit", r"[0-9]{1,2}\s?(?:noon|midnight|[ap]m|[ap]\.m\.|o'clock)|[0-9]{1,2}:[0-9]{2}(?:\s?[-–]\s?[0-9]{1,2}:[0-9]{2})?(?:\s?[ap]\.?m\b\.?)?"),
    ("a row of figures", "digit", r"[0-9]{1,5}(?:/[0-9]{1,5}){3,200000}"),
    ("a ratio", "digit", r"[0-9]{1,3}:[0-9]{1,3}"),
    ("a telephone number", "digit", r"[0-9]{3}-[0-9]{4}"),
    ("a deflection limit", "letter", r"(?-i:L)/[0-9]{2,4}"),
    ("a detail or sheet mark", "digit", r"[0-9]{1,3}/(?-i:[A-Z])[A-Z]?-?[0-9]{1,4}"),
    ("a paragraph number", "digit", r"[0-9]{1,3}(?:\.[0-9]{1,3}){2,5}(?:\.(?-i:[A-Z])(?![A-Za-z]))?|[0-9]{1,3}\.[0-9]{1,3}\.(?-i:[A-Z])(?![A-Za-z])"),
    ("a mark", "letter", r"(?-i:(?![Xx][0-9])(?:(?:[A-Z]{1,4}-){1,2}(?=[A-Z]{1,4}-[0-9]))?[A-Z]{1,4}-?[0-9]{1,5}(?:[-./][A-Z0-9]{1,6}){0,3}[A-Z]?)|(?-i:[A-Z]-[A-Z]?[0-9]{1,4})"),
    ("a mark", "digit", r"(?-i:[0-9]{3}[A-Z])"),
    ("a gauge", "sign", r"#\s?[0-9]{1,2}(?=\s?[x×]\s?[0-9])"),
    ("the number of a product or note", "sign", r"#\s?[0-9]{1,6}(?:-[0-9]{1,4})?"),
    ("a gauge", "letter", r"No\.?\s[0-9]{1,2}(?=\s?[x×]\s?[0-9])"),
)  # fmt: skip
"""Why it is no quantity, what it begins with, and its pattern; the first that fits gives the reason."""


def codes_that_begin(begin: str) -> re.Pattern[str]:
    """The patterns of codes that begin with a letter, a digit, or a sign."""
    which = "|".join(f"({pattern})" for _, first, pattern in CODES if first == begin)
    return re.compile(rf"(?:{which})(?![A-Za-z0-9])", re.IGNORECASE)


_DAMAGED = (
    r"[Il]-[Il0-9]{1,2}/[0-9]{1,2}",  # I-1/4
    r"[0-9]{1,3}l(?=\s(?:lin|ft|sq|lb|in|mm))",  # 4l lin. ft.
    r"[0-9]{1,2}[- ][Il]/[0-9]{1,2}",  # 1-l/4
    r"[Il]/[0-9]{1,2}",  # l/2
    r"[Il][0-9OIl]{1,2}(?=\s?(?:in|inch|inches|ft|feet|mm|lbs?|sq|coats?|\")\b)",  # l6 inches, lOO sq. ft.
    r"[0-9]-[1357]I(?:8|16)",  # 1-3I8
    r"[0-9]{1,3}[IOSBl]{1,2}[0-9]{1,3}",  # 5I8, 3B0
    r"[0-9]/[BSO]",  # 5/B
    r"[0-9]{1,3}O{1,3}",  # 4O, 1OO
    r"[0-9]{1,3}S(?=\s(?:sq|mm|in|ft|lb))",  # 29S sq. ft.
    r"[0-9]{1,2}\sY[0-9]",  # 1 Y4
    r"[IlZ](?=\s(?:coat|layer)s?\b)",  # l coat
)
DAMAGED = re.compile(rf"(?:{'|'.join(_DAMAGED)})(?![A-Za-z0-9])")
"""A number in which a scanner took a digit for a letter; `mended` says whether one reading is left."""

LETTER_CODE, DIGIT_CODE, SIGN_CODE = (codes_that_begin(first) for first in ("letter", "digit", "sign"))
_SCANNED = str.maketrans("OIl", "011")
_SHORTENED = frozenset(
    "conf rm rms moist resist typ approx no ext int fin flr mech elec corr stor galv mtl alum reqd dwg det spec sect sched "
    "incl vert horiz adj dia wd qty nom misc equip susp fig ref cont".split()
)


_REASONS = {first: [why for why, begins, _ in CODES if begins == first] for first in ("letter", "digit", "sign")}


def reason_of(code: re.Match[str]) -> str:
    """Why what one of the patterns of codes matched is no quantity."""
    first = code[0][0]
    begins = "letter" if first.isalpha() else "digit" if first.isdigit() else "sign"
    return _REASONS[begins][(code.lastindex or 1) - 1]


def mended(text: str) -> str:
    """A scanned number with the one reading it can have, else something that is no number.

    O, l and I stand for one digit each; an I between two digits is a digit or a fraction bar, so it proves nothing unless
    the fraction is one that sheets come in.
    """
    if re.fullmatch(r"[1357]/B", text):
        return text.replace("B", "8")
    bar = re.fullmatch(r"([0-9]-)?([1357])I(8|16)", text)
    if bar:
        return f"{bar[1] or ''}{bar[2]}/{bar[3]}"
    return text if re.search(r"[SBYZ]|[0-9]I[0-9]", text) else text.translate(_SCANNED)


def abbreviates(low: str, stop: int) -> bool:
    """Whether the point at `stop` ends a word that is always cut short: `conf.`, `approx.`"""
    begin = stop
    while begin and low[begin - 1].isalpha() and stop - begin < 8:
        begin -= 1
    return low[begin:stop] in _SHORTENED


def code_tag(start: int, match: re.Match[str]) -> Tag:
    """What one of the patterns of codes matched."""
    why = reason_of(match)
    also = {"a mark": "mark", "a standard": "standard"}.get(why)
    return Tag(start, match.end(), "CODE", why, also=((also, match[0]),) if also else ())


def repaired(start: int, said: str) -> tuple[Tag, int]:
    """A scanned number: a number where one reading is left, else damaged."""
    number = value_of(mended(said))
    return Tag(start, start + len(said), "DAMAGED" if number is None else "NUMBER", said, number), start + len(said)
