"""Signs: stops, commas, brackets, dashes, and the vulgar fractions and decimals that begin with one."""

from __future__ import annotations

import re

from darby.quantities.numerals import value_of
from darby.reading.parsing.tagging.codes import SIGN_CODE, abbreviates, code_tag
from darby.reading.parsing.tagging.numbers import NUMERAL
from darby.reading.parsing.tagging.phrase_index import PhraseIndex
from darby.reading.parsing.tagging.tag import Tag, word_tag

_SUSPENDED = re.compile(r"\s(?:to|or|and)\s")
_SIGNS = {
    ".": "STOP", "?": "STOP", "!": "STOP", ",": "COMMA", ";": "SEMICOLON", ":": "COLON", "(": "OPEN", ")": "CLOSE", "[": "CHOICE", "]": "CHOICE_END",
    "|": "CELL", "/": "PER", "@": "AT", "&": "AND", "–": "DASH", "—": "DASH", "-": "DASH", "×": "BY_X", "\n": "BREAK",
    "+": "PLUS", "$": "MONEY",
}  # fmt: skip


def sign_at(words: PhraseIndex, text: str, low: str, start: int) -> tuple[Tag | None, int]:
    """The tag of a sign, a vulgar fraction or a decimal without its nought, if any, and where to go on."""
    sign, end = text[start], start + 1
    before = text[start - 1] if start else " "
    if (sign == "." and before != "." and not before.isalnum()) or sign.isnumeric():
        number = NUMERAL.match(text, start)
        if number is not None:
            return Tag(start, number.end(), "NUMBER", number[0], value_of(number[0])), number.end()
    if sign == "#" and (code := SIGN_CODE.match(text, start)):
        return code_tag(start, code), code.end()
    found = words.at(low, start, sign)
    if found is not None:
        return word_tag(start, found[0], *found[1]), found[0]
    if sign == "." and (
        not (end == len(text) or text[end].isspace()) or abbreviates(low, start) or _in_initials(text, start)
    ):
        return None, end
    if sign == "-" and text[end : end + 1].isalpha() and before.isalnum():
        return None, end  # a compound word
    if sign == "-" and before.isdigit() and _SUSPENDED.match(low, end):
        return None, end  # `1/4- to 1/2-inch`
    return Tag(start, end, _SIGNS.get(sign, "SIGN"), sign), end


def _in_initials(text: str, stop: int) -> bool:
    """Whether a point stands behind the last of letters that stand for words, in the middle of a sentence: `two coats w.b. varnish`."""
    letters = text[max(0, stop - 3) : stop]
    return (
        len(letters) == 3
        and letters[0].isalpha()
        and letters[1] == "."
        and letters[2].isalpha()
        and not text[max(0, stop - 4) : stop - 3].isalnum()
        and text[stop + 2 : stop + 3].islower()
    )
