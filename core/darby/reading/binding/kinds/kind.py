"""Which kind of fact a measure is, where the words inside it do not say: one rule for each sort of measure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from attrs import evolve

from darby.reading.binding.kinds.coats_and_layers import coats, layers
from darby.reading.binding.kinds.kind_by_words import film, in_container, long, spacing, wide
from darby.reading.binding.kinds.kind_of_measure import bare
from darby.reading.binding.kinds.kind_of_number import head_unit
from darby.reading.binding.site.finding import Finding, Site, named
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy

_ONE = Fraction(1)


def decide_kind(out: Finding, site: Site) -> None:
    """Give the finding its kind, or the reason why it has none."""
    if out.fact.kind in _CONDITIONS and _before_colon(out, site):
        out.aside = "says where something else holds"
        return
    rule = _RULES.get(out.fact.kind)
    if rule is not None:
        rule(out, site)


_CONDITIONS = ("spacing", "thickness", "layers", "finish level")


def _before_colon(out: Finding, site: Site) -> bool:
    """Whether a colon stands behind the fact and another fact behind the colon: `Rails 24 in. o.c.: not over 12 in.`"""
    behind = site.behind(out.fact)
    colon = next((n for n, t in enumerate(behind) if t.name in ("COLON", "SEMICOLON", "STOP")), None)
    if colon is None or behind[colon].name != "COLON":
        return False
    counted = any(t.name == "LAYER" and out.fact.place <= t.start < out.fact.over for t in site.phrase.tags)
    if counted and _told_one_by_one(behind[colon:], out.fact.kind, site):
        return False
    return any(f.place > behind[colon].start for p in site.part.phrases for f in p.facts)


def _told_one_by_one(said: Sequence[Tag], kind: str, site: Site) -> bool:
    """Whether what follows says of what each is that was counted: `get two layers: sort A underneath and sort B on the face`."""
    goods = [t for t in said if t.name == "subject"]
    chosen = [site.lexicon.choices.get((t.name, t.value), "") for t in said]
    spoken = any(site.can(one, kind) for one in (*chosen, *(t.value for t in goods)) if one)
    return spoken and any(t.name == "layer" for t in said) and all(site.can(t.value, kind) for t in goods)


def _does(out: Finding, site: Site) -> None:
    """`a 28 oz tube does 85 ft`: one package for so much; the package is the one just named."""
    last = site.before[-1] if site.before else None
    if last is not None and last.kind == "package" and last.per is not None:
        out.kind, out.amount, out.per = "consumption", last.per, out.amount
        if out.per is not None and out.per.high:
            # `covers 40 to 50 m2`: the range is one of what is used
            out.amount = evolve(last.per, high=last.per.low * out.per.high / out.per.low if out.per.low else None)
            out.per = evolve(out.per, low=out.per.high, high=None)
        out.subjects = list(last.subjects)
    else:
        out.unread = "how far something goes, and nothing says what"


def _ordinal(out: Finding, site: Site) -> None:
    """An ordinal alone is a coat only as the key of a row that names a product with coats."""
    alone = len(site.phrase.tags) == 1 and not site.part.tail and not site.label
    row = [t for a in site.context.heads if a.role == "row" for t in a.tags]
    if alone and any(t.name == "subject" and site.can(t.value, "coats") for t in row):
        out.kind = "coats"
    else:
        out.aside = "an ordinal"


def _finish_level(out: Finding, site: Site) -> None:
    """A level is of finish unless its label speaks of a sheen; beside a place on the work it says where coats hold."""
    key = next((a for a in site.context.heads if a.role == "key"), None)
    behind = site.behind(out.fact)
    if behind and (behind[0].name == "FOREIGN" or behind[0].value == "floor") and behind[0].start - out.fact.over <= 1:
        out.aside = "a storey"
    elif _defines(out, behind, site):
        out.aside = "the definition of a level"
    elif site.words_before(out.fact)[-1:] and site.words_before(out.fact)[-1].name in ("AS", "AS_OTHER"):
        out.doubt = "taken over from elsewhere"
    elif any(t.name == "room" and t.value.startswith("level ") for t in site.sentence.tags):
        out.doubt = "a storey, or a level of finish: which is meant is not said"
    elif named(site.words_before(out.fact)[-1:], "LARGER_THAN"):
        out.aside = "says where something else holds"  # `one coat over Level 4`
    elif named(site.label, "sheen") and not named(site.label, "subject"):
        out.aside = "a level of gloss"
    elif key is None and any(a.role == "row" for a in site.context.heads) and named(site.phrase.tags, "coat"):
        out.aside = "says where something else holds"


def _defines(out: Finding, behind: Sequence[Tag], site: Site) -> bool:
    """`Level 1: wax on all seams`: what is done to reach a level, in a sentence that it opens."""
    if not behind or behind[0].name != "COLON" or site.sentence.tags[0].start != out.fact.place:
        return False
    means = set(site.lexicon.implied_where.values())
    placed = next((t for t in behind[1:2] if t.name in ("surface", "room")), None)
    return placed is None and any(t.name == "subject" and t.value in means for t in behind)


def _sizes(out: Finding, site: Site) -> None:
    """Two bare numbers are a sheet's feet where the label or the phrase speaks of sheets and they can be."""
    near = (*site.label, *site.phrase.tags, *(t for a in site.context.heads if a.role == "column" for t in a.tags))
    sheets = any(t.value in ("sheet", "sheets") or (t.name == "subject" and site.can(t.value, "sheet")) for t in near)
    feet = (
        out.amount is not None
        and out.fact.by is not None
        and 4 <= out.amount.low <= Fraction(9, 2)
        and 6 <= out.fact.by.low <= 16
    )
    unit = head_unit(site)
    if sheets and unit is not None and out.amount is not None and out.fact.by is not None:
        out.kind, out.amount = "sheet", evolve(out.amount, unit=unit)
        out.fact = evolve(out.fact, by=evolve(out.fact.by, unit=unit))
        out.how.append(("unit", FoundBy.COLUMN_UNIT))
    elif sheets and feet:
        out.kind = "sheet"
    else:
        out.kind, out.unread = "", "a size without a unit"


