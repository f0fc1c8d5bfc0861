"""A bare measure: which kind of fact it is, by the sort of thing that is measured and the words around it."""

from __future__ import annotations

from fractions import Fraction

from darby.quantities.units import AREA, CONTAINERS, LENGTH, MASS, UNITS, VOLUME
from darby.reading.binding.kinds.kind_by_words import head_rate, in_container
from darby.reading.binding.kinds.kind_of_length import bare_length
from darby.reading.binding.kinds.kind_of_number import bare_number, percentage
from darby.reading.binding.site.finding import Finding, Site, named
from darby.reading.parsing.fact_parser import Quantity

_ONE = Fraction(1)


def bare(out: Finding, site: Site) -> None:
    """A bare measure: the words around it say what it is, else the sort of thing that is measured."""
    assert out.amount is not None
    unit = out.amount.unit
    if unit.dimension == LENGTH:
        bare_length(out, site)
    elif unit is UNITS["%"]:
        percentage(out, site)
    elif unit is UNITS["each"]:
        bare_number(out, site)
    elif unit.dimension in (VOLUME, MASS):
        _bare_content(out, site)
    elif unit.dimension == AREA:
        out.unread = "an area, and nothing says what for"
    else:
        out.aside = "a number of packages, not what one holds"


def _bare_content(out: Finding, site: Site) -> None:
    """`Cans: base 10 L`, `28 oz each`: a content whose container stands in the label or before it."""
    if head_rate(out, site) or in_container(out, site):
        return
    if named(site.phrase.tags, "EACH"):
        counted = (f for f in reversed(site.done) if f.amount is not None and f.amount.unit.name in CONTAINERS)
        last = next(counted, None)
        if last is not None and last.amount is not None:
            out.kind, out.per, out.subjects = "package", Quantity(_ONE, last.amount.unit), list(last.subjects)
            return
    out.unread = "an amount, and nothing says what for"
