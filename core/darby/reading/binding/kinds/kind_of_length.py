"""A bare length: a spacing, the length of a fastener, a thickness, a width, by its size and the words around it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import dropwhile

from darby.quantities.units import UNITS
from darby.reading.binding.kinds.kind_by_words import (
    NEXT,
    WORD_BETWEEN,
    head_rate,
    hint,
    in_container,
    length_of_container,
    long,
    spacing,
    wide,
)
from darby.reading.binding.site import finding as found
from darby.reading.binding.site.finding import Finding, Site, Word, hint_of, named
from darby.reading.parsing.fact_parser import Quantity
from darby.rules.found_by import FoundBy

_ONE = Fraction(1)


def bare_length(out: Finding, site: Site) -> None:
    """What a length is: the words around it say so, the fact before it, or its size."""
    quantity, last = out.amount, site.last
    assert quantity is not None
    if head_rate(out, site) or length_of_container(out, site) or _own_length(out, site):
        return
    if _of_support(out, site):
        out.aside = "the size of a support"
        return
    said, subjects = hint(out, site), list(site.subjects_near())
    thin = quantity.size in site.lexicon.sizes("thickness")
    if said == "long" and thin and not any(found.hint_of(t) == said for t in (*site.phrase.tags, *site.label)):
        said = ""  # `.., in the longest lengths:` over `5/8 inch, Type X`
    spaced = site.lexicon.in_band("spacing", quantity.size)
    hinted = any(found.hint_of(t) for t in (*site.phrase.tags, *site.label))
    sized = bool(subjects) and site.can(subjects[0], "thickness") and thin
    if last is not None and last.kind in ("spacing", "framing") and spaced and site.distinct and not hinted:
        out.kind, out.subjects = last.kind, [] if _names_spaced(site) else list(last.subjects)
        out.how.append(("kind", FoundBy.FACT_BEFORE))
    elif _beside_spacing(out, site):
        out.kind = "fastener length"
    elif fastener := _goes_through(out, site):
        out.kind, out.subjects = "fastener length", [Word(fastener, FoundBy.LABEL)]
    elif fastener := _of_label_before(out, site):
        out.kind, out.subjects = "fastener length", [Word(fastener, FoundBy.SENTENCE_BEFORE)]
    elif said in ("spacing", "framing") and not sized and (spaced or not _could_be_long(out, site, subjects)):
        out.kind = "spacing"
        spacing(out, site)
        if said == "framing" and out.kind == "spacing" and not any(site.can(s, "spacing") for s in subjects):
            out.kind = "framing"
    elif _length_again(out, site):
        assert last is not None
        out.kind, out.subjects = last.kind, list(last.subjects)
    elif said == "long" and spaced and not site.lexicon.in_band("long", quantity.size) and _can_space(subjects, site):
        out.kind = "spacing"  # `pins 38 mm long at 230 mm`
    elif said == "long":
        long(out, site)
    elif said == "wide" and any(t.name == "WIDE" for a in site.context.heads if a.role == "column" for t in a.tags):
        out.aside = "a width that the row is about"
    elif said == "wide":
        wide(out, site)
    elif in_container(out, site):
        return
    elif said == "package":
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


def _goes_through(out: Finding, site: Site) -> str:
    """The fastener whose length is told by what it goes through, a thickness or layers: `pins: 36 mm for 9 mm sheets and 42 mm for 12 mm
    sheets`, though what it goes through is named right behind; nothing where it is no such length.
    """
    behind, words = site.behind(out.fact), site.words_before(out.fact)
    joint = len(behind) > 1 and behind[0].name in ("FOR", "THROUGH")
    if not joint or behind[1].name not in ("NUMBER", "A_LAYER", "SINGLE", "layer") or out.amount is None:
        return ""
    last = site.last
    if last is not None and last.kind == "fastener length" and last.subjects:
        of = last.subjects[0].value
    else:
        names = (t.value for t in reversed([*site.label, *words]) if t.name == "subject")
        of = next((name for name in names if "long" in site.lexicon.measures.get(name, {})), "")
    spaced = any(hint_of(t) == "spacing" for t in (*site.label, *site.phrase.tags))
    fits = "long" in site.lexicon.measures.get(of, {}) and site.lexicon.in_band("long", out.amount.size)
    return of if fits and not spaced and site.can(of, "fastener length") else ""


def _of_label_before(out: Finding, site: Site) -> str:
    """The fastener that the clause is labelled with, where a later sentence of it names nothing: `Pins: ring shank. 40 mm at walls.`"""
    before = site.previous.tags if site.previous is not None else ()
    names = [t for t in before[:2] if t.name in ("subject", "COLON")]
    spaced = any(hint_of(t) == "spacing" for t in site.sentence.tags)
    if [t.name for t in names] != ["subject", "COLON"] or spaced or named(site.sentence.tags, "subject"):
        return ""
    of, fits = names[0].value, out.amount is not None and site.lexicon.in_band("long", out.amount.size)
    return of if fits and "long" in site.lexicon.measures.get(of, {}) and site.can(of, "fastener length") else ""


def _could_be_long(out: Finding, site: Site, subjects: Sequence[str]) -> bool:
    """Whether a length too small for a spacing is that of the fastener itself."""
    assert out.amount is not None
    fastener = any("long" in site.lexicon.measures.get(s, {}) for s in subjects[:1])
    return fastener and site.lexicon.in_band("long", out.amount.size)


def _own_length(out: Finding, site: Site) -> bool:
    """`40 mm pins at 200 mm`: a length just before a fastener's name is its own."""
    assert out.amount is not None
    behind = list(dropwhile(lambda t: t.name == "type", site.behind(out.fact)))  # `40 mm type N pins`
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
