"""Numbers in digits: whole, decimal, vulgar, with a comma for the point, ordinal; and what a scanner made of some."""

from __future__ import annotations

import re
from collections.abc import Callable

from darby.quantities.numerals import NUMBER, ORDINALS, value_of
from darby.reading.parsing.tagging.codes import DAMAGED, DIGIT_CODE, code_tag, repaired
from darby.reading.parsing.tagging.tag import Tag

NUMERAL = re.compile(NUMBER)
_METRIC = r"\s?(?:mm|cm|m|m2|m²|sq\.?\s?m|sqm|kgs?|g|l|ml|ltrs?|um|µm|microns?|litres?|%)(?![a-z0-9])"
_DECIMAL_COMMA = re.compile(
    rf"(?:([0-9]{{1,4}}),([0-9]{{1,2}})(?={_METRIC}|\s?(?:[-–x×]|to)\s?[0-9]{{1,4}}(?:,[0-9]{{1,2}})?{_METRIC})"
    r"|(0),([0-9]{1,4})(?![0-9,]))",
    re.IGNORECASE,
)
"""A comma for the point, behind a nought or where a metric unit follows: `12,5 mm`, `0,35-0,40 kg/m2`."""
_MARKED = re.compile(r"[0-9]{1,4}[A-Z]{1,2}[0-9]{0,3}")
_RUN_TOGETHER = re.compile(r"([1-9])([13579][/⁄](?:4|8|16|32)|1[/⁄]2)")
"""A mixed number whose parts ran together, as `11⁄2` did: nobody writes eleven halves."""
_ORDINAL = re.compile(r"[1-9]\s?(?:st|nd|rd|th)(?![A-Za-z0-9])", re.IGNORECASE)
_TIMES = re.compile(r"[1-9](?![0-9A-Za-z/-]|\.[0-9])")
"""How often something is done: `stain x2`."""
_DIGITS = re.compile(r"[0-9A-Za-z]+")
_OTHER_DIGITS = re.compile(r"\d+")


def number_at(text: str, start: int, is_glued: Callable[[int], bool]) -> tuple[Tag | None, int]:
    """The tag that begins with a digit, if any, and where to go on.

    `is_glued` tells whether the letters right behind a place belong to the number before them in no way that is known.
    """
    if not text[start].isascii():
        end = _OTHER_DIGITS.match(text, start).end()  # type: ignore[union-attr]  # it begins with a digit
        return Tag(start, end, "DAMAGED", text[start:end]), end
    before = text[start - 1] if start else " "
    sized = (
        before in "xX"
        and start > 1
        and (text[start - 2].isdigit() or (_TIMES.match(text, start) is not None and text[start - 2] == " "))
    )
    if (before.isalnum() and not sized) or (before == "." and start > 1 and text[start - 2].isalnum()):
        return None, _DIGITS.match(text, start).end()  # type: ignore[union-attr]  # it begins with a digit
    if damaged := DAMAGED.match(text, start):
        return repaired(start, damaged[0])
    if before not in "./" and (code := DIGIT_CODE.match(text, start)):
        return code_tag(start, code), code.end()
    if ordinal := _ORDINAL.match(text, start):
        return Tag(start, ordinal.end(), "ORDINAL", ORDINALS[int(text[start]) - 1]), ordinal.end()
    if (comma := _DECIMAL_COMMA.match(text, start)) is not None:
        value = value_of(comma[0].replace(",", "."))
        return Tag(start, comma.end(), "NUMBER", comma[0], value), comma.end()
    number, glued = NUMERAL.match(text, start), _DIGITS.match(text, start)
    assert glued is not None  # it begins with a digit
    if number is None:
        return None, glued.end()
    if text[number.end() : number.end() + 1].isalpha() and is_glued(number.end()):
        return _grown_together(start, glued[0]), glued.end()
    value, mixed = value_of(number[0]), _RUN_TOGETHER.fullmatch(number[0])
    if mixed is not None and value is not None and value > 1:
        value = value_of(f"{mixed[1]} {mixed[2]}")
    return Tag(start, number.end(), "NUMBER" if value is not None else "DAMAGED", number[0], value), number.end()


def _grown_together(start: int, said: str) -> Tag:
    """A number and letters in one: a mark, or a scanner's mistake where letters stand that look like digits."""
    damaged = bool(set(said) & set("lIOoSBZ")) and not _MARKED.fullmatch(said)
    return Tag(start, start + len(said), "DAMAGED" if damaged else "CODE", said if damaged else "a mark")
