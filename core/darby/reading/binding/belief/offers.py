"""Sizes on offer: what there is to choose from, and nobody has chosen (`available in thicknesses of 1/2 and 5/8 in.`)."""

from __future__ import annotations

from collections.abc import Iterable

from darby.reading.binding.site.finding import Finding, Site
from darby.reading.parsing.tagging.tag import Tag

_SIZES = ("", "thickness", "sheet", "sizes", "wide", "long")
_OVER = ("lead-in", "line", "column", "key")
ON_OFFER = "?sizes on offer: none is chosen"


def on_offer(out: Finding, site: Site) -> bool:
    """Whether a size stands behind words that offer it."""
    fact = out.fact
    if fact.kind not in _SIZES or fact.per is not None:
        return False
    near = [*site.label, *site.words_before(fact)]
    over = [t for a in site.context.all if a.role in _OVER for t in a.tags]
    led = [t for a in site.context.above[:1] if a.role == "lead-in" for t in a.tags]
    if any(t.name == "OFFER" for t in (*near, *over)) or _of_several(led):
        return True
    # `comes in 4 x 12 ft sheets` is what is wanted; with a second size it is what there is
    alike = sum(f.kind == fact.kind and bool(f.kind) for p in site.sentence.phrases for f in p.facts)
    return alike > 1 and _of_several(near)


def _of_several(tags: Iterable[Tag]) -> bool:
    return any(("offer", "several") in t.also for t in tags)
