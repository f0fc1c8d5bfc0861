"""Whether a fact holds under a condition alone (`where a flat finish is shown, ..`, `Walls over 12 ft: ..`), and the bounds that a label
or lead-in gives."""

from __future__ import annotations

from itertools import pairwise, takewhile

from darby.reading.binding.site.finding import LIMITS, Finding, Site, Tags, named, relative
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.sentence import Phrase
from darby.reading.parsing.tagging.tag import within
from darby.rules.found_by import FoundBy

RATES = ("coverage", "consumption")
GOODS = ("package", "solids", *RATES, "film")
"""What is said of goods wherever they go: a room in their name limits nothing."""

_SIZED = ("LARGER_THAN", "SMALLER_THAN", *LIMITS)
_COUNTS = ("NUMBER", "A_COAT", "A_LAYER", "LEVEL", "OPEN")


def is_open(tags: Tags) -> bool:
    """Whether a condition stands among some words: `walls to receive two layers` states none, what is received is counted."""
    return any(t.name == "CONDITION" and not _received(tags, n) for n, t in enumerate(tags))


def _received(tags: Tags, at: int) -> bool:
    return tags[at].value == "receive" and _is_said(tags[at + 1 :])


def is_conditional(phrase: Phrase) -> bool:
    """Whether a condition holds for a phrase: one in it or around it, but not what follows another phrase's own fact."""
    part = phrase.part
    around = (*part.label, *(t for p in part.phrases for t in p.tags), *part.tail)
    conditions = named(around, "CONDITION")
    if not conditions:
        return False
    here = phrase.facts[0].place if phrase.facts else 0
    of_others = {
        id(t) for p in part.phrases for t in p.tags
        if p is not phrase and p.facts and (t.start > p.facts[0].place or p.facts[0].place > here)
    }  # fmt: skip
    words = part.sentence.tags
    for n, tag in enumerate(words):
        if tag.name == "CONDITION" and (_received(words, n) or relative(words, n)):
            of_others.add(id(tag))
    return any(id(t) not in of_others for t in conditions)


def _is_said(behind: Tags) -> bool:
    """Whether what is received is what a sentence says, and no condition for something else: `to receive two coats`, `to receive eggshell.`"""
    again = any((t.name, t.value) == ("CONDITION", "receive") for t in behind)  # the next place and what it receives
    ends = ("STOP", "SEMICOLON", *(("COMMA",) if again else ()))
    rest = [t.name for t in takewhile(lambda t: t.name not in ends, behind)]
    return rest[:1] != [] and (rest[0] in _COUNTS or not any(name in _SAYS_MORE for name in rest))


_SAYS_MORE = ("COLON", "COMMA", "SHALL_BE", "HOLDS", *_COUNTS)
"""Words behind which something is said of what is received."""


LIMITED_BY_WORK = ("finish level", "fastener length")
"""Kinds that a condition about layers or a finish puts in a place, and makes of no doubt."""


def of_which_work(site: Site) -> bool:
    """Whether a condition names layers or a finish: `wherever a flat finish is shown`, `where single layer` says on which work."""
    tags = site.part_tags
    at = next((n for n, t in enumerate(tags) if t.name == "CONDITION"), len(tags))
    return any(t.name in ("A_LAYER", "LAYER", "LAYERING", "sheen", "subject") for t in tags[at + 1 : at + 4])


def limits_sizes(label: Tags) -> bool:
    """Whether a label says for what sizes its part holds: `Walls over 12 ft: ..`"""
    names = [t.name for t in label]
    return any(one in _SIZED and other in ("NUMBER", "FEET_INCHES") for one, other in pairwise(names))


def is_sized(fact: Fact, site: Site) -> bool:
    """Whether the phrase of a fact or its label is of things of a size alone: `two coats on walls over 12 ft`, `walls 12 ft and over: ..`"""
    own = [*site.phrase.tags, *site.part.tail]
    stretch = within(site.sentence.tags, own[0].start, own[-1].end + _SIZE) if own else ()
    return limits_sizes(site.headed) or _sized(site.headed, fact) or _sized(stretch, fact)


_SIZE = 30
"""Letters of a limit and a length behind the last word of a phrase."""


def _sized(tags: Tags, fact: Fact) -> bool:
    """Whether a limit and a length other than the fact itself stand behind a surface."""
    for n, tag in enumerate(tags):
        first = n + 1 + (n + 1 < len(tags) and tags[n + 1].name in _BEYOND)
        size = _length(tags, first) if tag.name == "surface" else 0
        if not size or fact.place <= tags[first].start < fact.over:
            continue
        behind = [t.name for t in tags[first + size : first + size + 2] if t.name not in ("AND", "EITHER")][:1]
        over = first > n + 1 and not (behind and behind[0] in _OF_GOODS)
        rest = [t.name for t in tags[first + size : first + size + 2]]
        # `walls 3m+: ..`, `walls 3 m and up: ..`
        plus = rest[:1] in (["PLUS"], ["AND"]) and (not rest[1:] or rest[1] in ("COLON", "COMMA", "STOP"))
        if over or plus or (behind and behind[0] in _SIZED):
            return True
    return False


def _length(tags: Tags, at: int) -> int:
    """How many tags from a place on are one length; 0 where none stands there."""
    names = [t.name for t in tags[at : at + 2]]
    return 1 if names[:1] == ["FEET_INCHES"] else 2 * (names == ["NUMBER", "LENGTH_UNIT"])


_BEYOND = ("LARGER_THAN", "SMALLER_THAN")
_OF_GOODS = ("subject", "hint", "THICK", "WIDE", "LONG", "ON_CENTER", "BY_X", "BY")
"""What makes a length behind `over` one of what lies underneath: `walls over 25 mm panels`."""


def inherit_bound(out: Finding, site: Site) -> None:
    """`maximum` in a label, a lead-in or a column's head makes every number under it an upper bound."""
    if out.bound != "exact":
        return
    behind = site.behind(out.fact)
    numbered = len(behind) > 2 and behind[2].name in ("NUMBER", "FEET_INCHES")
    if len(behind) > 1 and behind[0].name == "COMMA" and behind[1].name in LIMITS and not numbered:
        # `450 mm apart, maximum`
        out.bound = LIMITS[behind[1].name]
        return
    last = site.before[-1] if site.before else None
    if last is not None and last.kind == out.kind and last.bound in LIMITS.values():
        between = [t.name for t in site.sentence.tags if last.fact.over <= t.start < out.fact.place]
        if "SEMICOLON" not in between and "AND" in between:
            out.bound = last.bound  # `not more than 12 in. on ceilings and 16 in. on walls`
            return
    if limits_sizes(site.headed):
        return
    for name, tags in ((FoundBy.LABEL, site.label), *((a.name, a.tags) for a in site.context.all if a.role != "row")):
        limit = next((t for t in tags if t.name in LIMITS), None)
        if limit is not None:
            out.bound = LIMITS[limit.name]
            out.how.append(("bound", name))
            return
        if named(tags, "subject") and name != FoundBy.LABEL:
            return
