"""The words the reader knows, and the tagger that finds them and every number in a text.

A vocabulary is a TOML text. Its tables say what a phrase is: `[words]` give a terminal of the grammar to phrases,
`[after_number]` do so only right behind a number or a "per" (where `in` is an inch and no preposition), `[aside]` give
the reason why a number next to the phrase is no quantity. Every other table names a scope key (`surface`, `sheen`), or
`subject`, and gives the phrases of each of its values. `[kinds]` says which kinds of fact a subject can have, and
`[measures]` which kind a bare measure of it is.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import cache, cached_property

from attrs import field, frozen

from darby.numerals import NUMBER, ORDINALS, WORDS, value_of
from darby.text import Source
from darby.units import AREA, CONTAINERS, LENGTH, MARKS, MASS, UNITS, VOLUME, Unit, parse

_DIMENSION_TERMINALS = {LENGTH: "LENGTH_UNIT", AREA: "AREA_UNIT", VOLUME: "VOLUME_UNIT", MASS: "MASS_UNIT"}
_THIN = {"mil", "um"}
_TABLES = {
    "words",
    "after_number",
    "aside",
    "aside_all",
    "aside_next",
    "aside_after",
    "ask",
    "kinds",
    "measures",
    "implies",
    "implied_where",
    "known",
}
_ONLY_AFTER_NUMBER = 2
"""A unit spelled with so few letters is a unit only behind a number: `in`, `m`, `L`, `pt`."""

_CLOSE = 3
"""Characters between feet and their inches."""

_SPACE = r"[\s\u00a0]{1,3}"


@frozen(eq=False)
class Vocabulary:
    """Words that one plugin adds, as a TOML text; `name` is the plugin's, for saying who claimed a word."""

    name: str
    source: Source

    @cached_property
    def tables(self) -> Mapping[str, Mapping[str, object]]:
        """The parsed tables. Raises tomllib.TOMLDecodeError."""
        return tomllib.loads(self.source.text)


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
    """Further scope that the word carries: `wall board` is board, and on walls."""

    def __repr__(self) -> str:
        return f"{self.name}({self.value or self.number or ''})"


