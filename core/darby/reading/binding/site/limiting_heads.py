"""Headings that say where what stands below them holds: `FIELD`, `INSIDE CORNERS`, `BASE LAYER`, `FINISH ABOVE CEILINGS`.

A heading may be a title that only names its subject, as `JOINTS AND EDGES` does, and then limits nothing.
"""

from __future__ import annotations

import re

from darby.reading.binding.site.finding import Finding, Site, Tags
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag, is_extent, left_over

_PARTS = ("edge", "field", "end")
"""Parts that every sheet has, beside those that a vocabulary lists: a heading that has other words too is about them."""
_BESIDE = ("where", "layer", "AND", "COMMA", "COLON", "DASH", "STOP", "surface", "room", "ALL", "ONLY", "PER", "SIGN")
_SILENT = frozenset("at in on along over of to the a all for and or only".split())
_WORD = re.compile(r"[^\W\d_]+")
_LED = re.compile(r"\b(?:at|in|along|over|around)\s(?:the\s|all\s)?$", re.IGNORECASE)


def limits_below(tag: Tag, text: str, tags: Tags, lexicon: Lexicon) -> bool:
    """Whether a place on the work limits what its heading stands over: it is all that the heading says, a word leads to it, or not
    every sheet has such a place."""
    if is_extent(tag) or (tag.value not in _PARTS and tag.value not in lexicon.implied_where):
        return True
    return _bare(text, tags) or _LED.search(text, 0, tag.start) is not None


def passed_below(tag: Tag, how: str, tags: Tags, out: Finding, site: Site) -> bool:
    """Whether such a place limits a finding too: other goods below `JOINTS` may go on more than those. `how` is what a rule says of the
    heading that it was found by.
    """
    of = site.lexicon.implied_where.get(tag.value)
    own = of is None or not site.can(of, out.kind) or any(w.value == of for w in out.subjects)
    return own and limits_below(tag, how.partition(": ")[2], tags, site.lexicon)


def parts_work(text: str, tags: Tags, lexicon: Lexicon) -> bool:
    """Whether a heading is one of several that part the work, and no title over all of it: `FIELD`, `FACE LAYER`, `WITH ADHESIVE`."""
    limiting = [t for t in tags if t.name == "where" and limits_below(t, text, tags, lexicon)]
    named = {"layer", "method"} & {t.name for t in tags}
    return bool(limiting) or (bool(named) and _bare(text, tags, "method", *(("subject",) if "method" in named else ())))


def _bare(text: str, tags: Tags, *also: str) -> bool:
    """Whether nothing but places on the work and layers stands in a heading."""
    if any(t.name not in (*_BESIDE, *also) for t in tags):
        return False
    return all(word.lower() in _SILENT for said in left_over(tags, text) for word in _WORD.findall(said))
