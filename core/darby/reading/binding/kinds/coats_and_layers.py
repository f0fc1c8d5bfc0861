"""Coats and layers: whether a count of them is an order, or only says for what, when or of which sum something is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from darby.quantities.numerals import ORDINALS
from darby.quantities.units import LENGTH, VOLUME
from darby.reading.binding.kinds.kind_by_words import WORD_BETWEEN
from darby.reading.binding.site.conditions import is_open
from darby.reading.binding.site.finding import Finding, Site, hint_of, named
from darby.reading.parsing.phrases import LOOKS
from darby.reading.parsing.tagging.tag import Tag


def layers(out: Finding, site: Site) -> None:
    """Layers of a thing nobody here knows, layers that something goes through, and layers only here or there order none."""
    words, behind = site.words_before(out.fact), site.behind(out.fact)
    of = next((t for t in site.phrase.tags if t.name == "LAYER" and out.fact.place <= t.start < out.fact.over), None)
    of_fastener = (
        bool(site.before) and site.before[-1].kind == "fastener length" and not named(site.phrase.tags, "type")
    )
    if (words and words[-1].name == "FOR") or (of_fastener and not _names_sheets(behind, out.fact.over)):
        out.aside = "says where something else holds"  # `1 1/4 in. long at one layer`
    elif of is None and _is_for_fastener(out, site):
        out.aside = "says where something else holds"  # `single layer 32 mm pins`
    elif all(t.name == "COLON" for t in behind) and _spaces(site):
        out.aside = "says where something else holds"  # `Spacing, one layer:`
    elif words and words[-1].name == "THROUGH":
        out.aside = "what something goes through"
    elif of is not None and of.value == "of" and not _names_sheets(behind, out.fact.over):
        out.aside = "layers of something that no trade here orders"
    elif out.bound == "at most":
        out.doubt = out.doubt or "an upper bound: how many is not said"
    elif _below_fastener(out, site):
        out.doubt = out.doubt or "it may only say for how many layers a length is"
    elif is_open(site.part_tags):
        out.doubt = out.doubt or "only under a condition"


def _is_for_fastener(out: Finding, site: Site) -> bool:
    """Whether layers that a word counts stand before the length of a fastener, and nothing names what is laid: they say for what it is."""
    part = site.part_tags
    amounts = [
        f.amount for p in site.part.phrases for f in p.facts if f.place > out.fact.place and f.amount is not None
    ]
    lengths = [amount for amount in amounts if amount.unit.dimension == LENGTH]
    if not lengths:
        return False
    if lengths[0].size not in site.lexicon.sizes("thickness") and not named(site.behind(out.fact), "subject"):
        # `Pins 400 mm apart. Single layer 32 mm at 300 mm`: no sheet is so thick
        before = [*(site.previous.tags if site.previous is not None else ()), *site.words_before(out.fact)]
        above = [t for one in reversed(site.context.all) for t in one.tags]
        if any("long" in site.lexicon.measures.get(t.value, {}) for t in named((*above, *before), "subject")[-1:]):
            return True
    laid = {t.value for t in part if t.name == "subject" and site.can(t.value, "layers")}
    if laid or any(t.name in ("type", "THICK", "surface") for t in part):
        return False
    return any("long" in site.lexicon.measures.get(t.value, {}) for t in named(part, "subject"))


def _below_fastener(out: Finding, site: Site) -> bool:
    """Whether the label is one of fasteners alone, and nothing names what is laid: `Pins: 25 mm in one layer; in two layers 42 mm`."""
    goods = named(site.label, "subject")
    said = [(t.name, site.lexicon.choices.get((t.name, t.value), t.value)) for t in site.part_tags]
    laid = any(name == "THICK" or (name.islower() and site.can(of, out.fact.kind)) for name, of in said)
    return bool(goods) and not laid and all("long" in site.lexicon.measures.get(t.value, {}) for t in goods)


def _spaces(site: Site) -> bool:
    """Whether a phrase or its label speaks of a spacing."""
    return any(hint_of(t) == "spacing" for t in (*site.label, *(t for p in site.part.phrases for t in p.tags)))


def _names_sheets(behind: Sequence[Tag], over: int) -> bool:
    """Whether what stands right behind "layers of" is a product, a type or a size."""
    near = bool(behind) and behind[0].start - over <= WORD_BETWEEN
    return near and behind[0].name in ("subject", "type", "NUMBER", "FEET_INCHES", "note", "surface")


def coats(out: Finding, site: Site) -> None:
    """Coats behind a rate that could not be read belong to that rate; `as second coat` takes over what stands elsewhere."""
    words = site.words_before(out.fact)
    behind = words[-1].name if words else ""
    if _parts_follow(out, site):
        out.aside = "the sum of what follows it"
    elif _part_of_sum(out, site):
        out.aside = "one of those that were counted before it"
    elif out.bound == "at most":
        out.doubt = out.doubt or "an upper bound: how many is not said"
    elif dict(out.fact.scope).get("coat") and any(t.name == "CONDITION" for t in site.part_tags):
        out.doubt = out.doubt or "only under a condition"
    elif _spoken_of_again(out, site):
        out.aside = "one of those that were counted before it"  # `Second coat after 4 hours`
    elif any(t.name == "PLUS" for t in words) and site.takes_over:
        out.doubt = out.doubt or "added to what is said elsewhere"
    elif behind == "AS":
        out.doubt = out.doubt or "taken over from elsewhere"
    elif behind in ("FOREIGN", "VOLUME_UNIT", "THIN_UNIT", "AREA_UNIT", "MASS_UNIT", "WET", "DRY"):
        out.aside = "for each coat"
    elif words and words[-1].name == "NEW_VALUE" and words[-1].value == "add" and not named(words, "CHANGED"):
        out.doubt = out.doubt or "added to what is said elsewhere"
    elif any(t.name == "DOES" for t in words) and not named(site.phrase.tags, "subject"):
        out.aside = "the coats of an example"
    elif _unread_volume(site) and not named(site.phrase.tags, "subject"):
        out.doubt = "coats of a rate that could not be read"


def _spoken_of_again(out: Finding, site: Site) -> bool:
    """Whether a coat by its number, of which nothing is said but when or how it is put on, was counted before: in its clause or the one
    before it; or whether a time stands beside it."""
    which = dict(out.fact.scope).get("coat", "")
    first = next((t for t in site.sentence.tags if t.start >= out.fact.place), None)
    if which.partition(" ")[0] not in ORDINALS or first is None or first.name != "ORDINAL" or out.fact.subject:
        return False
    part = site.part_tags
    times = {id(one) for one, other in pairwise(part) if other.name == "FOREIGN"}
    if any(t.name in _SAYS or (t.name == "subject" and site.can(t.value, "coats")) for t in part):
        return False
    if any(t.name == "NUMBER" and id(t) not in times for t in part):
        return False
    if times:
        return True
    least = ORDINALS.index(which.rpartition(" ")[2]) + 1
    counted = (f.amount for f in (*site.before, *site.done, *site.context.sibling) if f.kind == "coats" and f.stands)
    return any(amount is not None and amount.low >= least for amount in counted)


_SAYS = (*LOOKS, "APPLIED", "PLUS")
"""Words that say what a coat is."""


def _parts_follow(out: Finding, site: Site) -> bool:
    """`Three coats: one of this, two of that`: a count before a colon that other counts behind it make up."""
    behind = site.behind(out.fact)
    if not behind or behind[0].name not in ("COLON", "OPEN") or dict(out.fact.scope).get("coat"):
        return False
    numbered = bool(named(behind[1:], "NUMBER"))
    parts = [n for n in _counts(behind[1:], site, looks=not numbered) if n]
    if out.amount is not None and len(parts) > 1 and sum(parts) == out.amount.low:
        if not numbered:
            out.doubt = out.doubt or "coats of several products: how many of each is not said"
        return numbered
    if behind[0].name == "OPEN":
        return False
    ahead = (*site.label, *(t for t in site.sentence.tags if t.end <= out.fact.place))
    facts = [f for p in site.sentence.phrases for f in p.facts if f.place > behind[0].start]
    if any(dict(f.scope).get("coat") for f in facts) and not any(
        site.can(t.value, "coats") for t in named(ahead, "subject")
    ):
        return True  # `Three coats: first coat varnish, second and third coats lacquer`
    counts = [t.number for t in behind if t.name == "NUMBER" and t.number is not None]
    return len(counts) > 1 and out.amount is not None and sum(counts) == out.amount.low


def _counts(tags: Sequence[Tag], site: Site, *, looks: bool) -> Iterator[Fraction]:
    """Of each item of a list how many coats it is: its number, else one where it only names a product, or a look."""
    number, product = Fraction(0), False
    for tag in (*tags, None):
        if tag is None or tag.name in ("COMMA", "AND", "PLUS", "SEMICOLON", "STOP", "CLOSE"):
            yield number or Fraction(product)
            number, product = Fraction(0), False
            if tag is None or tag.name in ("SEMICOLON", "STOP", "CLOSE"):
                return
        elif tag.name == "NUMBER" and tag.number is not None:
            number = number or tag.number
        elif (looks and tag.name == "sheen") or (tag.name == "subject" and site.can(tag.value, "coats")):
            product = True


def _part_of_sum(out: Finding, site: Site) -> bool:
    """`Three coats: bedding coat, second coat, last coat`: coats by name behind a count of all of them and a colon."""
    counted = [f for f in site.before if f.kind == "coats" and f.stands and not dict(f.fact.scope).get("coat")]
    if not counted or not dict(out.fact.scope).get("coat"):
        return False
    between = (t.name for t in site.sentence.tags if counted[-1].fact.over <= t.start < out.fact.place)
    return "COLON" in between and len(named(site.sentence.tags, "NUMBER")) < 2 + len(site.before)


def _unread_volume(site: Site) -> bool:
    return any(f.unread and f.amount is not None and f.amount.unit.dimension == VOLUME for f in site.before)
