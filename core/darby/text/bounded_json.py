"""JSON from outside: parsed within bounds of size, depth and number, each mistake a place in the text."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any, NoReturn

from attrs import frozen

from darby.text.spans import Source, Span

MOST_BYTES = 64_000_000
"""A larger file is refused before it is read."""

_MOST_VALUES = 6_000_000
"""Brackets and commas together: what a parser makes an object of each."""

Path = tuple[str | int, ...]
"""The way to a value: `("items", 0, "need")`."""

_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*+"|[\[\]{}:,]|[^\s\[\]{}:,"]++', re.DOTALL)


@frozen
class Mistake:
    """Why a text is no JSON that is wanted, and where."""

    span: Span
    message: str


def parse(source: Source) -> tuple[Any, Mistake | None]:
    """The data of a JSON text, or what is wrong with it. Takes time and memory in proportion to the text, whatever it holds."""
    text = source.text
    if sum(map(text.count, "[{,")) > _MOST_VALUES:
        return None, Mistake(source.span(0, 0), "holds more values than any estimate has")
    try:
        return json.loads(text, parse_constant=_no_constant), None
    except json.JSONDecodeError as error:
        at = min(error.pos, len(text))
        where = Mistake(source.span(at, min(at + 1, len(text))), _told(error, text))
        return None, where
    except RecursionError:
        return None, Mistake(_deepest(source), "is nested deeper than any estimate is")
    except _Refused as refused:
        word = str(refused)
        at = next((m.start() for m in _TOKEN.finditer(text) if m[0] == word), 0)
        return None, Mistake(source.span(at, at + len(word)), f"has {word} where a number belongs")
    except ValueError:  # a number of more digits than Python takes
        long = re.search(r"[0-9]{1000}", text)
        at = long.start() if long else 0
        return None, Mistake(source.span(at, min(at + 20, len(text))), "holds a number of thousands of digits")


def locate(source: Source, path: Path) -> Span:
    """Where the value of a path stands in a text that is JSON; the nearest value around it where it is not there."""
    best = source.span(0, min(1, len(source.text)))
    reached = 0
    for found, span in _places(source):
        if len(found) > reached and found == path[: len(found)]:
            best, reached = span, len(found)
            if reached == len(path):
                break
    return best


class _Refused(Exception):  # noqa: N818 - it is told, not raised to anybody
    """A word that JSON parsers take and JSON does not have."""


def _no_constant(word: str) -> NoReturn:
    raise _Refused(word)


def _told(error: json.JSONDecodeError, text: str) -> str:
    if error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated string"):
        return "breaks off before its end" if text.strip() else "is empty"
    if error.msg == "Extra data":
        return "goes on behind its end"
    if not text.lstrip().startswith(("{", "[")):
        return "does not begin as a saved estimate does, with {"
    return f"is no JSON here: {error.msg[:1].lower()}{error.msg[1:]}"


def _deepest(source: Source, depth: int = 200) -> Span:
    """Where the brackets first stand so deep."""
    level = 0
    for match in _TOKEN.finditer(source.text):
        level += match[0] in "[{"
        level -= match[0] in "]}"
        if level >= depth:
            return source.span(match.start(), match.end())
    return source.span(0, 0)


def _places(source: Source) -> Iterator[tuple[Path, Span]]:
    """Every value's path and its place; that of a list or table is its bracket."""
    path: list[str | int] = []
    key = False
    for match in _TOKEN.finditer(source.text):
        token = match[0]
        if token == ",":
            if path and isinstance(path[-1], int):
                path[-1] += 1
            key = bool(path) and isinstance(path[-1], str)
        elif token in "]}":
            if path:
                path.pop()
            key = False
        elif token == ":":
            key = False
        elif key:
            path[-1] = json.loads(token)
        else:
            yield tuple(path), source.span(match.start(), match.end())
            if token == "[":
                path.append(0)
            elif token == "{":
                path.append("")
                key = True
