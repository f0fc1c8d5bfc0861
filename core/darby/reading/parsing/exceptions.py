"""Exceptions among words: the places that `except`, or `behind`, takes out of what a line is about."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

from attrs import evolve

from darby.reading.parsing.tagging.phrase_index import any_phrase
from darby.reading.parsing.tagging.tag import Tag, put
from darby.reading.parsing.vocabulary import Vocabulary, strings

_PLACES = ("surface", "room", "where")
_NAMED = (*_PLACES, "subject", "type", "sheen", "ROOM_HEAD", "EVERYWHERE")
ALL_BUT = "all"
"""What an exception says that names what it is one of: `everywhere but`."""
_BETWEEN = (*_PLACES, "AND", "EITHER", "THOSE", "OF", "ALL", "BOTH", "ITS", "condition")
"""What an exception goes on with: `other than those of the hall and its doors`."""


def with_exceptions(tags: Sequence[Tag], text: str = "", vocabularies: tuple[Vocabulary, ...] = ()) -> list[Tag]:
    """The tags with every exception before what it takes out: `.., ceilings excepted` is `.., except ceilings`. Behind the label
    `Exclusions:` of a sentence all is left out."""
    labels = [(m.span(), left_out(m[0], vocabularies, whole=True)) for m in _LABEL.finditer(text)]
    heads = [evolve(tag, start=start, end=end) for (start, end), found in labels for tag in found]
    out: list[Tag] = []
    for tag in put(heads, tags) if heads else tags:
        if tag.name != "EXCEPTED":
            out.append(tag)
            continue
        first = len(out)
        while first and out[first - 1].name in (*_PLACES, "AND"):
            first -= 1
        if any(t.name in _PLACES for t in out[first:]):
            out.insert(first, Tag(out[first].start, out[first].start, "EXCEPT"))
        else:
            out.append(Tag(tag.start, tag.end, "ASK", _LOST))
    return out


_LABEL = re.compile(r"(?:\A|(?<=[.;]\s))[^\s.:;][^.:;]{2,79}(?=:)")
"""What stands before the first colon of a sentence."""

_NOT = ("INSTEAD_OF", "not")
_SPOTS = ("surface", "room", "ROOM_HEAD")
_JOINS = ("COMMA", "OPEN", "DASH", "ONLY")
"""What may stand between a place and the word that takes another out: `walls, not ceilings`, `walls (not ceilings)`."""
_FEW = 3


def with_not_there(tags: Sequence[Tag]) -> list[Tag]:
    """The tags with an exception for each `not` behind one place and right before another: `walls, not ceilings`."""
    out: list[Tag] = []
    for n, tag in enumerate(tags):
        led = None
        if (tag.name, tag.value) == _NOT and n + 1 < len(tags) and tags[n + 1].name in _SPOTS:
            led = next((t for t in reversed(out[-_FEW:]) if t.name not in _JOINS), None)
        out.append(Tag(tag.start, tag.end, "EXCEPT") if led is not None and led.name in _SPOTS else tag)
    return out


_THEIRS = "??named as the work of a trade: whether it is ours is not said"


def with_parties(tags: Sequence[Tag], text: str, vocabularies: tuple[Vocabulary, ...]) -> list[Tag]:
    """The tags with one where somebody is named who does what is not ours: `by the cold store contractor`. Words of a trade of ours among
    his name make him none."""
    new = []
    for match in _parties(vocabularies).finditer(text) if "by " in text.lower() else ():
        said, spans = match["name"].lower(), [t for t in tags if match.start() < t.start < match.end()]
        ours = any(t.name in ("subject", "NUMBER", "COAT", "LAYER") for t in spans)
        if not (ours or _ours(vocabularies).search(said)) and not any(t.name == "ASIDE_ALL" for t in spans):
            new.append(Tag(match.start(), match.end(), "ASIDE_ALL", _THEIRS))
    return put(new, tags) if new else list(tags)


@lru_cache(8)
def _parties(vocabularies: tuple[Vocabulary, ...]) -> re.Pattern[str]:
    nouns = any_phrase(w for v in vocabularies for w in strings(v.tables.get("parties", {}).get("nouns")))
    return re.compile(
        rf"\bby\s(?P<name>(?:the\s|an?\s)(?:[a-z][a-z'’&/-]{{1,20}}\s){{0,4}}(?:{nouns}))(?![\w'’-])", re.I
    )


@lru_cache(8)
def _ours(vocabularies: tuple[Vocabulary, ...]) -> re.Pattern[str]:
    words = [w for v in vocabularies for w in strings(v.tables.get("parties", {}).get("ours"))]
    whole = [w for w in words if w.endswith("contractor")]
    inside = any_phrase(w for w in words if w not in whole)
    return re.compile(rf"\b(?:{inside})\b|\A(?:{any_phrase(whole)})\Z")


_LOST = "an exception behind what it is one of: see which of the two holds"


def opens_with_exception(tags: Sequence[Tag]) -> bool:
    """Whether a sentence begins with places that are excepted, and a comma closes them: `Except in baths, two coats`. Behind a colon
    something is said of these places themselves."""
    if not tags or tags[0].name != "EXCEPT":
        return False
    at = next((n for n, t in enumerate(tags) if n and t.name not in _BETWEEN), len(tags))
    closes = ("COMMA", "COLON") if tags[0].value == ALL_BUT else ("COMMA",)
    return at < len(tags) and tags[at].name in closes and any(t.name in _PLACES for t in tags[:at])


def unexcepted(tags: Sequence[Tag], opening: Tag | None = None) -> list[Tag]:
    """Words without the places that an exception among them takes out: what is said holds everywhere but there.

    `Walls, except in baths: two coats` is not said of baths; `except in baths: one coat` by itself is. `opening` is an exception
    that begins the sentence and takes its places out all the same.
    """
    kept: list[Tag] = []
    out = False
    for tag in tags:
        if tag.name == "PLACE_BEHIND" or (
            tag.name == "EXCEPT" and (tag is opening or any(t.name in _NAMED for t in kept))
        ):
            out = True  # `the wall behind the base cabinets` is said of no base
        elif tag.name not in _BETWEEN:
            out = False
        if not out:
            kept.append(tag)
    return kept


_LEFT_OUT = "?among what is left out: it counts only if somebody puts it in"
_OPTION = "?an alternate: it counts only if it is taken"
_LONGEST = 80
"""Letters in a heading over what is left out."""


@lru_cache(8)
def _headings(vocabularies: tuple[Vocabulary, ...]) -> Mapping[str, re.Pattern[str]]:
    """What the headings over what is left out say, alone or among other words, what only looks so, and what is over options."""
    tables = [v.tables.get("left_out", {}) for v in vocabularies]
    words = {
        key: tuple(w for t in tables for w in strings(t.get(key))) for key in ("headings", "alone", "not", "options")
    }
    return {k: re.compile(rf"(?<![\w-])(?:{any_phrase(some)})(?![\w-])", re.I) for k, some in words.items() if some}


def left_out(heading: str, vocabularies: tuple[Vocabulary, ...], *, whole: bool = False) -> list[Tag]:
    """What a heading says of all below it where it stands over what is left out of the work or over options: `EXCLUSIONS`, `FUTURE WORK`,
    `Not included in our price`; `whole` where it has to end so: `Our price excludes: ..`."""
    said, found = heading.strip(" \t.:-–—*"), _headings(vocabularies)
    if len(heading) > _LONGEST:
        return []

    def says(key: str) -> list[tuple[int, int]]:
        return [m.span() for m in found[key].finditer(said)] if key in found else []

    if (0, len(said)) in says("options"):
        return [Tag(0, len(heading), "ASIDE_ALL", _OPTION)]
    ends = [end for _, end in says("headings") if end == len(said) or not whole]
    left = ends or (0, len(said)) in says("alone")
    return [Tag(0, len(heading), "ASIDE_ALL", _LEFT_OUT)] if left and not says("not") else []
