"""A bare measure: which kind of fact it is, by the words around it, else by the sort of thing that is measured."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from attrs import evolve

from darby.quantities.numerals import ORDINALS
from darby.quantities.units import AREA, CONTAINERS, LENGTH, MASS, UNITS, VOLUME, Unit
from darby.reading.binding.kinds.bare_counts import counts_label, counts_product, numbers_coats
from darby.reading.binding.kinds.kind_by_words import NEXT, WORD_BETWEEN, film, in_container, long, spacing, wide
from darby.reading.binding.site import finding as found
from darby.reading.binding.site.finding import Finding, Site, Word, named
from darby.reading.parsing.fact_parser import Quantity
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy

_ONE = Fraction(1)
_SHARED = ("spacing", "framing", "coats", "coverage", "layers", "finish level")
_ALONE = ("NUMBER", "RANGE", "DASH", "AT_MOST", "AT_LEAST", "ABOUT", "OPEN", "CLOSE", "BY", "BY_X")
"""What a cell holds that is a number and no more."""


def bare(out: Finding, site: Site) -> None:
    """A bare measure: the words around it say what it is, else the sort of thing that is measured."""
    assert out.amount is not None
    unit = out.amount.unit
    if unit.dimension == LENGTH:
        _bare_length(out, site, _hint(out, site))
    elif unit is UNITS["%"]:
        hint, last = _hint(out, site, ("waste", "solids")), site.last
        if last is not None and last.kind == "waste" and site.distinct and not hint:
            own = any(site.can(t.value, last.kind) for t in named(site.phrase.tags, "subject"))
            out.kind, out.subjects = last.kind, [] if own else list(last.subjects)
        elif hint:
            out.kind = hint
        else:
            out.unread = "a percentage, and nothing says of what"
    elif unit is UNITS["each"]:
        _bare_number(out, site)
    elif unit.dimension in (VOLUME, MASS):
        _bare_content(out, site)
    elif unit.dimension == AREA:
        out.unread = "an area, and nothing says what for"
    else:
        out.aside = "a number of packages, not what one holds"


def _hint(out: Finding, site: Site, among: Sequence[str] = ()) -> str:
    """The kind that the words around a bare measure speak of, the nearest first; with `among`, one of those only."""

    def hint_of(tag: Tag) -> str:
        said = found.hint_of(tag)
        return said if not among or said in among else ""

    next_ = min((f.place for f in site.phrase.facts if f.place > out.fact.place), default=None)

    def of_next(tag: Tag) -> bool:
        """`panels of 5/8 in., panels shall be 54 in. wide`: such a word stands behind its own number."""
        return tag.name in ("WIDE", "LONG") and next_ is not None and tag.start > next_

    own = [t for t in site.phrase.tags if hint_of(t) and not of_next(t)]
    if own:
        return hint_of(min(own, key=lambda t: abs(t.start - out.fact.place)))
    heads = (a.tags for a in site.context.all if a.role != "row")
    for tags in (site.label, *heads):
        for tag in reversed(tags):
            if hint_of(tag):
                return hint_of(tag)
    return ""


def _bare_length(out: Finding, site: Site, hint: str) -> None:
    quantity, last = out.amount, site.last
    assert quantity is not None
    if _head_rate(out, site) or _own_length(out, site):
        return
    if _of_support(out, site):
        out.aside = "the size of a support"
        return
    subjects = list(site.subjects_near())
    thin = quantity.size in site.lexicon.sizes("thickness")
    if hint == "long" and thin and not any(found.hint_of(t) == hint for t in (*site.phrase.tags, *site.label)):
        hint = ""  # `.., in the longest lengths:` over `5/8 inch, Type X`
    spaced = site.lexicon.in_band("spacing", quantity.size)
    hinted = any(found.hint_of(t) for t in (*site.phrase.tags, *site.label))
    sized = bool(subjects) and site.can(subjects[0], "thickness") and thin
    if last is not None and last.kind in ("spacing", "framing") and spaced and site.distinct and not hinted:
        out.kind, out.subjects = last.kind, [] if _names_spaced(site) else list(last.subjects)
        out.how.append(("kind", FoundBy.FACT_BEFORE))
    elif _beside_spacing(out, site):
        out.kind = "fastener length"
    elif hint in ("spacing", "framing") and not sized and (spaced or not _could_be_long(out, site, subjects)):
        out.kind = "spacing"
        spacing(out, site)
        if hint == "framing" and out.kind == "spacing" and not any(site.can(s, "spacing") for s in subjects):
            out.kind = "framing"
    elif _length_again(out, site):
        assert last is not None
        out.kind, out.subjects = last.kind, list(last.subjects)
    elif hint == "long" and spaced and not site.lexicon.in_band("long", quantity.size) and _can_space(subjects, site):
        out.kind = "spacing"  # `pins 38 mm long at 230 mm`
    elif hint == "long":
        long(out, site)
    elif hint == "wide" and any(t.name == "WIDE" for a in site.context.heads if a.role == "column" for t in a.tags):
        out.aside = "a width that the row is about"
    elif hint == "wide":
        wide(out, site)
    elif in_container(out, site):
        return
    elif hint == "package":
        out.unread = "a length of something packed, and the package is not named"
    elif not subjects and thin and _speaks_of_sheets(site):
        out.kind = "thickness"
    else:
        _by_measure(out, site, subjects)


def _is_thickness(out: Finding, site: Site) -> bool:
    """Whether a length apart from the support behind it is a thickness: `5/8 in. on furring at 16 in. o.c.`"""
    assert out.amount is not None
    nearest = next(iter(site.subjects_near()), "")
    return site.can(nearest, "thickness") and out.amount.size in site.lexicon.sizes("thickness")


def _can_space(subjects: Sequence[str], site: Site) -> bool:
    return bool(subjects) and site.can(subjects[0], "spacing") and "long" in site.lexicon.measures.get(subjects[0], {})


def _names_spaced(site: Site) -> bool:
    """Whether the phrase itself names something that is spaced: `pins 150 mm, dabs of glue 300 mm`."""
    return any(site.can(t.value, "spacing") for t in named(site.phrase.tags, "subject"))


def _beside_spacing(out: Finding, site: Site) -> bool:
    """`pins 40 mm at 150 mm centres`: of two lengths of a fastener the short one, and the first, is its own."""
    assert out.amount is not None
    spaced = any(f.kind == "spacing" and f.place > out.fact.place for f in site.phrase.facts)
    short = site.lexicon.in_band("long", out.amount.size)
    before = [t.value for t in site.words_before(out.fact) if t.name == "subject"][-1:]
    again = site.last is not None and "layer" in site.last.scope and bool(named(site.phrase.tags, "layer"))
    nearest = before or ([w.value for w in site.last.subjects] if again and site.last is not None else [])
    return spaced and short and any("long" in site.lexicon.measures.get(value, {}) for value in nearest)


def _length_again(out: Finding, site: Site) -> bool:
    """`pins 36 mm long; second layer 42 mm`: a length behind a fastener's own, and of such a size, is another of its."""
    last = site.last
    again = last is not None and last.kind == "fastener length" and not named(site.phrase.tags, "subject")
    return again and out.amount is not None and site.lexicon.in_band("long", out.amount.size)


