"""Where in a TOML text each key and value stands: a scanner that walks it once, beside tomllib, which tells no places.

It refuses what would make tomllib slow or deep. On text that is no TOML it stops where it no longer follows.
"""

from __future__ import annotations

import re
import tomllib

from attrs import frozen

from darby.text.spans import Source, Span
from darby.text.toml_mistakes import Mistake

Path = tuple[str | int, ...]
"""The way to a value: `("walls", 0, "length")`."""

_DEEPEST = 16
_LONGEST_BARE = 100

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


@frozen
class Place:
    """Where a key stands, and where its value. A string's value is what is between the quotes; a table's, its header."""

    key: Span
    value: Span


class _RefusedError(Exception):
    """The text cannot be followed further; with a message, it must not be."""

    def __init__(self, offset: int = 0, message: str = "", way_out: str = "") -> None:
        self.offset, self.message, self.help = offset, message, way_out


class Scanner:
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
