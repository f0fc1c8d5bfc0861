"""Units behind numbers: what means something only right behind a number, a "per", or in the head of a column."""

from __future__ import annotations

import re
from collections.abc import Mapping

from attrs import frozen

from darby.quantities.units import UNITS
from darby.reading.parsing.tagging.phrase_index import PhraseIndex, behind_blanks, first_letters
from darby.reading.parsing.tagging.tag import Meaning, Tag, word_tag

_CLOSE = 3
"""Characters between feet and their inches."""
_LAST_UNIT = re.compile(r",\s(in|mm|cm|ft|m|l|lb|kg|gal|um|mils?|%)\.?$")
_RATE_HEAD = re.compile(r"\s(?:m2|m²|sq\.? ?ft\.?|kg|g|l|ml|lb)\s?/\s?[a-z0-9 ]{1,12}\.?$")
"""What ends the head of a column: `Coverage, m2/L`."""
_PLACE = re.compile(r"in\s+(?!o\.?c|on\b|c/c|cent|apart|thick|wide|long|by\b|x\b|[0-9])[a-z]", re.IGNORECASE)
"""What stands behind a number in words, `three on joints, two in angles`; inches are written in digits, or in full."""
_SHARE = re.compile(r"in\s+[0-9]+\b(?!\s*(?:[.x\"/]|in\b|ft\b))")
_PREPOSITION = re.compile(r"in\s+(?:the|a|an|each|every|all|pairs?|any|from|addition|which|place|one)\b", re.IGNORECASE)
_IN_HEAD = re.compile(r"\s?(?=[A-Za-zµμ%])")
_HEAD_END = re.compile(r"\s*(?:[)/]|,?\s*(?:max|min|nom)\b)")
_A_UNIT = re.compile(r"\s+(an?|each)\s+")
_TIN = re.compile(r"[\s-]{1,2}(can|tin)(?![a-z])(?!\sbe\b)")
_BEFORE_UNIT = ("NUMBER", "PER", "DAMAGED")
_COUNTING = ("COAT", "LAYER", "PIECES", "THICK", "ON_CENTER")


_PLACES = ("surface", "room")