def _could_be_long(out: Finding, site: Site, subjects: Sequence[str]) -> bool:
    """Whether a length too small for a spacing is that of the fastener itself."""
    assert out.amount is not None
    fastener = any("long" in site.lexicon.measures.get(s, {}) for s in subjects[:1])
    return fastener and site.lexicon.in_band("long", out.amount.size)


def _own_length(out: Finding, site: Site) -> bool:
    """`40 mm pins at 200 mm`: a length just before a fastener's name is its own."""
    assert out.amount is not None
    behind = site.behind(out.fact)
    if not behind or behind[0].name != "subject":
        return False
    noun = behind[0].value
    if "stick" in site.lexicon.holds.get(noun, ()) and site.lexicon.in_band("stick", out.amount.size):
        out.kind, out.per = "package", Quantity(_ONE, UNITS["stick"])
        out.subjects = [Word(noun, FoundBy.BEHIND)]
        return True
    if "long" not in site.lexicon.measures.get(noun, {}):
        return False
    near = behind[0].start - out.fact.over <= WORD_BETWEEN
    if near and site.lexicon.in_band("long", out.amount.size):
        out.kind, out.subjects = "fastener length", [Word(noun, FoundBy.BEHIND)]
        return True
    return False


def _of_support(out: Finding, site: Site) -> bool:
    """Whether a length is how thick or deep a support is: `3-5/8 in. battens at 16 in. o.c.`, `6 in. battens`, `battens, 2-1/2 in.`

    Beside a spacing the one that stands before the support is its size; alone it is where it is less than supports ever stand apart.
    """
    assert out.amount is not None
    behind = site.behind(out.fact)
    before = bool(behind) and found.hint_of(behind[0]) == "framing"
    apart = behind[0].start - out.fact.over > NEXT if before else False
    if before and any(f.kind == "spacing" for f in site.phrase.facts if f is not out.fact):
        return not (apart and _is_thickness(out, site))
    led = [tag for tag in site.words_before(out.fact)[-2:] if tag.name != "COMMA"][-1:]
    near = before and not apart
    if not near and not (led and found.hint_of(led[0]) == "framing"):
        return False
    least = site.lexicon.bands["framing"][0]
    if near and not any(found.hint_of(t) == "spacing" for t in site.part_tags):
        usual = (u.low for (kind, _), told in site.lexicon.ranges.items() if kind == "framing" for u in told)
        least = min(usual, default=least)
    return out.amount.size < least