@frozen(eq=False, slots=False)
class Lexicon:
    """Words of all vocabularies, ready to tag."""

    vocabularies: tuple[Vocabulary, ...]
    phrases: dict[str, tuple[str, str]] = field(repr=False)
    """Phrase, lower case, to terminal and value."""
    after_number: dict[str, tuple[str, str]] = field(repr=False)
    kinds: dict[str, frozenset[str]] = field(repr=False)
    """Subject to the kinds of fact it can have."""
    measures: dict[str, dict[str, str]] = field(repr=False)
    """Subject to the kind that a bare measure in a dimension (`length`) is."""
    implies: dict[str, str] = field(repr=False)
    """Kind to the subject it belongs to when the text names none."""
    implied_where: dict[str, str] = field(repr=False)
    """Place on the work to the subject that coats there are of, when the text names none."""
    known: dict[str, list[str]] = field(repr=False)
    """Kind to the amounts it can have, where it has only some."""
    bands: dict[str, tuple[Fraction, Fraction]] = field(repr=False)
    """Kind to the least and greatest size it can have, in base units (counts by number)."""
    claims: dict[str, list[str]] = field(repr=False)
    """Phrases that two vocabularies gave different meanings, and who did."""

    @classmethod
    def of(cls, vocabularies: Iterable[Vocabulary]) -> Lexicon:
        """Join vocabularies; of two meanings for one phrase the first vocabulary's stays and the clash is recorded."""
        out = cls(tuple(vocabularies), {}, {}, {}, {}, {}, {}, {}, {}, {})
        owner: dict[str, str] = {}

        def put(shelf: dict[str, tuple[str, str]], phrase: str, meaning: tuple[str, str], who: str) -> None:
            phrase = phrase.lower()
            if shelf.setdefault(phrase, meaning) == meaning:
                owner.setdefault(phrase, who)
            elif who != owner.get(phrase):
                out.claims.setdefault(phrase, [owner.get(phrase, "")]).append(who)

        for unit in UNITS.values():
            terminal = _DIMENSION_TERMINALS.get(unit.dimension, "COUNT")
            terminal = "THIN_UNIT" if unit.name in _THIN else "PERCENT" if unit.name == "%" else terminal
            terminal = "CONTAINER" if unit.name in CONTAINERS else terminal
            for spelling in unit.spellings:
                put(out.after_number, spelling, (terminal, unit.name), "units")
                if len(spelling.rstrip(".")) > _ONLY_AFTER_NUMBER and spelling not in ("can", "tin"):
                    put(out.phrases, spelling, (terminal, unit.name), "units")
        for mark, unit_name in MARKS.items():
            put(out.after_number, mark, ("LENGTH_UNIT", unit_name), "units")
        for vocabulary in out.vocabularies:
            tables = vocabulary.tables
            for table, shelf in (("words", out.phrases), ("after_number", out.after_number)):
                for terminal, phrases in tables.get(table, {}).items():
                    name, _, value = terminal.partition(":")
                    for phrase in _strings(phrases):
                        put(shelf, phrase, (name, value), vocabulary.name)
            for table, shelf, name in (
                ("aside", out.phrases, "ASIDE"),
                ("aside_all", out.phrases, "ASIDE_ALL"),
                ("aside_next", out.phrases, "REFERENCE"),
                ("ask", out.phrases, "ASK"),
                ("aside_after", out.after_number, "FOREIGN"),
            ):
                for reason, phrases in tables.get(table, {}).items():
                    for phrase in _strings(phrases):
                        put(shelf, phrase, (name, reason), vocabulary.name)
            for key, values in tables.items():
                if key not in _TABLES:
                    for value, phrases in values.items():
                        for phrase in _strings(phrases):
                            put(out.phrases, phrase, (key, value), vocabulary.name)
            for subject, kinds in tables.get("kinds", {}).items():
                out.kinds[subject] = out.kinds.get(subject, frozenset()) | frozenset(_strings(kinds))
            for subject, measures in tables.get("measures", {}).items():
                if isinstance(measures, dict):
                    out.measures.setdefault(subject, {}).update(measures)
            for kind, ends in tables.get("bands", {}).items():
                low, high = (_size(end) for end in _strings(ends))
                out.bands.setdefault(kind, (low, high))
            for where, subject in tables.get("implied_where", {}).items():
                out.implied_where.setdefault(where, str(subject))
            for kind, amounts in tables.get("known", {}).items():
                out.known.setdefault(kind, []).extend(_strings(amounts))
            for kind, subject in tables.get("implies", {}).items():
                out.implies.setdefault(kind, str(subject))
        return out

    @cache  # noqa: B019 - a lexicon lives as long as the program
    def sizes(self, kind: str) -> frozenset[Fraction]:
        """The sizes that a kind can have, in base units; empty where it can have any."""
        return frozenset(_size(amount) for amount in self.known.get(kind, ()))

    def in_band(self, kind: str, size: Fraction) -> bool:
        """Whether a size is one that a kind can have; True where nothing is known."""
        low, high = self.bands.get(kind, (size, size))
        return low <= size <= high

    @cached_property
    def _words(self) -> re.Pattern[str]:
        return re.compile(
            r"(?P<carried>(?-i:\b[Aa]s (?:(?:in|for|per) )?(?:the )?(?:[A-Z](?![A-Za-z.'’])|[0-9]{3}\b))(?: above| below)?)|"
            rf"(?P<damaged>{_DAMAGED})|(?P<code>{_CODE})"
            rf"|(?<![A-Za-z0-9])(?P<ordinal>{_ORDINAL})(?![A-Za-z0-9])"
            rf"|(?<![0-9A-Za-z.])(?P<number>{NUMBER})"
            rf"|(?<![A-Za-z0-9])(?P<word>{_trie(self.phrases)})(?![A-Za-z0-9])"
            rf"|(?<![A-Za-z0-9])(?P<said>{_trie(WORDS)})(?![A-Za-z0-9])"
            r"|(?P<sign>[.,;:()\[\]|/@&–—\n=+#$-]|\bx\b|(?<=[0-9'\"])\s?[x×](?=\s?[0-9]))",
            re.IGNORECASE,
        )

    @cached_property
    def _after(self) -> re.Pattern[str]:
        return re.compile(rf"[\s\u00a0-]{{0,3}}({_trie(self.after_number, letters_end=True)})", re.IGNORECASE)

    def tags(self, text: str) -> list[Tag]:
        """Every known word, number and sign of a text, in order and without overlap."""
        out: list[Tag] = []
        at, find, after = 0, self._words.search, self._after.match
        phrases, units = self.phrases, self.after_number
        while (match := find(text, at)) is not None:
            start, end = match.span()
            kind, said = match.lastgroup, match[0]
            at = end
            if kind == "word":
                name, value = phrases[_plain(said)]
                out.append(_tag(start, end, name, value))
            elif kind == "number" or kind == "said":
                number = value_of(said)
                out.append(Tag(start, end, "NUMBER" if number is not None else "DAMAGED", said, number))
            elif kind == "carried":
                out.append(Tag(start, end, "CARRIED", said))
            elif kind == "ordinal":
                out.append(Tag(start, end, "ORDINAL", _ordinal(said)))
            elif kind == "code":
                out.append(Tag(start, end, "CODE", _code(said)))
            elif kind == "damaged":
                number = value_of(_mended(said))
                out.append(Tag(start, end, "DAMAGED" if number is None else "NUMBER", said, number))
            else:
                sign = said.strip().lower()
                if sign == "." and not (end == len(text) or text[end].isspace()):
                    continue  # an abbreviation, or the point of a number that is none
                if sign == "-" and text[end : end + 1].isalpha() and text[start - 1 : start].isalnum():
                    continue  # a compound word
                out.append(Tag(start, end, _SIGNS.get(sign, "SIGN"), sign))
            if said == "(" and (head := _IN_HEAD.match(text, at)) and (unit_name := units.get(_plain(head[1]))):
                out.append(_tag(head.start(1), head.end(1), *unit_name))
                at = head.end(1)
            behind_number = kind in ("number", "said", "damaged") or out[-1].name == "PER"
            if behind_number and (unit := after(text, at)) is not None:
                name, value = units[_plain(unit[1])]
                if not (name == "LENGTH_UNIT" and _PREPOSITION.match(text, unit.start(1))):
                    out.append(Tag(unit.start(1), unit.end(1), name, value, unit=UNITS.get(value)))
                    at = unit.end(1)
                    if value == "in":
                        _join_feet(out, text)
                    if unit[1].endswith(".") and _NEW_SENTENCE.match(text, at):
                        out.append(Tag(at, at, "STOP", "."))
                    elif (per := _A_UNIT.match(text, at)) and (behind := after(text, per.end())) is not None:
                        # `16 m2 a litre`
                        out.append(Tag(per.start(1), per.end(1), "PER", "a"))
                        name, value = units[_plain(behind[1])]
                        out.append(Tag(behind.start(1), behind.end(1), name, value, unit=UNITS.get(value)))
                        at = behind.end(1)
        return out


