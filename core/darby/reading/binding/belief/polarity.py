"""Whether what a clause stands under lets it stand: a lead-in or label that forbids, limits or makes it depend on something.

What a sentence says of itself is looked at where it is bound; this is what passes down a list to every member of it, whatever the
member says: `Do not apply the following:`, `If the architect so directs:`, `Walls over 12 ft high:`.
"""

from __future__ import annotations

from collections.abc import Sequence

from darby.reading.binding.site.conditions import limits_sizes
from darby.reading.binding.site.finding import Finding, Site, Tags, named, relative
from darby.reading.parsing.tagging.tag import Tag

_FORBIDDEN = "forbidden: what is not to be used"


def passes(out: Finding, site: Site) -> str:
    """Why a fact is no rule because of what it stands under, or nothing. A limit that passes down goes into its scope."""
    for above in site.context.all:
        if above.role not in ("lead-in", "key"):
            continue
        first = next((t.name for t in above.tags if t.name not in ("STOP", "COMMA")), "")
        if first in ("NO", "NOT_PERMITTED") or (above.role == "lead-in" and named(above.tags, "NOT_PERMITTED")):
            return _FORBIDDEN
        if limits_sizes(above.tags) or sized(above.tags):
            out.scope.setdefault("where", "under a condition")
        elif named(above.tags, "CONDITION") and above.role == "lead-in":
            out.scope.setdefault("condition", "under a condition")
    return ""


def sized(tags: Tags) -> bool:
    """Whether words limit by a height: `walls over 12 ft high`."""
    return any(t.name == "LARGER_THAN" for t in tags) and any(t.name in ("NUMBER", "FEET_INCHES") for t in tags)


_COUNTS = ("NUMBER", "A_COAT", "A_LAYER")


def behind_no(words: Sequence[Tag]) -> bool:
    """Whether what is forbidden is named before `and`, right behind which the fact stands: `no A and one coat B`."""
    at = max(n for n, t in enumerate(words) if t.name == "NO")
    no, own = words[at], words[at + 1 : -1]
    plain = no.end - no.start == len("no") and words[-1].name == "AND"
    return plain and any(t.name == "subject" for t in own) and not any(t.name in _COUNTS for t in own)


def in_condition(words: list[Tag]) -> bool:
    """Whether the last of the words before a fact opens a condition that no comma has closed."""
    open_ = False
    for number, tag in enumerate(words):
        if tag.name == "CONDITION":
            # `walls to receive two coats`: what is received is no condition
            received = number == len(words) - 1 or words[number + 1].name in (*_COUNTS, "OPEN")
            open_ = not relative(words, number) and not (tag.value == "receive" and received)
        elif tag.name in ("COMMA", "COLON", "SEMICOLON", "LEADS_TO"):
            open_ = False
    return open_