def _speaks_of_sheets(site: Site) -> bool:
    """Whether its phrase speaks of sheets, or its part of a type that only sheets have."""
    return bool(named(site.phrase.tags, "LAYER") or named(site.part_tags, "type"))


def _head_rate(out: Finding, site: Site) -> bool:
    """A cell under `Need per 100 sq ft` or `Spread (sq ft/gal)`: the head of the column gives the other half of the rate."""
    assert out.amount is not None
    for above in site.context.heads:
        if above.role != "column":
            continue
        at = next((n for n, t in enumerate(above.tags) if t.name == "PER"), None)
        if at is None:
            continue
        rest = [t for t in above.tags[at + 1 :] if t.name in ("NUMBER", "AREA_UNIT", "VOLUME_UNIT")][:2]
        number = rest[0].number if rest and rest[0].name == "NUMBER" and rest[0].number else _ONE
        unit = next((t.unit for t in rest if t.unit is not None), None)
        before = next((t.unit for t in reversed(above.tags[:at]) if t.unit is not None), None)
        if unit is None:
            continue
        if out.amount.unit is UNITS["each"] and before is not None:
            out.amount = evolve(out.amount, unit=before)
        per = Quantity(number, unit)
        if out.amount.unit.dimension == AREA and unit.dimension == VOLUME:
            out.kind, out.per = "coverage", per
        elif unit.dimension == AREA and out.amount.unit is not UNITS["each"]:
            out.kind, out.per = "consumption", per
        else:
            continue
        out.how.append(("rate", above.name))
        return True
    return False


def _by_measure(out: Finding, site: Site, subjects: Sequence[str]) -> None:
    """What a length of this subject usually is: a thickness, a spacing or a fastener's own length, by its size."""
    assert out.amount is not None
    size, places = out.amount.size, (*site.phrase.tags, *site.label)
    for subject in subjects:
        measures = site.lexicon.measures.get(subject, {})
        kind = measures.get("length", "")
        if "long" in measures and site.lexicon.in_band("long", size):
            elsewhere = named(site.phrase.tags, "where")
            kind = "" if elsewhere and not named(site.phrase.tags, "ON_CENTER") else measures["long"]
        elif kind == "spacing":
            placed = (
                named(places, "surface")
                or named(places, "where")
                or named(places, "layer")
                or any(t.also for t in named(places, "subject"))
            )
            placed = placed or ("long" in measures and any(named(a.tags, "surface") for a in site.context.above[:1]))
            placed = placed or any(named(a.tags, key) for a in site.context.heads for key in ("surface", "where"))
            kind = kind if placed and site.lexicon.in_band("spacing", size) else ""
        elif kind == "thickness" and size not in site.lexicon.sizes("thickness"):
            out.unread = "not a size that it comes in"
            return
        if kind:
            out.kind = kind
            return
    out.unread = "a length, and nothing says what it measures" if subjects else "a length, and nothing says of what"


def _bare_content(out: Finding, site: Site) -> None:
    """`Cans: base 10 L`, `28 oz each`: a content whose container stands in the label or before it."""
    if _head_rate(out, site) or in_container(out, site):
        return
    if named(site.phrase.tags, "EACH"):
        counted = (f for f in reversed(site.done) if f.amount is not None and f.amount.unit.name in CONTAINERS)
        last = next(counted, None)
        if last is not None and last.amount is not None:
            out.kind, out.per, out.subjects = "package", Quantity(_ONE, last.amount.unit), list(last.subjects)
            return
    out.unread = "an amount, and nothing says what for"


def _bare_number(out: Finding, site: Site) -> None:
    """A number without a unit counts coats or layers where a label says so, or shares the unit of the one before it."""
    assert out.amount is not None
    if _head_rate(out, site):
        return
    unit, counted, last = head_unit(site), _counted_by_label(site), site.last
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
            bare(out, site)
        elif unit.dimension != LENGTH:
            in_container(out, site)
        else:
            _bare_length(out, site, _hint(out, site))
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
    else:
        out.unread = "a number without a unit"


def _is_sheet_size(out: Finding, site: Site) -> bool:
    """`five-eighths on the ceilings`: a fraction that is a thickness in inches, said of a thing that has one."""
    assert out.amount is not None
    nearest = next(site.subjects_near(), "")
    size = out.amount.low * UNITS["in"].factor
    return site.can(nearest, "thickness") and out.amount.low < 1 and size in site.lexicon.sizes("thickness")


def _counted_by_label(site: Site) -> str:
    """`coats` or `layers`, where the label, the key, the column or a heading of that one word says so."""
    heads = [a.tags for a in site.context.heads if a.role != "row"]
    over = [a.tags for a in site.context.above[:1] if not named(a.tags, "NUMBER") and not named(a.tags, "subject")]
    for tags in (site.label, *heads, *over):
        said = [found.hint_of(t) for t in tags if found.hint_of(t)]
        if said:
            return said[-1] if said[-1] in ("coats", "layers", "finish level") else ""
    return ""


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
