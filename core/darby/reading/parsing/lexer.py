"""The tagger: known words, numbers, signs and codes of a text, each with its place.

One small pattern finds where something can begin; a word's meaning is one look-up by its first letters and the longest
phrase that stands there. Nothing grows with the number of phrases but a dictionary, so no start-up pays for compiling.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import cached_property, lru_cache

from attrs import evolve, field, frozen

from darby.quantities.numerals import NUMBER, ORDINALS, SPELLED, WORDS, spelled, value_of
from darby.quantities.units import UNITS, Unit
from darby.reading.parsing.codes import DAMAGED, DIGIT_CODE, LETTER_CODE, SIGN_CODE, abbreviates, mended, reason_of
from darby.reading.parsing.room_names import ROOM, is_led, singular

Meaning = tuple[str, str]
"""Terminal and value."""

_CLOSE = 3
"""Characters between feet and their inches."""


@frozen(eq=False)
class Tag:
    """A stretch of a clause's text that means something: a word, a sign or a number."""

    start: int
    end: int
    name: str
    """The terminal, or the scope key."""
    value: str = ""
    number: Fraction | None = None
    unit: Unit | None = None
    also: tuple[tuple[str, str], ...] = ()
    """Further scope that the word carries: a word for a product on walls is the product, and on walls."""
    loose: bool = False
    """Of a room: no word before it says that anything is in it."""

    def __repr__(self) -> str:
        return f"{self.name}({self.value or self.number or ''})"


_BEGIN = re.compile(r"[A-Za-z\d½⅓⅔¼¾⅕-⅞.,;:?!()\[\]|/@&–—\n=+#$±_×≤≥-]|[<>](?==?\s?[0-9.])")
_WORD = re.compile(r"[A-Za-z]+")
_DIGITS = re.compile(r"[0-9A-Za-z]+")
_OTHER_DIGITS = re.compile(r"\d+")
_NUMBER = re.compile(NUMBER)
_METRIC = r"\s?(?:mm|cm|m|m2|m²|sq\.?\s?m|sqm|kgs?|g|l|ml|ltrs?|um|µm|microns?|litres?|%)(?![a-z0-9])"
_DECIMAL_COMMA = re.compile(
    rf"(?:([0-9]{{1,4}}),([0-9]{{1,2}})(?={_METRIC}|\s?(?:[-–x×]|to)\s?[0-9]{{1,4}}(?:,[0-9]{{1,2}})?{_METRIC})"
    r"|(0),([0-9]{1,4})(?![0-9,]))",
    re.IGNORECASE,
)
"""A comma for the point, behind a nought or where a metric unit follows: `12,5 mm`, `0,35-0,40 kg/m2`."""
_MARKED = re.compile(r"[0-9]{1,4}[A-Z]{1,2}[0-9]{0,3}")
_SMALL_CODE = re.compile(
    r"(?!(?:[ckm]?m|ft|in|yd)[23]|(?:as|at|can|en|in|is|on|or|to|x)[- ]?[0-9])[a-z]{1,5}(?:[ /-]?[a-z]{0,3}[ /-]?|\.\s)[0-9]"
)
"""What may be a code written small; `as 12 mm` is none."""
_CARRIED = re.compile(
    r"[Aa]s (?:(?:in|for|per) )?(?:the )?(?:[A-Z](?![A-Za-z.'])|[0-9]{3}(?![0-9A-Za-z]))(?: above| below)?"
)
_RUN_TOGETHER = re.compile(r"([1-9])([13579][/⁄](?:4|8|16|32)|1[/⁄]2)")
"""A mixed number whose parts ran together, as `11⁄2` did: nobody writes eleven halves."""
_ORDINAL = re.compile(r"[1-9]\s?(?:st|nd|rd|th)(?![A-Za-z0-9])", re.IGNORECASE)
_UNIT_OC = re.compile(r"(in|mm|cm|ft|m)(?=\.?\s(?:o\.?c|on cent|c/c|cent))")
_LAST_UNIT = re.compile(r",\s(in|mm|cm|ft|m|l|lb|kg)\.?$")
_BY = re.compile(r"x(?=\s?[0-9])", re.IGNORECASE)
_RATE_HEAD = re.compile(r"\s(?:m2|m²|sq\.? ?ft\.?|kg|g|l|ml|lb)\s?/\s?[a-z0-9 ]{1,12}\.?$")
"""What ends the head of a column: `Coverage, m2/L`."""
_PLACE = re.compile(r"in\s+(?!o\.?c|on\b|c/c|cent|apart|thick|wide|long|by\b|x\b|[0-9])[a-z]", re.IGNORECASE)
"""What stands behind a number in words, `three on joints, two in angles`; inches are written in digits, or in full."""
_SHARE = re.compile(r"in\s+[0-9]+\b(?!\s*(?:[.x\"/]|in\b|ft\b))")
_PREPOSITION = re.compile(r"in\s+(?:the|a|an|each|every|all|pairs?|any|from|addition|which|place|one)\b", re.IGNORECASE)
_SUSPENDED = re.compile(r"\s(?:to|or|and)\s")
_IN_HEAD = re.compile(r"\s?(?=[A-Za-zµμ])")
_HYPHENATED = re.compile(r"[-‑][A-Za-z]")
_HEAD_END = re.compile(r"\s*(?:[)/]|,?\s*(?:max|min|nom)\b)")
_A_UNIT = re.compile(r"\s+(an?|each)\s+")
_TIN = re.compile(r"[\s-]{1,2}(can|tin)(?![a-z])(?!\sbe\b)")
_BEHIND = re.compile(r"[\s\u00a0-]{0,3}")
_SIGNS = {
    ".": "STOP", "?": "STOP", "!": "STOP", ",": "COMMA", ";": "SEMICOLON", ":": "COLON", "(": "OPEN", ")": "CLOSE", "[": "CHOICE", "]": "CHOICE_END",
    "|": "CELL", "/": "PER", "@": "AT", "&": "AND", "–": "DASH", "—": "DASH", "-": "DASH", "×": "BY_X", "\n": "BREAK",
    "+": "PLUS", "$": "MONEY",
}  # fmt: skip
_BEFORE_UNIT = ("NUMBER", "PER", "DAMAGED")
_COUNTING = ("COAT", "LAYER", "PIECES", "THICK", "ON_CENTER")
_LETTERS = re.compile(r"[a-z]+")


