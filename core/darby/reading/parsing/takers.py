"""Nouns that take a number away: `24 x 36 in. whiteboard` is of the whiteboard, whatever the heading speaks of.

No list of other trades' goods keeps up, so none is needed: a noun right before or behind a number that no vocabulary knows is what the
number is of. It wins over whatever would be guessed from far away; a product named beside the number wins over it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from attrs import evolve

from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.naming.strange_goods import NO_NOUN, NOUN_REACH
from darby.reading.parsing.tagging.tag import Tag

_KINDS = (
    "",
    "coats",
    "layers",
    "sheet",
    "sizes",
    "thickness",
    "wide",
    "long",
    "spacing",
    "film",
    "package",
    "finish level",
)
_SIZED = ("", "sheet", "sizes", "thickness", "wide")
_HEADS = ("subject", "sheen", "type", "COAT", "LAYER", "surface", "ASIDE", "hint", "THICK", "LONG", "WIDE")
"""What, right behind words that nobody knows, is the noun that they belong to."""
_RUN = re.compile(
    r"[ \u00a0]{0,2}(?:(?:the|an?|of)\b[ \u00a0]{0,2}){0,2}((?:[A-Za-z][A-Za-z'’-]{0,30}[ \u00a0]{0,2}){1,6})"
)
_LAST = re.compile(r"([A-Za-z][A-Za-z'’-]{1,30})[ \u00a0]{0,2}(?:\(|[ \u00a0])?\Z")
_STARTS = ("STOP", "COLON", "SEMICOLON", "BREAK")


def with_takers(facts: Sequence[Fact], tags: Sequence[Tag], text: str, known: Callable[[str], bool]) -> list[Fact]:
    """The facts, each with the noun beside it that nobody knows, where there is one."""
    return [_taken(fact, tags, text, known) if _may(fact) else fact for fact in facts]


def _may(fact: Fact) -> bool:
    return not fact.why and fact.per is None and fact.kind in _KINDS


def _taken(fact: Fact, tags: Sequence[Tag], text: str, known: Callable[[str], bool]) -> Fact:
    noun = _behind(fact, tags, text, known) or _before(fact, tags, text, known)
    return evolve(fact, taker=noun) if noun else fact


def _behind(fact: Fact, tags: Sequence[Tag], text: str, known: Callable[[str], bool]) -> str:
    """The noun right behind a fact: `2 coats of limewash`."""
    end = fact.end
    if end < len(tags) and tags[end].name == "OF" and tags[end].start - fact.over <= 1:
        end += 1
    if end < len(tags) and tags[end].name == "surface" and tags[end].start - tags[end - 1].end <= 1:
        end += 1  # `coats of floor polish`
    over = tags[end - 1].end
    stop = tags[end].start if end < len(tags) else len(text)
    run = _RUN.match(text, over, stop)
    if run is None:
        return ""
    words: list[str] = []
    at = run.start(1)
    for word in re.finditer(r"\S+", run[1]):
        if known(word[0].lower()) or NO_NOUN.match(word[0]):
            break
        words.append(word[0])
        at = run.start(1) + word.end()
    heads = end < len(tags) and tags[end].start - at <= 1 and tags[end].name in _HEADS
    return "" if not words or heads else words[-1]


def _before(fact: Fact, tags: Sequence[Tag], text: str, known: Callable[[str], bool]) -> str:
    """The noun right before a fact: `Pinboard 4 ft x 8 ft`. A word that opens a sentence may be a verb: only a size is taken by it."""
    last = tags[fact.start - 1] if fact.start else None
    low = max(last.end if last is not None else 0, fact.place - NOUN_REACH)
    noun = _LAST.search(text, low, fact.place)
    if noun is None or known(noun[1].lower()) or NO_NOUN.match(noun[1]):
        return ""
    opens = not text[low : noun.start()].strip() and (last is None or last.name in _STARTS)
    return noun[1] if fact.kind in _SIZED or not opens else ""
