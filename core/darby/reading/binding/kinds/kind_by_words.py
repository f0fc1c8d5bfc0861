"""Kinds of fact that a word in them names but does not settle: spacings, films, lengths, contents; and the words that tell."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from attrs import evolve

from darby.quantities.units import AREA, UNITS, VOLUME
from darby.reading.binding.site import finding as found
from darby.reading.binding.site.conditions import RATES
from darby.reading.binding.site.finding import Finding, Site, named
from darby.reading.parsing.fact_parser import Quantity
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy

_ONE = Fraction(1)
NEXT = 2
"""Characters between a word and the one it belongs to."""
WORD_BETWEEN = 16
"""Characters of one word that may stand between a size and its noun: `40 mm galvanised pins`."""


def spacing(out: Finding, site: Site) -> None:
    """Supports on center are framing, what is driven into them is spacing. The nearest word before decides."""
    if _frames(out, site):
        out.kind = "framing"
        words = [t.name for t in site.words_before(out.fact)]
        if words[-2:] == ["LARGER_THAN", "hint"] and site.behind(out.fact):
            # `over joists 24 in. apart use 5/8 in. panels`
            out.aside = "says where something else holds"
    elif (
        out.amount is not None and named(site.phrase.tags, "PAIR") and not site.lexicon.in_band("pair", out.amount.size)
    ):
        out.aside = "the distance inside a pair"


def _frames(out: Finding, site: Site) -> bool:
    said = [t for t in (*site.label, *site.phrase.tags) if t.name == "hint" and t.value in ("fastening", "framing")]
    led = [t.value for t in said if t.start < out.fact.place]
    if any(t.value == "fastening" for t in said) and led[-1:] != ["framing"]:
        return False

    def speaks(tag: Tag) -> bool:
        return (tag.name == "subject" and site.can(tag.value, "spacing")) or (
            tag.name == "hint" and tag.value == "framing"
        )

    over = [t for a in site.context.heads if a.role == "column" for t in a.tags if speaks(t)]
    if over:
        return not any(t.name == "subject" for t in over)
    first = next((t for t in site.part_tags if t.name != "condition"), None)
    opens = first is not None and first.name == "hint" and first.value == "framing" and first.start < out.fact.place
    if not opens and any(t.name == "hint" and t.value == "fastening" for a in site.context.above[:1] for t in a.tags):
        return False

    here = out.fact.place
    near = [t for t in site.phrase.tags if speaks(t)]
    before, after = [t for t in near if t.start < here], [t for t in near if t.start > here]
    if before and _driven_into(before, site):
        out.confirm = out.confirm or _OR_OF_SUPPORTS
        return False
    if before:
        return before[-1].name == "hint"
    if after and after[0].name == "hint" and _into_again(out, site):
        return False
    if after:
        return after[0].name == "hint"
    for phrase in reversed(site.earlier):
        found = [t for t in phrase.tags if speaks(t)]
        if found:
            # `12 in. into battens and at 8 in. on ceilings`: what stood behind a spacing is not what is spaced next
            last = site.last
            driven = _driven_into(found, site)
            behind_it = last is not None and last.kind == "spacing" and (found[-1].start > last.fact.place or driven)
            return found[-1].name == "hint" and not behind_it
    for tags in (site.label, *(a.tags for a in site.context.all)):
        found = [t for t in tags if speaks(t)]
        if found:
            return not any(t.name == "subject" for t in found)
    return False


_OR_OF_SUPPORTS = "it may be how far apart the supports stand that these are driven into"
_INTO = ("INTO", "RANGE", "note", "ALL", "type", "subject")


def _driven_into(words: Sequence[Tag], site: Site) -> bool:
    """Whether goods open a part, and what they are driven into stands right behind: `Pins into iron ribs at 12 in. o.c.`"""
    if len(words) < 2 or words[-1].name != "hint" or words[-2].name != "subject":
        return False
    first = next((t for t in site.part_tags if t.name in ("subject", "hint")), None)
    between = [t.name for t in site.sentence.tags if words[-2].end <= t.start and t.end <= words[-1].start]
    leads = not {"INTO", "RANGE", "note"}.isdisjoint(between)
    return first is words[-2] and leads and all(name in _INTO for name in between)


def _into_again(out: Finding, site: Site) -> bool:
    """Whether the phrase before says how far apart things go along supports, and this one says it of other supports."""
    last = site.last
    if last is None or last.kind != "spacing" or out.kind != "spacing" or not site.earlier:
        return False
    return any(t.name == "hint" and t.value == "framing" and t.start > last.fact.place for t in site.earlier[-1].tags)


def film(out: Finding, site: Site) -> None:
    """A film must be said to be wet or dry: beside it, in its label, its column, its heading, or by its spreading rate."""
    near = (*site.phrase.tags, *site.label)
    spread = any(t.value == "theoretical" or found.hint_of(t) in RATES for t in near)
    spread = spread or any(f.kind in RATES for f in site.before)
    if out.amount is not None and out.amount.low == 1 and out.amount.high is None and spread:
        out.aside = "the film that a theoretical spread is said for"
        return
    if dict(out.fact.scope).get("film"):
        return
    for tags in (site.phrase.tags, site.label, site.part.tail, *(a.tags for a in site.context.all)):
        state = next((t.name.lower() for t in tags if t.name in ("WET", "DRY")), "")
        if state:
            out.scope["film"] = state
            return
    rate = next((f for f in reversed([*site.row, *site.done]) if f.kind == "coverage" and f.amount and f.per), None)
    if rate is not None and rate.amount and rate.per and out.amount and (share := _solids(rate, out)) is not None:
        # what a volume covers times its film is the share of it that stays: all of it wet, a part of it dry
        if Fraction(92, 100) <= share <= Fraction(105, 100):
            out.scope["film"] = "wet"
        elif Fraction(15, 100) <= share <= Fraction(9, 10):
            out.scope["film"] = "dry"
        elif share > 1:
            out.scope["film"] = "dry"
            rate.doubt = rate.doubt or "more than a volume can cover at that film"
        if "film" in out.scope:
            out.how.append(("film", FoundBy.RATE))
            return
    out.unread = "a film, and nobody says whether wet or dry"


def _solids(rate: Finding, film: Finding) -> Fraction | None:
    assert rate.amount is not None
    assert rate.per is not None
    assert film.amount is not None
    return rate.amount.size * film.amount.size / rate.per.size if rate.per.size else None


def long(out: Finding, site: Site) -> None:
    """A length with `long` behind it is a fastener's own, where one is in reach, or that of sheets whose width stands before it."""
    last = site.last
    width = last if last is not None and last.kind == "sheet" and last.fact.by is None else None
    listed = next(
        (f for f in site.before if f.kind == "sheet" and f.fact.by is not None and f.fact.kind == "long"), width
    )
    if listed is not None and out.amount is not None and site.lexicon.in_band("sheet length", out.amount.size):
        # `48 in. wide; 10 ft long on walls, 12 ft long on ceilings`
        out.kind, out.subjects = "sheet", list(listed.subjects)
        out.fact, out.amount = evolve(out.fact, by=out.amount), listed.amount
        if width is not None:
            width.aside = "said with each of its lengths"
    elif any(site.can(s, "fastener length") for s in (*site.subjects_near(), *_spoken_of_before(site))):
        out.kind = "fastener length"
    else:
        out.aside = "a length that orders nothing by itself"


