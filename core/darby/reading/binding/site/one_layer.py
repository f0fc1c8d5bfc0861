"""What is said of one layer beside a count of several: `two layers, the face layer impact resistant`."""

from __future__ import annotations

from darby.reading.binding.site.finding import Finding, Tags, named
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.name_matching import SORT


def of_one_layer(tag: Tag, out: Finding, tags: Tags) -> bool:
    """Whether a layer, or a type beside it, stands behind a comma and a count of several and is of that layer alone: `two layers, the face layer
    impact resistant`.
    """
    counted = any(t.name == "LAYER" and n and tags[n - 1].number not in (None, 1) for n, t in enumerate(tags))
    at = next((n for n, t in enumerate(tags) if t.start == tag.start), len(tags))
    cut = max((n for n, t in enumerate(tags[:at]) if t.name in ("COMMA", "SEMICOLON")), default=0)
    end = next((n for n in range(at, len(tags)) if tags[n].name in ("COMMA", "SEMICOLON")), len(tags))
    own = tags[cut + 1 : end] if cut else ()
    layered = bool(named(own, "layer")) and bool(named(own, SORT)) and not named(own, "NUMBER")
    return counted and layered and out.fact.place < tags[cut].start


def nearest(found: Tags, tags: Tags, here: int) -> Tag:
    """Of the layers that some words name the one that stands nearest to a place; where each stands behind the size of what it is of, `12 mm
    A base layer with 15 mm B face layer`, the next one."""
    sized = any(t.name == "LENGTH_UNIT" and t.start < found[0].start for t in tags)
    behind = [t for t in found if t.start > here]
    return behind[0] if sized and behind else min(found, key=lambda t: abs(t.start - here))
