"""Where a full stop behind a unit or a shortened word also ends its sentence, in capitals and small letters alike.

In mixed writing a capital word says so. Where all letters are of one size other cues have to: a label and its colon, an
imperative, two blanks behind the stop, or something new named behind a rate that is complete.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import takewhile

from darby.reading.parsing.tagging.tag import Tag

_CAPITAL_WORD = re.compile(r"\s+(?:[A-Z][a-z]|A\s+[a-z])")
_WORDS = re.compile(r"\s+(?=[A-Za-z])")
_CAPITALS = re.compile(r"\s+(?=[A-Z]{2})")
_WORD = r"(?:[A-Za-z]{1,4}\.|[A-Za-z&(][A-Za-z'/&)-]{0,30})"
"""A word of a label; one with a full stop of its own is cut short."""
_LABEL = re.compile(rf"\s+(?=[A-Za-z]){_WORD}(?:,? {_WORD}){{0,6}}:(?=\s)")
_WHERE = re.compile(r"\s+(?:in|at|of|on|for|to|and|or|&)\s", re.IGNORECASE)
"""Words that go on about what a shortened word names: `CLGS. IN OFFICES:`"""
_VERB = re.compile(
    r"\s+(?:apply|provide|install|use|fix|fasten|space|set|place|give|allow|do|attach|secure|erect|furnish|see|refer)\s",
    re.IGNORECASE,
)
_TYPED = re.compile(r"(?:  |\u2003)(?=[A-Za-z0-9])")
"""Two blanks, or the sign that stands for them, as typists put them behind a full stop and not a shortened word."""
_FEW = 4
"""Tags before a product that are looked at."""
_TITLED = re.compile(r"[A-Z][a-z]+(?: [A-Z][a-z]+)+")

_UNITS = ("LENGTH_UNIT", "THIN_UNIT", "AREA_UNIT", "VOLUME_UNIT", "MASS_UNIT", "CONTAINER", "FEET_INCHES", "COUNT")
_SHORTENED = ("ON_CENTER", "AT_MOST", "AT_LEAST")
_SAYS_MORE = ("type", "THICK", "LONG", "WIDE", "LENGTHS", "ON_CENTER", "SPACED", "BY", "BY_X")
"""What goes on about a length even where it is written with a capital: `5/8 in. Type X`."""
_NEW = ("subject", "surface", "room", "ORDINAL")
_MORE_OF_IT = re.compile(
    r"\s+(?:at|on|in|for|to|of|all|each|ea|both|except|unless|u\.?n\.?o|throughout|and|or|with|per|by)\b", re.IGNORECASE
)
"""Words that go on about what is typical: `5/8 IN. TYP. AT CORRIDORS`."""
_THINGS = ("subject", "surface", "room", "type")
_COUNTED = ("COAT", "LAYER", "LEVEL")
_FIGURES = ("NUMBER", "FEET_INCHES", "ORDINAL")


def with_stops(tags: Sequence[Tag], text: str) -> list[Tag]:
    """The tags of a text with a STOP behind each unit or shortened word that ends a sentence."""
    out: list[Tag] = []
    one_size = text.isupper() or text.islower()
    labelled = False
    for number, tag in enumerate(tags):
        out.append(tag)
        labelled = tag.name != "STOP" and (labelled or tag.name == "COLON")
        closed = number + 1 < len(tags) and tags[number + 1].name == "STOP"
        if text[tag.end - 1 : tag.end] != "." or tag.name == "STOP" or closed:
            continue
        if _ends(tags, number, text, one_size=one_size, labelled=labelled):
            out.append(Tag(tag.end, tag.end, "STOP", "."))
            labelled = False
    return out


def _ends(tags: Sequence[Tag], number: int, text: str, *, one_size: bool, labelled: bool) -> bool:
    """Whether the stop at the end of a tag ends the sentence; `labelled` where a label opened it."""
    tag = tags[number]
    counts = tag.name in _UNITS or tag.name in _SHORTENED
    if tag.name in _THINGS and _WHERE.match(text, tag.end):
        return False
    if tag.name == "NEUTRAL":
        return one_size and _CAPITALS.match(text, tag.end) is not None and _MORE_OF_IT.match(text, tag.end) is None
    label = _LABEL.match(text, tag.end)
    if label is not None and tag.name in ("subject", "condition") and _only_describes(tags, number):
        return False  # `NEW GYP. BD. WALLS: ..`
    if _CAPITAL_WORD.match(text, tag.end):
        return label is not None or (counts and not _goes_on(tags, number, text))
    if not (one_size and _WORDS.match(text, tag.end)) and not _CAPITALS.match(text, tag.end):
        return one_size and _is_counted(tags, number) and _rate_ends(tags, number)
    if _VERB.match(text, tag.end):
        return True
    after = tags[number + 1] if number + 1 < len(tags) else None
    if label is not None:
        return labelled or not counts or tag.name in _SHORTENED or _rate_ends(tags, number) or _is_place(after, label)
    if after is None or text[tag.end : after.start].strip():
        return False
    if tag.name in _THINGS and after.name in _COUNTED and _said_before(tags, number, after.name):
        return True  # `LEVEL 5 AT LOBBY CLG. LEVEL 1 ELSEWHERE`
    if _TYPED.match(text, tag.end) and after.name not in _SAYS_MORE:
        return counts
    if tag.name in _SHORTENED:
        return after.name == "subject" and _more_to_come(tags, number + 2)
    return _rate_ends(tags, number) and after.name in _NEW and _more_to_come(tags, number + 2)


def _only_describes(tags: Sequence[Tag], number: int) -> bool:
    """Whether nothing stands before a product in its sentence but words that say which."""
    before = takewhile(lambda t: t.name != "STOP", reversed(tags[max(0, number - _FEW) : number]))
    return all(t.name in ("condition", "type", "ALL", "OPEN", "CLOSE", "FOREIGN") for t in before)


def _goes_on(tags: Sequence[Tag], number: int, text: str) -> bool:
    """Whether a capital word behind a length still speaks of it: `5/8 in. Type X`."""
    tag, after = tags[number], tags[number + 1] if number + 1 < len(tags) else None
    if tag.name not in ("LENGTH_UNIT", "THIN_UNIT") or after is None or text[tag.end : after.start].strip():
        return False
    if _rate_ends(tags, number):
        return False
    return after.name in _SAYS_MORE or (
        after.name == "subject" and _TITLED.fullmatch(text[after.start : after.end]) is not None
    )


def _rate_ends(tags: Sequence[Tag], number: int) -> bool:
    """Whether a unit is the lower one of a rate: nothing is missing behind `30 lb per 100 sq ft.`"""
    before = [t.name for t in tags[max(0, number - 2) : number]]
    return before[-1:] == ["PER"] or before == ["PER", "NUMBER"]


def _said_before(tags: Sequence[Tag], number: int, name: str) -> bool:
    """Whether a word of one sort stands earlier in the sentence."""
    for tag in reversed(tags[max(0, number - 24) : number]):
        if tag.name == "STOP":
            return False
        if tag.name == name:
            return True
    return False


def _is_counted(tags: Sequence[Tag], number: int) -> bool:
    behind = [t.name for t in tags[number + 1 : number + 3]]
    return behind[:1] == ["NUMBER"] and behind[-1] in _COUNTED


def _is_place(after: Tag | None, label: re.Match[str]) -> bool:
    return after is not None and after.name in ("surface", "room") and after.start < label.end()


def _more_to_come(tags: Sequence[Tag], at: int) -> bool:
    """Whether a figure follows before the sentence is over, and no comma at once."""
    if at < len(tags) and tags[at].name in ("COMMA", "SEMICOLON", "STOP"):
        return False
    for tag in tags[at : at + 12]:
        if tag.name in _FIGURES:
            return True
        if tag.name == "STOP":
            return False
    return False
