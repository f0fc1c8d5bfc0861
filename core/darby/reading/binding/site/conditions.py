"""Whether a fact holds under a condition alone: `where a flat finish is shown, ..`, `Walls over 12 ft: ..`."""

from __future__ import annotations

from itertools import pairwise

from darby.reading.binding.site.finding import LIMITS, Site, Tags, named, relative
from darby.reading.parsing.sentence import Phrase

_SIZED = ("LARGER_THAN", "SMALLER_THAN", *LIMITS)
_COUNTS = ("NUMBER", "A_COAT", "A_LAYER")


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
        received = tag.value == "receive" and n + 1 < len(words) and words[n + 1].name in _COUNTS
        if tag.name == "CONDITION" and (received or relative(words, n)):
            of_others.add(id(tag))
    return any(id(t) not in of_others for t in conditions)


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
