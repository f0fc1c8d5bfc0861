"""Looks told place by place behind what is counted once: `two coats: eggshell on walls, flat on ceilings`, `(walls eggshell, ceilings flat)`.

The amounts hold in all of these places, whatever the look there; each look is a choice of its own. Looks in a list before an amount each
have it: `satin and flat 10 m2 per litre`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from attrs import field, frozen

from darby.reading.binding.places import Pair, chains, pairs
from darby.reading.binding.site.finding import Finding, Site, Word
from darby.reading.parsing.phrases import LOOKS
from darby.reading.parsing.sentence import Sentence
from darby.reading.parsing.tagging.tag import ENDS, Tag
from darby.rules.found_by import FoundBy

_PLACES = ("surface", "room")
_BETWEEN = (
    "COMMA",
    "AND",
    "SEMICOLON",
    "COLON",
    "OPEN",
    "CLOSE",
    "DASH",
    "OF",
    "ALL",
    "ELSEWHERE",
    "EVERYWHERE",
    "BOTH",
    "COLOR_WORD",
    "NEUTRAL",
    "ITS",
)
_ALL_OVER = ("ELSEWHERE", "EVERYWHERE")
"""`flat generally and satin in the baths`: what is said of no place holds in all others."""
_OPENED = ("COMMA", "COLON", "SEMICOLON", "OPEN", "DASH")
_RATES = ("coats", "coverage", "consumption", "film", "solids")


@frozen
class Shared:
    """Where a sentence's amounts hold: the places of all its looks together."""

    of: str
    """Of what the looks are."""
    places: Sequence[Pair] = field(factory=tuple)
    """Empty where they hold everywhere."""


def shared_by_looks(sentence: Sentence, chosen: Callable[[Tag], str]) -> Shared | None:
    """What a sentence says so at its end, behind its last fact; None where it does not. The words are taken out of the sentence."""
    over = max((f.over for p in sentence.phrases for f in p.facts), default=-1)
    if over < 0:
        return None
    behind = [t for t in sentence.tags if t.start >= over]
    opened = next((n for n, t in enumerate(behind) if t.name in _OPENED), len(behind))
    region = behind[opened:]
    key = next((t.name for t in region if t.name in LOOKS), "")
    if {key, "surface"} <= {t.name for t in behind[:opened]}:
        return None  # `two coats eggshell on walls, doors gloss, ceilings flat`: the count has a look and a place of its own
    looks = [t for t in region if t.name == key]
    of = next(filter(None, map(chosen, looks)), "")
    allowed = (key, *_PLACES, *_BETWEEN)
    told = (t.name in allowed or (t.name == "subject" and t.value == of) for t in region)
    if len({t.value for t in looks}) < 2 or not of or not all(told) or not _in_turn(region, key):
        return None
    gone = {id(t) for t in region}
    sentence.tags = [t for t in sentence.tags if id(t) not in gone]
    for part in sentence.parts:
        part.tail = [t for t in part.tail if id(t) not in gone]
        for phrase in part.phrases:
            phrase.tags = [t for t in phrase.tags if id(t) not in gone]
    if any(t.name in _ALL_OVER for t in region):
        return Shared(of)
    return Shared(of, list(dict.fromkeys(pair for chain in chains(region) for pair in pairs(chain))))


def listed_looks(out: Finding, site: Site) -> list[str]:
    """The looks that stand in a list before an amount, which is that of each; nothing where there are no two."""
    led = [t for t in site.sentence.tags if t.start < out.fact.place]
    since = max((n + 1 for n, t in enumerate(led) if t.name in ENDS), default=0)
    names = [t.name for t in led[since:]]
    if names.count(_LOOK) < _SEVERAL:
        return []
    first, last = names.index(_LOOK), len(names) - 1 - names[::-1].index(_LOOK)
    listed, behind = names[first : last + 1], names[last + 1 :]
    together = "AND" in listed and all(name in (_LOOK, "AND", "COMMA") for name in listed)
    if not together or any(name in (*_PLACES, "NUMBER", "COMMA", "AND") for name in behind):
        return []
    return list(dict.fromkeys(t.value for t in led[since + first : since + last + 1] if t.name == _LOOK))


_LOOK = LOOKS[0]
_SEVERAL = 2


def _in_turn(region: Sequence[Tag], key: str) -> bool:
    """Whether looks and places stand in turn, each look with a place of its own."""
    said = "".join("L" if t.name == key else "P" for t in region if t.name in (key, *_ALL_OVER, *_PLACES))
    runs = [run for n, run in enumerate(said) if n == 0 or said[n - 1] != run]
    return len(runs) > 2 and len(runs) % 2 == 0 and "LL" not in said


def put_in_places(finding: Finding, shared: Shared) -> None:
    """Give a finding of the product the places of all looks; what it says of its own place or surface stays."""
    if finding.kind not in _RATES or all(w.value != shared.of for w in finding.subjects) or not shared.places:
        return
    own = list(finding.places) or [("", None)]
    finding.places = list(
        dict.fromkeys(
            (room or held, Word(surface, FoundBy.TAIL) if surface else on)
            for held, on in own
            for room, surface in shared.places
        )
    )
