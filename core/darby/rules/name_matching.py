"""Names of places as people write them: whether the one that a rule speaks of is the one that was asked about."""

from __future__ import annotations

import re
from functools import lru_cache


def plain(text: str) -> str:
    """A name as names are compared."""
    return " ".join(_words(text)) if text else ""


WIDE = {"woodwork": frozenset({"door", "trim"})}
"""Kinds of surface that documents speak of and a job has in parts: what is said of the whole holds for each, and what is said of one is narrower."""


SORT = "type"
"""The key of a sort of goods. What is said of one sort holds for goods that are of two at once, unless more is said of these."""
SET = " + "
"""Between the sorts of goods that are of several at once."""


OR = " or "
"""Between values of a scope of which any one will do."""
_ANY = ("thick",)
"""Keys of which a rule may have several values."""


@lru_cache(4096)
def meets(key: str, said: str, asked: str) -> bool:
    """Whether a scope value that a rule has is met by the one asked about, ignoring case."""
    if key == "surface" and said in WIDE:
        return asked == said or asked in WIDE[said]
    if key in _ANY and OR in said:
        return plain(asked) in map(plain, said.split(OR))
    if key == SORT and SET in asked:
        return {plain(one) for one in said.split(SET)} <= {plain(one) for one in asked.split(SET)}
    return in_room(said, asked) if key == "room" else plain(said) == plain(asked)


def in_room(said: str, room: str) -> bool:
    """Whether a room of the job is one of those a rule speaks of: "bath" and "bathrooms" mean "Bathroom 2".

    Every word said must be one of the room's, in singular or plural, whole: a kitchenette is no kitchen. A number must be the
    same number. `room` and `way` say nothing beside another word, apart or grown together (`bathroom`, `hallway`).
    """
    wanted = stems(said)
    have = {*stems(room), *words_of(room)}
    return bool(wanted) and set(wanted) <= have


@lru_cache(32_768)  # of a large job every room, and every rule that speaks of one
def stems(name: str) -> tuple[str, ...]:
    """The words of a place's name as they are compared."""
    words = [_stem(_singular(w)) for w in _words(name) if w[0].isalnum()]
    return tuple(w for w in words if w not in _SILENT) or tuple(words)


def words_of(room: str) -> tuple[str, ...]:
    """The words of a room's name that say nothing beside others, and are all that is left of a name made of them."""
    return tuple(w for w in map(_singular, _words(room)) if w in _SILENT)


_SILENT = ("room", "rm")
_GROWN = ("room", "way")
_SHORTEST = 3
"""Letters that are left of a word without its `room`, at least."""


def _stem(word: str) -> str:
    for end in _GROWN:
        if word.endswith(end) and len(word) >= len(end) + _SHORTEST:
            return word[: -len(end)]
    return word


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