class _Shelf:
    """Phrases by their first letters (or first sign), the longest first.

    A phrase that ends in a subject in braces stands only right before that subject, which is no part of it:
    `standard {gypsum board}` is the `standard` of `standard plasterboard`.
    """

    def __init__(self, phrases: Mapping[str, Meaning]) -> None:
        self._by_start: dict[str, list[tuple[str, str, Meaning]]] = {}
        entries = [(*phrase.partition(" {")[::2], meaning) for phrase, meaning in phrases.items()]
        for said, ahead, meaning in sorted(entries, key=lambda entry: (len(entry[0]), bool(entry[1])), reverse=True):
            first = _LETTERS.match(said)
            entry = (said, ahead.rstrip("}"), meaning)
            self._by_start.setdefault(first[0] if first else said[0], []).append(entry)

    def at(self, low: str, start: int, first: str) -> tuple[int, Meaning] | None:
        """End and meaning of the longest phrase that stands at `start` of a lower-case text and begins with `first`."""
        for phrase, ahead, meaning in self._by_start.get(first, ()):
            end = start + len(phrase)
            if not low.startswith(phrase, start):
                # several blanks between the words of a phrase are looked for only where several stand
                if " " not in phrase or "  " not in low[start : end + 4]:
                    continue
                far = _loosely(phrase).match(low, start)
                if far is None:
                    continue
                end = far.end()
            if not (phrase[-1].isalnum() and low[end : end + 1].isalnum()) and (
                not ahead or self._ahead(low, end, ahead)
            ):
                return end, meaning
        return None

    def _ahead(self, low: str, end: int, subject: str) -> bool:
        """Whether a word for a subject stands right behind `end`, or behind one more word that describes it."""
        for _ in range(2):
            begin = _BEHIND.match(low, end).end()  # type: ignore[union-attr]  # it matches nothing at the least
            found = self.at(low, begin, _first(low, begin)) if begin > end else None
            if found is None:
                return False
            end, (name, value) = found
            if name.split(" ")[0] == "subject" and value.split(" / ")[0] == subject:
                return True
            if name.split(" ")[0] != "condition":
                return False
        return False


def _loosely(phrase: str) -> re.Pattern[str]:
    """A phrase with any few blanks between its words; the re module keeps the compiled ones."""
    return re.compile(r"\s{1,3}".join(map(re.escape, phrase.split(" "))))


