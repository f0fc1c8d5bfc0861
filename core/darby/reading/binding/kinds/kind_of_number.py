"""A bare number: coats, layers, a share of a whole, or what has the unit of its column or of the number before."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve

from darby.quantities.numerals import ORDINALS
from darby.quantities.units import LENGTH, UNITS, Unit
from darby.reading.binding.kinds.bare_counts import counts_label, counts_product, numbers_coats
from darby.reading.binding.kinds.kind_by_words import film, head_rate, hint, in_container
from darby.reading.binding.kinds.kind_of_length import bare_length
from darby.reading.binding.site import finding as found
from darby.reading.binding.site.finding import Finding, Site, named
from darby.reading.parsing.phrases import COUNTED
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy

_ONE = Fraction(1)
_SHARED = ("spacing", "framing", "coats", "coverage", "layers", "finish level")
_ALONE = ("NUMBER", "RANGE", "DASH", "AT_MOST", "AT_LEAST", "ABOUT", "OPEN", "CLOSE", "BY", "BY_X")
"""What a cell holds that is a number and no more."""


def percentage(out: Finding, site: Site) -> None:
    """A bare percentage: waste, or solids, where a word near by or the one before says so."""
    said, last = hint(out, site, ("waste", "solids")), site.last
    if last is not None and last.kind == "waste" and site.distinct and not said:
        own = any(site.can(t.value, last.kind) for t in named(site.phrase.tags, "subject"))
        out.kind, out.subjects = last.kind, [] if own else list(last.subjects)
    elif said:
        out.kind = said
    else:
        out.unread = "a percentage, and nothing says of what"


def bare_number(out: Finding, site: Site) -> None:
    """A number without a unit counts coats or layers where a label says so, or shares the unit of the one before it."""
    assert out.amount is not None
    if head_rate(out, site):
        return
    unit, counted, last = head_unit(site), _counted_by_label(out, site), site.last
    if numbers_coats(out, site):
        out.kind, out.scope["coat"] = "coats", ORDINALS[int(out.amount.low) - 1]
        out.amount = evolve(out.amount, low=_ONE)
    elif counted == "finish level":
        out.kind = counted
    elif counts_product(out, site) or counts_label(out, site):
        out.kind = "coats"
    elif unit is not None:
        out.amount = evolve(out.amount, unit=unit)
        out.fact = evolve(out.fact, amount=out.amount)
        if unit.name in ("mil", "um"):
            out.kind = "film"
            film(out, site)
        elif unit is UNITS["%"]:
            percentage(out, site)
        elif unit.dimension != LENGTH:
            in_container(out, site)
        else:
            bare_length(out, site)
        out.how.append(("unit", FoundBy.COLUMN_UNIT))
    elif counted:
        out.kind = counted
    elif out.amount.low.denominator in (4, 8, 16, 2) and _is_sheet_size(out, site):
        out.kind, out.amount = "thickness", evolve(out.amount, unit=UNITS["in"])
        out.how.append(("unit", FoundBy.ONLY_UNIT))
    elif last is not None and last.kind in _SHARED and last.amount is not None and site.distinct:
        ratio = out.amount.low / last.amount.low if last.amount.low else Fraction(0)
        if not Fraction(1, 3) <= ratio <= 3:
            out.unread = "a number without a unit"
            return
        out.kind, out.amount, out.per = last.kind, evolve(out.amount, unit=last.amount.unit), last.per
        out.how.append(("unit", FoundBy.NUMBER_BEFORE))
        if last.kind in ("spacing", "framing", "layers", "finish level"):
            out.subjects = list(last.subjects)
    elif (counts := _counted_before(out, site)) is not None and counts.amount is not None:
        out.kind, out.amount = counts.kind, evolve(out.amount, unit=counts.amount.unit)
        out.subjects = [found.Word(w.value, FoundBy.SENTENCE_BEFORE) for w in counts.subjects]
        out.how.append(("kind", FoundBy.SENTENCE_BEFORE))
        out.confirm = out.confirm or "a number alone: taken to count what the sentence before it counts"
    else:
        out.unread = "a number without a unit"


def _counted_before(out: Finding, site: Site) -> Finding | None:
    """`Halls get two coats. Attics get three.`: what the sentence before counts, where this one names a place and a small number and no
    more."""
    assert out.amount is not None
    said, behind = site.sentence.tags, site.behind(out.fact)[:1]
    last = site.done[-1] if site.done and site.previous is not None and not site.before else None
    if last is None or not last.stands or last.kind not in COUNTED or out.fact.taker or out.amount.high is not None:
        return None
    placed = any(t.name in ("room", "surface", "ELSEWHERE") for t in (*said, *site.label))
    counts = behind and behind[0].name == "surface" and behind[0].start - out.fact.over <= 1  # `three doors`
    only = all(t.name in _PLACING for t in said) and not counts
    return last if placed and only and out.amount.low in (1, 2, 3, 4) else None


_PLACING = (
    "NUMBER", "room", "surface", "COLON", "COMMA", "SEMICOLON", "AND", "THOSE", "ITS", "ELSEWHERE", "ALL", "BOTH", "DASH", "OF", "HOLDS", "OPEN", "CLOSE", "SIGN", "STOP",
)  # fmt: skip
"""Words of a sentence that only say how many, and where."""


def _is_sheet_size(out: Finding, site: Site) -> bool:
    """`five-eighths on the ceilings`: a fraction that is a thickness in inches, said of a thing that has one."""
    assert out.amount is not None
    nearest = next(site.subjects_near(), "")
    size = out.amount.low * UNITS["in"].factor
    return site.can(nearest, "thickness") and out.amount.low < 1 and size in site.lexicon.sizes("thickness")


def _counted_by_label(out: Finding, site: Site) -> str:
    """`coats` or `layers`, where the label, the key, the column or a heading of that one word says so."""
    heads = [a.tags for a in site.context.heads if a.role != "row"]
    over = [a.tags for a in site.context.above[:1] if not named(a.tags, "NUMBER") and not named(a.tags, "subject")]
    for tags in (site.label, _label_without_colon(out, site), *heads, *over):
        said = [found.hint_of(t) for t in tags if found.hint_of(t)]
        if said:
            return said[-1] if said[-1] in ("coats", "layers", "finish level") else ""
    return ""


def _label_without_colon(out: Finding, site: Site) -> list[Tag]:
    """`Number of coats - 2`, `coats 2 | ..`: what a phrase counts that is such words and one number; `coat 2` says which."""
    cells = [t.start for t in site.phrase.tags if t.name == "CELL"]
    low = max((start for start in cells if start < out.fact.place), default=-1)
    high = min((start for start in cells if start > out.fact.place), default=site.sentence.tags[-1].end)
    said = [t for t in site.phrase.tags if low < t.start < high]
    words = [t for t in said if t.name not in _ALONE]
    one = len(words) == 1 and words[0].end <= out.fact.place and found.hint_of(words[0]) != ""
    alone = one and sum(t.name == "NUMBER" for t in said) == 1 and words[0].end - words[0].start > len("coat")
    return words if alone else []


def head_unit(site: Site) -> Unit | None:
    """A unit in the head of the column, or alone in the caption above, for a cell that is a number and no more."""
    if not site.context.heads:
        return None
    columns = [a.tags for a in site.context.heads if a.role == "column"]
    for tags in columns:
        if named(tags, "CONTAINER") and not named(tags, "PER"):  # `Bag (kg)`
            held = next((t.unit for t in tags if t.name in ("MASS_UNIT", "VOLUME_UNIT") and t.unit is not None), None)
            if held is not None:
                return held
    alone = all(t.name in _ALONE for t in site.phrase.tags)
    above = [a.tags for a in site.context.above[:3]] if alone else []
    for tags in (*columns, *above):
        before = [None, *tags]
        for tag, led in zip(tags, before, strict=False):
            counted = led is not None and led.name == "NUMBER"
            if tag.name in ("LENGTH_UNIT", "THIN_UNIT", "PERCENT") and tag.unit is not None and not counted:
                return tag.unit
    return None
