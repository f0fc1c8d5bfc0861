"""The tagger: known words, numbers, signs and codes of a text, each with its place.

One small pattern finds where something can begin; a word's meaning is one look-up by its first letters and the longest
phrase that stands there. Nothing grows with the number of phrases but a dictionary, so no start-up pays for compiling.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from attrs import evolve, field, frozen

from darby.quantities.numerals import SPELLED, spelled
from darby.reading.parsing.tagging.codes import DAMAGED, LETTER_CODE, code_tag, repaired
from darby.reading.parsing.tagging.letters import capitals_of, small_letters_of
from darby.reading.parsing.tagging.numbers import number_at
from darby.reading.parsing.tagging.phrase_index import PhraseIndex
from darby.reading.parsing.tagging.room_names import ROOM, is_led, singular
from darby.reading.parsing.tagging.signs import sign_at
from darby.reading.parsing.tagging.tag import Tag, word_tag
from darby.reading.parsing.tagging.units_behind import UnitsBehind

_BEGIN = re.compile(r"[A-Za-z\d½⅓⅔¼¾⅕-⅞.,;:?!()\[\]|/@&–—\n=+#$±_×≤≥-]|[<>](?==?\s?[0-9.])")
_WORD = re.compile(r"[A-Za-z]+")
_SMALL_CODE = re.compile(
    r"(?!(?:[ckm]?m|ft|in|yd)[23]|(?:as|at|can|en|in|is|on|or|to|x)[- ]?[0-9])[a-z]{1,5}(?:[ /-]?[a-z]{0,3}[ /-]?|\.\s)[0-9]"
)
"""What may be a code written small; `as 12 mm` is none."""
_CARRIED = re.compile(
    r"[Aa]s (?:(?:in|for|per) )?(?:the )?(?:[A-Z](?![A-Za-z.'])|[0-9]{3}(?![0-9A-Za-z]))(?: above| below)?"
)
_UNIT_OC = re.compile(r"(in|mm|cm|ft|m)(?=\.?\s(?:o\.?c|on cent|c/c|cent))")
_BY = re.compile(r"x(?=\s?[0-9])", re.IGNORECASE)
_OWNED = re.compile(r"[A-Za-z]['’]\Z")
_HYPHENATED = re.compile(r"[-‑][A-Za-z]")


@frozen(eq=False)
class Tagger:
    """Finds tags by the phrases that it knows, and by what means something only behind a number."""

    _words: PhraseIndex = field(repr=False)
    _units: UnitsBehind = field(repr=False)
    alike: Callable[[str, str], bool] = field(repr=False, default=lambda one, other: one == other)
    """Whether two products are of one sort, so that of two names in a row the last is the noun."""

    def tags(self, text: str) -> list[Tag]:
        """Every known word, number and sign of a text, in order and without overlap."""
        out: list[Tag] = []
        low, at, begin = small_letters_of(text), 0, _BEGIN.search
        while (match := begin(text, at)) is not None:
            start = match.start()
            sign = text[start]
            if sign.isalpha():
                tag, at = self._at_letter(text, low, start)
            elif sign.isdigit():
                tag, at = self._at_digit(text, low, start)
            else:
                tag, at = sign_at(self._words, text, low, start)
            if tag is None:
                continue
            if (
                tag.name == "subject"
                and out
                and out[-1].name == "subject"
                and self.alike(out[-1].value, tag.value)
                and text[out[-1].end : tag.start] == " "
            ):
                # `oil varnish` is varnish: of two products in a row the last is the noun
                first = out.pop()
                also = tag.also or tuple(pair for pair in first.also if pair[0] != "weak")
                tag = evolve(tag, start=first.start, also=also)
            out.append(tag)
            at = self._units.added(out, text, low, at)
        self._units.at_end(out, low)
        return out

    def _at_letter(self, text: str, low: str, start: int) -> tuple[Tag | None, int]:
        """The tag that begins with a letter, if any, and where to go on."""
        sign, end = text[start], _WORD.match(text, start).end()  # type: ignore[union-attr]  # it begins with a letter
        if start and text[start - 1].isalnum():
            by = sign in "xX" and end == start + 1 and text[start - 1].isdigit() and _BY.match(text, start)
            return (Tag(start, end, "BY_X", "x"), end) if by else (None, end)
        if sign in "sS" and end == start + 1 and _OWNED.search(text, max(0, start - 2), start):
            return None, end  # `the owner's walls` face nowhere
        if sign in "Aa" and (carried := _CARRIED.match(text, start)):
            return Tag(start, carried.end(), "CARRIED", carried[0]), carried.end()
        if sign in "IlZ" and (damaged := DAMAGED.match(text, start)):
            return repaired(start, damaged[0])
        found = self._words.at(low, start, low[start:end])
        if (code := self._code(text, low, start)) is not None and (found is None or code.end() > found[0]):
            return code_tag(start, code), code.end()
        if found is not None and found[1][0].startswith("ASIDE") and _HYPHENATED.match(text, found[0]):
            return None, end  # `high-performance` is no height
        if found is not None and found[1][0] == "NUMBER" and (words := SPELLED.match(low, start)):
            return Tag(start, words.end(), "NUMBER", words[0], spelled(words[0])), words.end()
        # a reference is to a number behind it: `exam 3`, while `exam rooms` are a place; so are `laundry rooms` as a whole
        room = ROOM.match(text, start) if found is None or found[1][0] in ("REFERENCE", "room") else None
        if found is not None and (room is None or room.end() <= found[0]):
            tag = word_tag(start, found[0], *found[1])
            # a room is called what it is called here: the job's own names are matched by their words
            if tag.name == "room":
                loose = not is_led(low, start)
                tag = evolve(tag, value=singular(low[start : tag.end]), loose=loose)
            return tag, tag.end
        if sign in "xX" and end == start + 1:
            return Tag(start, end, "BY_X", "x"), end
        if (unit := _UNIT_OC.match(low, start)) is not None:
            return word_tag(start, unit.end(1), "LENGTH_UNIT", unit[1]), unit.end(1)
        if room is not None:
            return Tag(start, room.end(), "room", singular(low[start : room.end()])), room.end()
        return None, end

    def _code(self, text: str, low: str, start: int) -> re.Match[str] | None:
        """The code that begins with a letter; in a text without a capital its letters are small, and no word or unit."""
        if text[start].isupper():
            return LETTER_CODE.match(text, start)
        if low is not text or not _SMALL_CODE.match(text, start):
            return None
        return LETTER_CODE.match(capitals_of(text), start)

    def _at_digit(self, text: str, low: str, start: int) -> tuple[Tag | None, int]:
        """The tag that begins with a digit, if any, and where to go on."""
        return number_at(text, start, lambda end: self._is_glued(text, low, end))

    def _is_glued(self, text: str, low: str, end: int) -> bool:
        """Whether the letters right behind a number are neither its unit nor a word that counts: `12mm`, `2cts.`"""
        units = self._units
        return units.unit(low, end) is None and not _BY.match(text, end) and units.counting(low, end) is None