_ORDINAL = "|".join(ORDINALS) + r"|[1-9]\s?(?:st|nd|rd|th)"
_CODES: tuple[tuple[str, str], ...] = (
    ("a standard", r"(?-i:(?:ASTM|ANSI|BS EN|BS|EN|ISO|DIN|AS/NZS|AS|NZS|CAN/CSA|CSA|CAN|UL|GA|NFPA|MPI|UFC|IRC|IBC|CFR|FF|TT-P)[- ]?(?:[A-Z][- ]?)?[0-9]{1,5}(?:[-./][A-Z0-9]{1,6}){0,4})"),
    ("a section number", r"[0-9]{2}[ \u00a0][0-9O]{2}[ \u00a0][0-9O]{2}(?:\.[0-9]{2})?(?:-[0-9]{1,3})?"),
    ("a date", r"[0-9]{4}-[0-9]{2}-[0-9]{2}|[0-9]{1,2}/[0-9]{1,2}/(?:[0-9]{4}|[0-9]{2})"),
    ("a date", r"(?:January|February|March|April|May|June|July|August|September|October|November|December)\s[0-9]{1,2}(?:,?\s[0-9]{4})?|(?:Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sept?|Oct|Nov|Dec)\.?\s[0-9]{1,2}(?:,\s[0-9]{4})?"),
    ("a time of day", r"[0-9]{1,2}:[0-9]{2}(?:\s?[-–]\s?[0-9]{1,2}:[0-9]{2})?(?:\s?[ap]\.?m\b\.?)?"),
    ("a ratio", r"[0-9]{1,3}:[0-9]{1,3}"),
    ("a telephone number", r"[0-9]{3}-[0-9]{4}"),
    ("a deflection limit", r"(?-i:L)/[0-9]{2,4}"),
    ("a detail or sheet mark", r"[0-9]{1,3}/(?-i:[A-Z])[A-Z]?-?[0-9]{1,4}"),
    ("a paragraph number", r"[0-9]{1,3}(?:\.[0-9]{1,3}){2,5}(?:\.(?-i:[A-Z])(?![A-Za-z]))?|[0-9]{1,3}\.[0-9]{1,3}\.(?-i:[A-Z])(?![A-Za-z])"),
    ("a mark", r"(?-i:(?![Xx][0-9])[A-Z]{1,4}-?[0-9]{1,5}(?:[-./][A-Z0-9]{1,6}){0,3}[A-Z]?)|(?-i:[A-Z]-[A-Z]?[0-9]{1,4}|[0-9]{3}[A-Z])"),
)  # fmt: skip
_CODE = r"(?<![A-Za-z0-9./])(?:" + "|".join(p for _, p in _CODES) + r")(?![A-Za-z0-9])"
_DAMAGED = (
    r"(?-i:(?<![A-Za-z0-9])(?:[Il]/[0-9]{1,2}|[0-9]{1,3}[IOSBl]{1,2}[0-9]{1,3}|[0-9]{1,3}O{1,3}"
    r"|[0-9]{1,3}S(?=\s(?:sq|mm|in|ft|lb))|[0-9]{1,2}\sY[0-9]|[Il](?=\s(?:coat|layer)))(?![A-Za-z0-9]))"
)
_PREPOSITION = re.compile(r"in\s+(?:the|a|an|each|every|all|pairs?|any|from|addition|which|place|one)\b", re.IGNORECASE)
_NEW_SENTENCE = re.compile(r"\s+[A-Z][a-z]")
_IN_HEAD = re.compile(r"\s?([A-Za-zµ.]{1,10}(?:\s[a-z.]{1,6})?)\s?(?=\))")
_A_UNIT = re.compile(r"\s+(an?|each)\s+")
_SIGNS = {
    ".": "STOP", ",": "COMMA", ";": "SEMICOLON", ":": "COLON", "(": "OPEN", ")": "CLOSE", "[": "CHOICE", "]": "CHOICE_END",
    "|": "CELL", "/": "PER", "@": "AT", "&": "AND", "–": "DASH", "—": "DASH", "-": "DASH", "x": "BY", "×": "BY",
    "\n": "BREAK", "=": "SIGN", "+": "PLUS", "$": "MONEY",
}  # fmt: skip


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