@frozen(eq=False, slots=False)
class Tagger:
    """Finds tags. `after_number` holds what means something only right behind a number or a "per"."""

    phrases: Mapping[str, Meaning] = field(repr=False)
    after_number: Mapping[str, Meaning] = field(repr=False)
    after_unit: Mapping[str, Meaning] = field(repr=False, factory=dict)
    alike: Callable[[str, str], bool] = field(repr=False, default=lambda one, other: one == other)
    """Whether two products are of one sort, so that of two names in a row the last is the noun."""
    """What means something only right behind a length."""

    @cached_property
    def _words(self) -> _Shelf:
        ordinals = {word: ("ORDINAL", word) for word in ORDINALS}
        return _Shelf({**{word: ("NUMBER", word) for word in WORDS}, **ordinals, **self.phrases})

    @cached_property
    def _strips(self) -> _Shelf:
        return _Shelf(self.after_unit)

    @cached_property
    def _units(self) -> _Shelf:
        return _Shelf(self.after_number)

    def tags(self, text: str) -> list[Tag]:
        """Every known word, number and sign of a text, in order and without overlap."""
        out: list[Tag] = []
        low, at, begin = _lower(text), 0, _BEGIN.search
        while (match := begin(text, at)) is not None:
            start = match.start()
            sign = text[start]
            if sign.isalpha():
                tag, at = self._at_letter(text, low, start)
            elif sign.isdigit():
                tag, at = self._at_digit(text, low, start)
            else:
                tag, at = self._at_sign(text, low, start)
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
            if tag.name == "OPEN" or (tag.name == "COMMA" and _RATE_HEAD.match(low, at)):
                at = self._head_unit(out, low, at)
            elif tag.name in _BEFORE_UNIT:
                at = self._unit_behind(out, text, low, at)
        last = _LAST_UNIT.search(low)
        if last is not None and (not out or out[-1].end <= last.start(1)):
            # `Thickness, in.`
            out.append(_tag(last.start(1), last.end(1), *self.after_number[last[1]]))
        return out

    def _at_letter(self, text: str, low: str, start: int) -> tuple[Tag | None, int]:
        """The tag that begins with a letter, if any, and where to go on."""
        sign, end = text[start], _WORD.match(text, start).end()  # type: ignore[union-attr]  # it begins with a letter
        if start and text[start - 1].isalnum():
            by = sign in "xX" and end == start + 1 and text[start - 1].isdigit() and _BY.match(text, start)
            return (Tag(start, end, "BY_X", "x"), end) if by else (None, end)
        if sign in "Aa" and (carried := _CARRIED.match(text, start)):
            return Tag(start, carried.end(), "CARRIED", carried[0]), carried.end()
        if sign in "IlZ" and (damaged := DAMAGED.match(text, start)):
            return _repaired(start, damaged[0])
        found = self._words.at(low, start, low[start:end])
        if (code := self._code(text, low, start)) is not None and (found is None or code.end() > found[0]):
            return _code_tag(start, code), code.end()
        if found is not None and found[1][0].startswith("ASIDE") and _HYPHENATED.match(text, found[0]):
            return None, end  # `high-performance` is no height
        if found is not None and found[1][0] == "NUMBER" and (words := SPELLED.match(low, start)):
            return Tag(start, words.end(), "NUMBER", words[0], spelled(words[0])), words.end()
        if found is not None:
            tag = _tag(start, found[0], *found[1])
            # a room is called what it is called here: the job's own names are matched by their words
            if tag.name == "room":
                loose = not is_led(low, start)
                tag = evolve(tag, value=singular(low[start : tag.end]), loose=loose)
            return tag, tag.end
        if sign in "xX" and end == start + 1:
            return Tag(start, end, "BY_X", "x"), end
        if (unit := _UNIT_OC.match(low, start)) is not None:
            return _tag(start, unit.end(1), "LENGTH_UNIT", unit[1]), unit.end(1)
        if room := ROOM.match(text, start):
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
        if not text[start].isascii():
            end = _OTHER_DIGITS.match(text, start).end()  # type: ignore[union-attr]  # it begins with a digit
            return Tag(start, end, "DAMAGED", text[start:end]), end
        before = text[start - 1] if start else " "
        sized = before in "xX" and start > 1 and text[start - 2].isdigit()
        if (before.isalnum() and not sized) or (before == "." and start > 1 and text[start - 2].isalnum()):
            return None, _DIGITS.match(text, start).end()  # type: ignore[union-attr]  # it begins with a digit
        if damaged := DAMAGED.match(text, start):
            return _repaired(start, damaged[0])
        if before not in "./" and (code := DIGIT_CODE.match(text, start)):
            return _code_tag(start, code), code.end()
        if ordinal := _ORDINAL.match(text, start):
            return Tag(start, ordinal.end(), "ORDINAL", ORDINALS[int(text[start]) - 1]), ordinal.end()
        if (comma := _DECIMAL_COMMA.match(text, start)) is not None:
            value = value_of(comma[0].replace(",", "."))
            return Tag(start, comma.end(), "NUMBER", comma[0], value), comma.end()
        number, glued = _NUMBER.match(text, start), _DIGITS.match(text, start)
        assert glued is not None  # it begins with a digit
        if number is None:
            return None, glued.end()
        if text[number.end() : number.end() + 1].isalpha() and self._is_glued(text, low, number.end()):
            return _grown_together(start, glued[0]), glued.end()
        value, mixed = value_of(number[0]), _RUN_TOGETHER.fullmatch(number[0])
        if mixed is not None and value is not None and value > 1:
            value = value_of(f"{mixed[1]} {mixed[2]}")
        return Tag(start, number.end(), "NUMBER" if value is not None else "DAMAGED", number[0], value), number.end()

    def _is_glued(self, text: str, low: str, end: int) -> bool:
        """Whether the letters right behind a number are neither its unit nor a word that counts: `12mm`, `2cts.`"""
        return self._unit(low, end) is None and not _BY.match(text, end) and self._counting(low, end) is None

    def _counting(self, low: str, at: int) -> tuple[int, Meaning] | None:
        """End and meaning of a word that may be written together with its number: `1ct.`, `3coats`, `2layers`."""
        found = self._words.at(low, at, _first(low, at)) if low[at : at + 1].isalpha() else None
        return found if found is not None and found[1][0] in _COUNTING else None

    def _glued_word(self, out: list[Tag], low: str, at: int) -> int:
        """Add a word that grew together with the number before it, if there is one; the place to go on from."""
        word = self._counting(low, at)
        if word is None:
            return at
        out.append(_tag(at, word[0], *word[1]))
        return word[0]

    def _at_sign(self, text: str, low: str, start: int) -> tuple[Tag | None, int]:
        """The tag of a sign, a vulgar fraction or a decimal without its nought, if any, and where to go on."""
        sign, end = text[start], start + 1
        before = text[start - 1] if start else " "
        if (sign == "." and before != "." and not before.isalnum()) or sign.isnumeric():
            number = _NUMBER.match(text, start)
            if number is not None:
                return Tag(start, number.end(), "NUMBER", number[0], value_of(number[0])), number.end()
        if sign == "#" and (code := SIGN_CODE.match(text, start)):
            return _code_tag(start, code), code.end()
        found = self._words.at(low, start, sign)
        if found is not None:
            return _tag(start, found[0], *found[1]), found[0]
        if sign == "." and (not (end == len(text) or text[end].isspace()) or abbreviates(low, start)):
            return None, end
        if sign == "-" and text[end : end + 1].isalpha() and before.isalnum():
            return None, end  # a compound word
        if sign == "-" and before.isdigit() and _SUSPENDED.match(low, end):
            return None, end  # `1/4- to 1/2-inch`
        return Tag(start, end, _SIGNS.get(sign, "SIGN"), sign), end

    def _unit(self, low: str, at: int) -> tuple[int, int, Meaning] | None:
        """Start, end and meaning of a unit that stands at most a few blanks or a hyphen behind `at`."""
        begin = _BEHIND.match(low, at).end()  # type: ignore[union-attr]  # it matches nothing at the least
        found = self._units.at(low, begin, _first(low, begin))
        # `l/2` is a scanned half, no litre
        scanned = found is not None and found[1][1] == "L" and low[found[0] : found[0] + 1] == "/"
        if found is None or (scanned and low[found[0] + 1 : found[0] + 2].isdigit()):
            return None
        return begin, *found

    def _unit_behind(self, out: list[Tag], text: str, low: str, at: int) -> int:
        """Add the unit behind a number or a "per", if one stands there; the place to go on from."""
        unit = self._unit(low, at)
        if unit is None:
            return self._glued_word(out, low, at)
        begin, end, meaning = unit
        if meaning[0] == "LENGTH_UNIT" and (
            _PREPOSITION.match(text, begin)
            or _one_in_some(out, low, begin)
            or (low[out[-1].start].isalpha() and _PLACE.match(text, begin))
        ):
            return at
        out.append(_tag(begin, end, *meaning))
        if meaning[1] == "in":
            _join_feet(out, text)
        if meaning[0] == "LENGTH_UNIT":
            begin = _BEHIND.match(low, end + (low[end : end + 1] == ")")).end()  # type: ignore[union-attr]  # it matches nothing at the least
            strip = self._strips.at(low, begin, _first(low, begin))
            if strip is not None:
                if low[end] == ")":
                    out.append(Tag(end, end + 1, "CLOSE", ")"))
                out.append(_tag(begin, strip[0], *strip[1]))
                return strip[0]
        if meaning[0] in ("VOLUME_UNIT", "MASS_UNIT") and (held := _TIN.match(low, end)):
            out.append(_tag(held.start(1), held.end(1), "CONTAINER", "can"))
            return held.end(1)
        if (per := _A_UNIT.match(low, end)) and (behind := self._unit(low, per.end())) is not None:
            # `16 m2 a litre`
            out.append(Tag(per.start(1), per.end(1), "PER", "a"))
            out.append(_tag(behind[0], behind[1], *behind[2]))
            end = behind[1]
        return end

    def _head_unit(self, out: list[Tag], low: str, at: int) -> int:
        """A unit alone in brackets, as in the head of a column: `Length (mm)`, `Centres (mm, max.)`."""
        begin = _IN_HEAD.match(low, at)
        found = self._units.at(low, begin.end(), _first(low, begin.end())) if begin else None
        if found is None or not _HEAD_END.match(low, found[0]):
            return at
        out.append(_tag(begin.end() if begin else at, found[0], *found[1]))
        return found[0]


