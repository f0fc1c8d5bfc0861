"""Places on the work that mean another for some kinds of fact: what is so far apart at joints is so along the edges that meet there."""

from __future__ import annotations

from attrs import evolve

from darby.reading.binding.site.finding import Finding, Site
from darby.reading.parsing.tagging.tag import Tag

_BESIDE = ("SPACED", "ON_CENTER", "ALL", "OPEN", "ABOUT", "AT_MOST", "AT_LEAST", "BOTH", "FOR")
_AHEAD = (*_BESIDE, "COLON", "DASH", "SHALL_BE", "HOLDS", "subject")


def as_meant(tag: Tag, out: Finding, site: Site, *, own: bool) -> Tag:
    """A place with what it means for a finding (`[instead]` of a vocabulary), where it is said of its number: right beside that in its own
    sentence (`own`), or as what it stands under. `Panels 12 in. apart and joints filled` says nothing of the number.
    """
    meant = site.lexicon.places_instead.get(f"{tag.value} / {out.kind}")
    if meant is None or (own and not _beside(tag, out, site)):
        return tag
    return evolve(tag, value=meant)


def _beside(tag: Tag, out: Finding, site: Site) -> bool:
    words = site.sentence.tags
    if tag.start >= out.fact.over:
        return all(t.name in _BESIDE for t in words if out.fact.over <= t.start and t.end <= tag.start)
    between = [t.name for t in words if tag.end <= t.start and t.end <= out.fact.place]
    opens = not any(site.part.start <= t.start and t.end <= tag.start for t in words)
    return all(name in _AHEAD or (opens and name == "COMMA") for name in between)
