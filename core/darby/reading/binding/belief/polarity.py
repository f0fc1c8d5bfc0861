"""Whether what a clause stands under lets it stand: a lead-in or label that forbids, limits or makes it depend on something.

What a sentence says of itself is looked at where it is bound; this is what passes down a list to every member of it, whatever the
member says: `Do not apply the following:`, `If the architect so directs:`, `Walls over 12 ft high:`.
"""

from __future__ import annotations

from darby.reading.binding.site.conditions import limits_sizes
from darby.reading.binding.site.finding import Finding, Site, Tags, named

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