def _spoken_of_before(site: Site) -> list[str]:
    """`Pins: type S. 25 mm long.`: what the sentence before names alone, where this one names nothing."""
    before = {t.value for t in named(site.previous.tags, "subject")} if site.previous is not None else set()
    return list(before) if len(before) == 1 and not named(site.sentence.tags, "subject") else []


def in_container(out: Finding, site: Site) -> bool:
    """`Rolls: 500 ft`: a content whose container stands in the label, the key or the column's head."""
    for tags in _labels(site):
        container = next((t for t in reversed(tags) if t.name == "CONTAINER" and t.value != "sheet"), None)
        if container is not None:
            return _packed(out, container)
    return False


def _packed(out: Finding, container: Tag) -> bool:
    out.kind, out.per = "package", Quantity(_ONE, UNITS[container.value])
    return True


def length_of_container(out: Finding, site: Site) -> bool:
    """`Roll length: 75 m`, `Length of roll 75 m`: a length that its label says is a container's own is what that holds."""
    for tags in ([t for t in site.phrase.tags if t.end <= out.fact.place], *_labels(site)):
        for one, other in pairwise(t for t in tags if t.name not in ("OF", "PER")):
            if {one.name, other.name} == {"CONTAINER", "LONG"}:
                return _packed(out, one if one.name == "CONTAINER" else other)
    return False


def _labels(site: Site) -> list[Sequence[Tag]]:
    return [site.label, *(a.tags for a in site.context.heads if a.role != "row")]


def wide(out: Finding, site: Site) -> None:
    """A width alone is of a sheet where the nearest thing comes in sheets of such a width."""
    nearest = next(site.subjects_near(), "")
    if site.can(nearest, "sheet") and out.amount is not None and site.lexicon.in_band("sheet", out.amount.size):
        out.kind = "sheet"
    else:
        out.kind, out.aside = "", "a width"


def hint(out: Finding, site: Site, among: Sequence[str] = ()) -> str:
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


def head_rate(out: Finding, site: Site) -> bool:
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
