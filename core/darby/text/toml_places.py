"""TOML with places: what tomllib reads, and where in the text each key and value stands.

tomllib gives values without places, so a scanner walks the same text and notes them. It runs first and refuses what
would make tomllib slow or deep; on text that is no TOML it stops where it no longer follows, and tomllib says why.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any

from attrs import field, frozen

from darby.text.spans import Source, Span

Path = tuple[str | int, ...]
"""The way to a value: `("walls", 0, "length")`."""

_DEEPEST = 16
_LONGEST_BARE = 100
_TRIES = 20
_READ_AT_MOST = 2_000_000  # characters in all tries together

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*+")
_SPACE = re.compile(r"[ \t]*+")
_KEY = re.compile(r"""[A-Za-z0-9_-]++|"(?:[^"\\\n]|\\.)*+"|'[^'\n]*+\'""")
_STRING = re.compile(
    r'''"""(?:[^"\\]|\\.|"(?!""))*+"{3,5}|\'\'\'(?:[^']|'(?!\'\'))*+'{3,5}'''
    r"""|"(?!"")(?:[^"\\\n]|\\.)*+"|'(?!\'\')[^'\n]*+\'""",
    re.DOTALL,
)
_HEADER = re.compile(r"\[\[([A-Za-z0-9_-]++)\]\]")
_SIMPLE = re.compile(
    r'([A-Za-z0-9_-]++)[ \t]*+=[ \t]*+(?:"(?!"")([^"\\\n]*+)"|([0-9]{1,9}+|true|false)(?=[ \t\r]*+\n))'
)
_BARE = re.compile(r"[^,\]}\n#]*+")
_AT = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_PAIR = re.compile(r"([ \t]*[A-Za-z0-9_-]+)[ \t]*=")


@frozen
class Place:
    """Where a key stands, and where its value. A string's value is what is between the quotes; a table's, its header."""

    key: Span
    value: Span


@frozen
class Mistake:
    """Something that is no TOML, and what to write instead."""

    span: Span
    message: str
    help: str = ""


@frozen(eq=False)
class Places:
    """The places of one TOML text, by path."""

    source: Source
    known: dict[Path, Place] = field(factory=dict, repr=False)
    broken: frozenset[int] = frozenset()
    """Offsets of values that could not be read and whose mistake has been told."""

    def at(self, path: Path) -> Place:
        """The place of a path, or of the nearest table around it."""
        for length in range(len(path), 0, -1):
            if (place := self.known.get(path[:length])) is not None:
                return place
        top = self.source.span(0, 0)
        return Place(top, top)

    def is_broken(self, path: Path) -> bool:
        """Whether the value of a path was no TOML and something else was put in its place."""
        place = self.known.get(path) if self.broken else None
        return place is not None and place.value.start in self.broken