def _package_of(out: Finding, site: Site) -> None:
    """`8 ft sticks, boxes of 50`: pieces of the package just named, else of the thing itself."""
    out.kind = "package"
    last = site.before[-1] if site.before else None
    if last is None or last.kind != "package" or last.per is None or out.amount is None or out.per is None:
        return
    if last.per.unit is not out.per.unit:
        out.amount, out.subjects = evolve(out.amount, unit=last.per.unit), list(last.subjects)


def _coverage(out: Finding, site: Site) -> None:
    """A theoretical spread at a film that is named beside it is no spread of the film that is wanted.

    `10 gallons covers 1000 sq ft` of what is counted by its use says the use: 10 gal per 1000 sq ft.
    """
    able = next((s for s in site.subjects_near() if site.can(s, "coverage") or site.can(s, "consumption")), "")
    single = out.amount is not None and out.amount.high is None
    if able and not site.can(able, "coverage") and single and out.bound == "exact" and out.fact.twin is None:
        out.kind, out.amount, out.per = "consumption", out.per, out.amount
        return
    led = [a for a in site.context.above[:1] if a.role == "lead-in"]
    since = max((f.fact.over for f in site.before if f.kind == out.kind), default=0)  # what another spread is said for
    own = [t for t in (*site.phrase.tags, *site.headed) if t.start >= since]
    near = [*own, *(t for a in (*site.context.heads, *led) for t in a.tags)]
    films = [n for n, t in enumerate(near) if t.name == "THIN_UNIT" and n and near[n - 1].name == "NUMBER"]
    if films and near[films[0] - 1].number == 1:  # `Theoretical coverage at 1 mil dry:` over the rate
        out.unread = "a theoretical spread at one unit of film: the film wanted divides it"


def _pieces(out: Finding, site: Site) -> None:
    """`25 lb boxes, about 5,500 pieces`: of the package just named."""
    last = site.before[-1] if site.before else None
    if last is not None and last.kind == "package" and not last.unread:
        out.kind, out.per, out.subjects = "package", last.per, last.subjects
    elif in_container(out, site):
        return
    else:
        out.unread = "a count of pieces, and nothing says of what package"


def _consumption(out: Finding, site: Site) -> None:
    """`2 rolls of 500 ft per 2,500 sq ft`: what is said is of one package, and so many of them are meant."""
    words = site.words_before(out.fact)
    ahead = [t.name for t in words[-3:]]
    if ahead == ["NUMBER", "CONTAINER", "OF"] and words[-3].number != 1:
        out.doubt = out.doubt or "of how many packages together? Say the amount of all"


_RULES: dict[str, Callable[[Finding, Site], None]] = {
    "": bare, "spacing": spacing, "film": film, "long": long, "wide": wide, "does": _does, "ordinal": _ordinal,
    "finish level": _finish_level, "layers": layers, "coverage": _coverage, "coats": coats, "sizes": _sizes, "package of": _package_of, "pieces": _pieces,
    "consumption": _consumption,
}  # fmt: skip