@frozen(eq=False)
class UnitsBehind:
    """Finds the unit that belongs to the last tag of a text, and the words that are written together with a number."""

    words: PhraseIndex
    after_number: Mapping[str, Meaning]
    """What means something only right behind a number or a "per"."""
    units: PhraseIndex
    """The same, ready to look up."""
    strips: PhraseIndex
    """What means something only right behind a length."""

    def added(self, out: list[Tag], text: str, low: str, at: int) -> int:
        """Add what stands behind the last tag because of what that is, if anything; the place to go on from."""
        name = out[-1].name
        if name == "OPEN" or (name == "COMMA" and _RATE_HEAD.match(low, at)):
            return self._in_head(out, low, at)
        return self._behind(out, text, low, at) if name in _BEFORE_UNIT else at

    def at_end(self, out: list[Tag], low: str) -> None:
        """Add a unit that closes a head behind a comma: `Thickness, in.`"""
        last = _LAST_UNIT.search(low)
        if last is not None and (not out or out[-1].end <= last.start(1)):
            out.append(word_tag(last.start(1), last.end(1), *self.after_number[last[1]]))

    def unit(self, low: str, at: int) -> tuple[int, int, Meaning] | None:
        """Start, end and meaning of a unit that stands at most a few blanks or a hyphen behind `at`."""
        begin = behind_blanks(low, at)
        found = self.units.at(low, begin, first_letters(low, begin))
        # `l/2` is a scanned half, no litre
        scanned = found is not None and found[1][1] == "L" and low[found[0] : found[0] + 1] == "/"
        if found is None or (scanned and low[found[0] + 1 : found[0] + 2].isdigit()):
            return None
        return begin, *found

    def counting(self, low: str, at: int) -> tuple[int, Meaning] | None:
        """End and meaning of a word that may be written together with its number: `1ct.`, `3coats`, `2layers`."""
        found = self.words.at(low, at, first_letters(low, at)) if low[at : at + 1].isalpha() else None
        return found if found is not None and found[1][0] in _COUNTING else None

    def _glued_word(self, out: list[Tag], low: str, at: int) -> int:
        """Add a word that grew together with the number before it, if there is one; the place to go on from."""
        word = self.counting(low, at)
        if word is None:
            return at
        out.append(word_tag(at, word[0], *word[1]))
        return word[0]

    def _behind(self, out: list[Tag], text: str, low: str, at: int) -> int:
        """Add the unit behind a number or a "per", if one stands there; the place to go on from."""
        unit = self.unit(low, at)
        if unit is None:
            return self._glued_word(out, low, at)
        begin, end, meaning = unit
        if meaning[0] == "LENGTH_UNIT" and (
            _PREPOSITION.match(text, begin)
            or _one_in_some(out, low, begin)
            or ((low[out[-1].start].isalpha() or _is_level(out)) and _PLACE.match(text, begin))
        ):
            return at
        out.append(word_tag(begin, end, *meaning))
        if meaning[1] == "in":
            _join_feet(out, text)
        if meaning[0] == "LENGTH_UNIT":
            begin = behind_blanks(low, end + (low[end : end + 1] == ")"))
            strip = self.strips.at(low, begin, first_letters(low, begin))
            word = self.words.at(low, begin, first_letters(low, begin)) if strip is not None else None
            if strip is not None and (word is None or word[0] <= strip[0]):
                if low[end] == ")":
                    out.append(Tag(end, end + 1, "CLOSE", ")"))
                out.append(word_tag(begin, strip[0], *strip[1]))
                return strip[0]
        if meaning[0] in ("VOLUME_UNIT", "MASS_UNIT") and (held := _TIN.match(low, end)):
            out.append(word_tag(held.start(1), held.end(1), "CONTAINER", "can"))
            return held.end(1)
        if (per := _A_UNIT.match(low, end)) and (behind := self.unit(low, per.end())) is not None:
            # `16 m2 a litre`
            out.append(Tag(per.start(1), per.end(1), "PER", "a"))
            out.append(word_tag(behind[0], behind[1], *behind[2]))
            end = behind[1]
        return end

    def _in_head(self, out: list[Tag], low: str, at: int) -> int:
        """A unit alone in brackets, as in the head of a column: `Length (mm)`, `Centres (mm, max.)`."""
        begin = _IN_HEAD.match(low, at)
        found = self.units.at(low, begin.end(), first_letters(low, begin.end())) if begin else None
        if found is None or not _HEAD_END.match(low, found[0]):
            return at
        word = self.words.at(low, begin.end(), first_letters(low, begin.end())) if begin else None
        if word is not None and word[1][0] in _PLACES and found[1][0] == "FOREIGN":
            return at  # `PT-9 (doors)`: nothing is counted there
        out.append(word_tag(begin.end() if begin else at, found[0], *found[1]))
        return found[0]


def _one_in_some(out: list[Tag], low: str, at: int) -> bool:
    """Whether `in` stands between one and another number: `1 in 50` is a share."""
    return bool(out) and out[-1].number == 1 and _SHARE.match(low, at) is not None


def _is_level(out: list[Tag]) -> bool:
    """Whether the last number is that of a level, which no inches measure: `Level 3 in stores`."""
    return len(out) > 1 and out[-2].name == "LEVEL"


def _join_feet(tags: list[Tag], text: str) -> None:
    """Make one length of feet and the inches behind them: `8'-0 1/2"`, `12 ft 6 in`."""
    behind = [n for n in (-3, -4) if len(tags) >= -n + 1 and tags[n].name == "LENGTH_UNIT" and tags[n].value == "ft"]
    if not behind or (behind[0] == -4 and tags[-3].name != "DASH"):
        return
    at = behind[0]
    feet, inches = tags[at - 1].number, tags[-2].number
    close = tags[-2].start - tags[at].end <= _CLOSE and not any(
        c.isalpha() for c in text[tags[at].end : tags[-2].start]
    )
    if (
        feet is None
        or inches is None
        or tags[at - 1].name != "NUMBER"
        or inches >= 12
        or not close
        or feet.denominator != 1
    ):
        return
    whole = Tag(tags[at - 1].start, tags[-1].end, "FEET_INCHES", "", feet + inches / 12, UNITS["ft"])
    del tags[at - 1 :]
    tags.append(whole)