def read_toml(source: Source) -> tuple[dict[str, Any] | None, Places, tuple[Mistake, ...]]:
    """The data of a TOML text, its places and its mistakes; data is None where nothing could be made of it.

    A line that is no TOML is told and put aside, and the rest is read on, so that one run tells as much as can be told.
    """
    text = source.text
    if text.startswith("\ufeff"):
        text = " " + text[1:]
    mistakes: list[Mistake] = []
    broken: set[int] = set()
    blamed: set[int] = set()
    for _ in range(min(_TRIES, 1 + _READ_AT_MOST // (len(text) + 1))):
        scanner = _Scanner(source, text)
        refused = scanner.run()
        places = Places(source, scanner.known, frozenset(broken))
        if refused is not None:
            return None, places, (*mistakes, refused)
        try:
            return tomllib.loads(text), places, tuple(mistakes)
        except (ValueError, RecursionError) as error:
            offset = _offset(text, str(error))
            start = text.rfind("\n", 0, offset) + 1
            if start not in blamed:
                mistakes.append(_mistake(source, text, offset, str(error)))
            mended = _without(text, start, whole=start in blamed or "overwrite" in str(error), broken=broken)
            blamed.add(start)
            if mended is None:
                return None, places, tuple(mistakes)
            text = mended
    return None, places, tuple(mistakes)


def _offset(text: str, told: str) -> int:
    """Offset of the place that tomllib tells at the end of a message."""
    found = _AT.search(told)
    if found is None or found[1] is None:
        return max(0, len(text.rstrip()) - 1)
    start = 0
    for _ in range(int(found[1]) - 1):
        start = text.find("\n", start) + 1
    return min(start + int(found[2]) - 1, len(text))


def _mistake(source: Source, text: str, offset: int, told: str) -> Mistake:
    start = text.rfind("\n", 0, offset) + 1
    line = text[start:].split("\n", 1)[0].rstrip()
    span = source.span(min(offset, max(start, start + len(line) - 1)), min(offset + 1, len(text)))
    told = _AT.sub("", told)
    pair = _PAIR.match(line)
    key, value = (pair[1].strip(), line[pair.end() :].strip()) if pair else ("", "")
    if "overwrite" in told and pair:
        return Mistake(source.span(start, start + len(line)), f"{_short(key)} is said twice", "Keep one of the two.")
    if "twice" in told or "overwrite" in told or "mutate" in told:
        return Mistake(
            source.span(start, start + len(line)),
            f"{_short(line.strip())} does not fit with what stands above it",
            "Each wall, ceiling, opening, corner and room begins with a line in two brackets of its own: [[walls]].",
        )
    if pair and not value:
        named = source.span(start + pair.end(1) - len(key), start + pair.end(1))
        return Mistake(named, f"{_short(key)} has no value", f'Write {_short(key)} = "..." or take the line out.')
    if pair and value[0] not in "\"'[{":
        return Mistake(
            source.span(start + pair.end() + (len(line[pair.end() :]) - len(value)), start + len(line)),
            f"{_short(value)} stands without quotes",
            f'Write {_short(key)} = "{_short(value)}".'
            if '"' not in value
            else f"Write {_short(key)} = '''{_short(value)}'''.",
        )
    if pair and value[0] == '"' and value.count('"') != 2:
        return Mistake(
            span,
            f"the quotes of {_short(key)} do not pair up",
            'An inch mark between double quotes is written \\" (a backslash before it); or spell inches out: "8 ft 1/2 in".',
        )
    way_out = 'A line reads length = "12 ft"; a wall begins with a line [[walls]].'
    if "array" in told and "declaration" not in told:
        way_out = 'A list reads ["one", "two"]: commas between, a bracket at each end.'
    return Mistake(span, f"this is no TOML: {told[:1].lower()}{_short(told[1:])}", way_out)


def _without(text: str, start: int, *, whole: bool, broken: set[int]) -> str | None:
    """The text, as long as before, with 0 for the value of the line at `start`, or blanks for the line; None where it cannot be."""
    end = text.find("\n", start)
    end = len(text) if end < 0 else end
    pair = _PAIR.match(text, start, end)
    if pair is None:
        return None
    if whole:
        return text[:start] + " " * (end - start) + text[end:]
    stand_in = pair[1] + "=0"
    if len(stand_in) > end - start:
        return text[:start] + " " * (end - start) + text[end:]
    broken.add(start + len(stand_in) - 1)
    return text[:start] + stand_in.ljust(end - start) + text[end:]


def _short(text: str) -> str:
    return text if len(text) <= 60 else text[:60] + "..."


class _RefusedError(Exception):
    """The text cannot be followed further; with a message, it must not be."""

    def __init__(self, offset: int = 0, message: str = "", way_out: str = "") -> None:
        self.offset, self.message, self.help = offset, message, way_out


class _Scanner:
    """Walks a TOML text once and notes the places of keys and values. Linear in the length of the text."""

    def __init__(self, source: Source, text: str) -> None:
        self.source, self.text, self.at = source, text, 0
        self.known: dict[Path, Place] = {}
        self.table: Path = ()
        self.last: dict[Path, int] = {}

    def run(self) -> Mistake | None:
        """Notes all places; what must not be given to tomllib comes back."""
        try:
            while self._blank() < len(self.text):
                if self.text[self.at] == "[":
                    self._header()
                elif simple := _SIMPLE.match(self.text, self.at):
                    self._simple(simple)
                else:
                    self._pair(self.table, 0)
        except _RefusedError as refused:
            if refused.message:
                end = min(refused.offset + 1, len(self.text))
                return Mistake(self.source.span(refused.offset, end), refused.message, refused.help)
        return None

    def _blank(self) -> int:
        self.at = self._end(_BLANK)
        return self.at

    def _end(self, pattern: re.Pattern[str]) -> int:
        found = pattern.match(self.text, self.at)
        if found is None:
            raise _RefusedError
        return found.end()

    def _expect(self, sign: str) -> None:
        self.at = self._end(_SPACE)
        if not self.text.startswith(sign, self.at):
            raise _RefusedError
        self.at += len(sign)

    def _simple(self, found: re.Match[str]) -> None:
        """A pair as most are, a word and a plain text or number: the same as `_pair`, three times as fast."""
        self.at = found.end()
        value = 2 if found[2] is not None else 3
        key, span = Span(self.source, *found.span(1)), Span(self.source, *found.span(value))
        self.known[(*self.table, found[1])] = Place(key, span)

    def _header(self) -> None:
        start = self.at
        simple = _HEADER.match(self.text, start)
        double = simple is not None or self.text.startswith("[[", start)
        if simple is not None:
            names, self.at = [simple[1]], simple.end()
        else:
            self.at += 2 if double else 1
            names = [name for name, _ in self._keys()]
            self._expect("]]" if double else "]")
        span = self.source.span(start, self.at)
        path: Path = ()
        for number, name in enumerate(names, 1):
            path += (name,)
            if double and number == len(names):
                self.last[path] = self.last.get(path, -1) + 1
                self.known.setdefault(path, Place(span, span))
            if path in self.last:
                path += (self.last[path],)
            self.known.setdefault(path, Place(span, span))
        self.table = path

    def _keys(self) -> list[tuple[str, Span]]:
        keys: list[tuple[str, Span]] = []
        while True:
            start = self.at = self._end(_SPACE)
            self.at = self._end(_KEY)
            keys.append((self._name(self.text[start : self.at]), self.source.span(start, self.at)))
            if len(keys) > _DEEPEST:
                raise _RefusedError(start, "a key of so many parts has no place here", "A key is one word, as length.")
            self.at = self._end(_SPACE)
            if not self.text.startswith(".", self.at):
                return keys
            self.at += 1

    @staticmethod
    def _name(key: str) -> str:
        if key[0] != '"' or "\\" not in key:
            return key.strip("\"'") if key[0] in "\"'" else key
        try:
            return str(tomllib.loads(f"key = {key}")["key"])
        except ValueError:
            raise _RefusedError from None

    def _pair(self, base: Path, depth: int) -> None:
        keys = self._keys()
        self._expect("=")
        self.at = self._end(_SPACE)
        for name, span in keys:
            base += (name,)
            self.known.setdefault(base, Place(span, span))
        self._value(base, keys[-1][1], depth)

    def _value(self, path: Path, key: Span, depth: int) -> None:
        start = self.at
        sign = self.text[start : start + 1]
        if depth > _DEEPEST:
            raise _RefusedError(
                start, "brackets stand inside brackets too deep", "Nothing in a job file goes that deep."
            )
        if sign in ('"', "'") and sign:
            self.at = self._end(_STRING)
            quotes = 3 if self.text.startswith(sign * 3, start) else 1
            value = self.source.span(start + quotes, self.at - quotes)
        elif sign == "[":
            self._list(path, key, depth + 1)
            value = self.source.span(start, self.at)
        elif sign == "{":
            self._inline(path, depth + 1)
            value = self.source.span(start, self.at)
        else:
            self.at = self._end(_BARE)
            bare = self.text[start : self.at].rstrip()
            if len(bare) > _LONGEST_BARE:
                raise _RefusedError(
                    start, "a value without quotes is this long only by mistake", "Put text and lengths in quotes."
                )
            value = self.source.span(start, start + len(bare))
        self.known[path] = Place(key, value)

    def _list(self, path: Path, key: Span, depth: int) -> None:
        self.at += 1
        index = 0
        while not self._closed("]"):
            start = self.at
            self._value((*path, index), key, depth)
            if self.at == start:  # a sign that no value begins with
                raise _RefusedError
            index += 1

    def _inline(self, path: Path, depth: int) -> None:
        self.at += 1
        while not self._closed("}"):
            self._pair(path, depth)

    def _closed(self, bracket: str) -> bool:
        """Whether a list or table ends here; a comma before the next value is stepped over."""
        self._blank()
        if self.text.startswith(",", self.at):
            self.at += 1
            self._blank()
        if self.at >= len(self.text):
            raise _RefusedError
        if self.text[self.at] == bracket:
            self.at += 1
            return True
        return False
