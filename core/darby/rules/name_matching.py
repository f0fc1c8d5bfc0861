"""Names of places as people write them: whether the one that a rule speaks of is the one that was asked about."""

from __future__ import annotations

import re
from functools import lru_cache


def plain(text: str) -> str:
    """A name as names are compared."""
    return " ".join(_words(text)) if text else ""


@lru_cache(4096)
def meets(key: str, said: str, asked: str) -> bool:
    """Whether a scope value that a rule has is met by the one asked about, ignoring case."""
    return in_room(said, asked) if key == "room" else plain(said) == plain(asked)


def in_room(said: str, room: str) -> bool:
    """Whether a room of the job is one of those a rule speaks of: "bath" and "bathrooms" mean "Bathroom 2".

    Every word said must be one of the room's, in singular or plural, or start or be the start of it from four letters
    on; a number must be the same number. The word "room" itself says nothing beside others.
    """
    wanted, have = ([_singular(w) for w in _words(text) if w[0].isalnum()] for text in (said, room))
    wanted = [w for w in wanted if w != "room"] or wanted
    return bool(wanted) and all(any(_alike(w, h) for h in have) for w in wanted)


def _alike(one: str, other: str) -> bool:
    if one == other:
        return True
    short, long = sorted((one, other), key=len)
    return len(short) >= 4 and short.isalpha() and long.startswith(short)


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+(?:[./][^\W_]+)*|[^\w\s]", text.casefold())


def _singular(word: str) -> str:
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ses", "xes", "ches", "shes")):
        return word[:-2]
    if word.endswith(("se", "xe", "che", "she")) and len(word) > 3:
        return word[:-1]  # as of "cases", which might be of a "cas"
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word