def _size(text: str) -> Fraction:
    """Size in base units of an amount, or a bare number."""
    number = value_of(text)
    if number is not None:
        return number
    value, unit = parse(text)
    return value * unit.factor


def _tag(start: int, end: int, name: str, value: str) -> Tag:
    """A word's tag; a table with two keys in its name gives words that carry both."""
    if " " in name:
        (name, *more), (value, *values) = name.split(), value.split(" / ")
        return Tag(start, end, name, value, also=tuple(zip(more, values, strict=True)))
    return Tag(start, end, name, value, unit=UNITS.get(value))


def _code(text: str) -> str:
    """Why a code is no quantity."""
    return next(reason for reason, pattern in _COMPILED_CODES if pattern.fullmatch(text))


def _mended(text: str) -> str:
    """A scanned number with the one reading it can have, else something that is no number.

    O, l and I stand for one digit each; an I between two digits is a digit or a fraction bar, so it proves nothing unless
    the fraction is one that sheets come in.
    """
    bar = re.fullmatch(r"([135])I(8|16)", text)
    if bar:
        return f"{bar[1]}/{bar[2]}"
    return text if re.search(r"[SBY]|[0-9]I[0-9]", text) else text.translate(_SCANNED)


_SCANNED = str.maketrans("OIl", "011")
_COMPILED_CODES = [(reason, re.compile(pattern, re.IGNORECASE)) for reason, pattern in _CODES]


def _ordinal(text: str) -> str:
    return ORDINALS[int(text[0]) - 1] if text[0].isdigit() else text.lower()


def _plain(text: str) -> str:
    return re.sub(r"[\s\u00a0]+", " ", text.lower())


def _strings(value: object) -> Sequence[str]:
    return [value] if isinstance(value, str) else [str(v) for v in value] if isinstance(value, list) else []


def _trie(phrases: Iterable[str], *, letters_end: bool = False) -> str:
    """A pattern that matches the longest of the phrases, as nested groups by first letter; spaces match any white space.

    With `letters_end` a phrase that ends in a letter must not be followed by another.
    """
    words = sorted({p.lower() for p in phrases})

    def node(low: int, high: int, depth: int) -> str:
        done = len(words[low]) == depth
        options: list[str] = []
        at = low + done
        while at < high:
            letter = words[at][depth]
            end = bisect_left(words, words[at][:depth] + chr(ord(letter) + 1), at, high)
            options.append((_SPACE if letter == " " else re.escape(letter)) + node(at, end, depth + 1))
            at = end
        tail = r"(?![A-Za-z]|/[0-9])" if done and letters_end and words[low][-1].isalpha() else ""
        if not options:
            return tail
        body = (
            options[0] if len(options) == 1 and not done else f"(?:{'|'.join(options)}" + (f"|{tail})" if done else ")")
        )
        return body

    return node(0, len(words), 0) if words else r"(?!)"