def _one_in_some(out: list[Tag], low: str, at: int) -> bool:
    """Whether `in` stands between one and another number: `1 in 50` is a share."""
    return bool(out) and out[-1].number == 1 and _SHARE.match(low, at) is not None


def _first(low: str, at: int) -> str:
    letters = _LETTERS.match(low, at)
    return letters[0] if letters else low[at : at + 1]


@lru_cache(64)
def capitals_of(text: str) -> str:
    """A text as codes are looked for in it: in capitals, letter for letter, where it has none of its own."""
    if not text.islower():
        return text
    high = text.upper()
    return high if len(high) == len(text) else "".join(c.upper() if len(c.upper()) == 1 else c for c in text)


def _lower(text: str) -> str:
    """Lower case, letter for letter: the few letters whose lower case is longer stay as they are; a small text itself."""
    low = text if text.islower() else text.lower()
    return low if len(low) == len(text) else "".join(c.lower() if len(c.lower()) == 1 else c for c in text)


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


def _tag(start: int, end: int, name: str, value: str) -> Tag:
    """A word's tag; a table with two keys in its name gives words that carry both."""
    if " " in name:
        (name, *more), (value, *values) = name.split(), value.split(" / ")
        return Tag(start, end, name, value, also=tuple(zip(more, values, strict=True)))
    if name == "room":
        return Tag(start, end, name, value)
    if name == "NUMBER":
        return Tag(start, end, name, value, WORDS[value])
    return Tag(start, end, name, value, unit=UNITS.get(value))


def _grown_together(start: int, said: str) -> Tag:
    """A number and letters in one: a mark, or a scanner's mistake where letters stand that look like digits."""
    damaged = bool(set(said) & set("lIOoSBZ")) and not _MARKED.fullmatch(said)
    return Tag(start, start + len(said), "DAMAGED" if damaged else "CODE", said if damaged else "a mark")


def _code_tag(start: int, match: re.Match[str]) -> Tag:
    why = reason_of(match)
    also = {"a mark": "mark", "a standard": "standard"}.get(why)
    return Tag(start, match.end(), "CODE", why, also=((also, match[0]),) if also else ())


def _repaired(start: int, said: str) -> tuple[Tag, int]:
    """A scanned number: a number where one reading is left, else damaged."""
    number = value_of(mended(said))
    return Tag(start, start + len(said), "DAMAGED" if number is None else "NUMBER", said, number), start + len(said)
