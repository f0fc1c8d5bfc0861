"""Whether a level is a floor of the building, or how well something is finished: both are called `Level 3`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.tagging.tag import ENDS, Tag, begun_by

_OF_FINISH = re.compile(r"\bfinish", re.IGNORECASE)
_NEAR = 12
"""Letters around a level among which such a word is of it."""
_LED = re.compile(r"\b(?:on|at|throughout)\s+(?:the\s+)?\Z", re.IGNORECASE)
_FOR = re.compile(r"\b(?:for|on|at)\s(?:the\s)?\Z", re.IGNORECASE)
_REACH = 40
"""Letters before a level within which the size of a sheet stands that is for it."""
_TO = re.compile(r"\sto\s(?:the\s)?\Z", re.IGNORECASE)
_WORD = re.compile(r"[A-Za-z]+")
_SEVERAL = re.compile(r"\s?[:–—]|\s-\s")
_SAYS = ("COLON", "SHALL_BE", "HOLDS")
_STATED = ("NUMBER", "A_COAT", "A_LAYER", "mark")
_BESIDE = 3
"""Letters between a room and the storey that it is on."""
_FAR = 12
"""Tags behind a level among which what is said of it begins."""


def is_storey(match: re.Match[str], members: int, tags: Sequence[Tag], names: Names) -> bool:
    """Whether a level, or so many that are listed, is where something is: `Level 2 corridors`, `on Level 2`, `Levels 2 and 3: ..`,
    `Deliver .. to Level 3`, `Level 1 ceilings shall be 13 mm`, `Level 3 walls: two ..`."""
    text, before = match.string, max(0, match.start() - _NEAR)
    n = begun_by(tags, match.end())
    behind = tags[n : n + _FAR]
    if any(t.name == "room" and t.start == match.end() + 1 for t in behind) or _LED.search(text, before, match.start()):
        return True
    if _OF_FINISH.search(text, before, match.end() + _NEAR):
        return False
    ahead = tags[: begun_by(tags, match.start())][-2:]
    beside_room = [t.name for t in ahead] == ["room", "COMMA"] and match.start() - ahead[0].end <= _BESIDE
    if beside_room and [t.name for t in behind] == ["COLON"]:
        return True  # `Foyer, level 1:`
    led = _FOR.search(text, before, match.start()) is not None
    if led and any(t.name == "BY_X" for t in tags[begun_by(tags, match.start() - _REACH) : n]):
        return True  # `1200 x 2700 for level 2`: no size is for a finish
    beside = bool(behind) and behind[0].name == "surface" and behind[0].start == match.end() + 1
    if members > 1:
        return beside or _SEVERAL.match(text, match.end()) is not None
    begins = next((t.end for t in reversed(tags[:n]) if t.name in ENDS and t.end <= match.start()), 0)
    if _TO.search(text, max(begins, before), match.start()):
        return any(word.lower() in names.carrying for word in _WORD.findall(text, begins, match.start()))
    opens = not text[begins : match.start()].strip(" -•*")
    return opens and beside and _told(behind)


def _told(behind: Sequence[Tag]) -> bool:
    """Whether surfaces are what the words behind them speak of, and these state something."""
    names = [t.name for t in behind]
    places = next((n for n, name in enumerate(names) if name not in ("surface", "AND", "COMMA")), len(names))
    said = names[places + 1 :]
    said = said[: next((n for n, name in enumerate(said) if name in ENDS), len(said))]
    return names[places : places + 1] != [] and names[places] in _SAYS and any(name in _STATED for name in said)
