"""Which kind of fact a measure is, where the words inside it do not say: one rule for each sort of measure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from attrs import evolve

from darby import found
from darby.found import Finding, Site, Word, named
from darby.readers import Quantity
from darby.tagging import Tag
from darby.units import AREA, CONTAINERS, LENGTH, MASS, UNITS, VOLUME, Unit

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
    """Whether a colon stands behind the fact and another fact behind the colon: `Studs 24 in. o.c.: not over 12 in.`"""
    behind = site.behind(out.fact)
    colon = next((n for n, t in enumerate(behind) if t.name in ("COLON", "SEMICOLON", "STOP")), None)
    if colon is None or behind[colon].name != "COLON":
        return False
    return any(f.place > behind[colon].start for p in site.part.phrases for f in p.facts)


def _spacing(out: Finding, site: Site) -> None:
    """Supports on center are framing, what is driven into them is spacing. The nearest word before decides."""
    if _frames(out, site):
        out.kind = "framing"
    elif (
        out.amount is not None and named(site.phrase.tags, "PAIR") and not site.lexicon.in_band("pair", out.amount.size)
    ):
        out.aside = "the distance inside a pair"


def _frames(out: Finding, site: Site) -> bool:
    if any(t.name == "hint" and t.value == "fastening" for t in (*site.phrase.tags, *site.label)):
        return False
    if any(t.name == "hint" and t.value == "fastening" for a in site.context.above[:1] for t in a.tags):
        return False

    def speaks(tag: object) -> bool:
        name, value = getattr(tag, "name", ""), getattr(tag, "value", "")
        return (name == "subject" and site.can(value, "spacing")) or (name == "hint" and value == "framing")

    here = out.fact.place
    near = [t for t in site.phrase.tags if speaks(t)]
    before, after = [t for t in near if t.start < here], [t for t in near if t.start > here]
    if before:
        return before[-1].name == "hint"
    if after:
        return after[0].name == "hint"
    for phrase in reversed(site.earlier):
        found = [t for t in phrase.tags if speaks(t)]
        if found:
            return found[-1].name == "hint"
    for tags in (site.label, *(a.tags for a in site.context.all)):
        found = [t for t in tags if speaks(t)]
        if found:
            return not any(t.name == "subject" for t in found)
    return False


def _film(out: Finding, site: Site) -> None:
    """A film must be said to be wet or dry: beside it, in its label, its column, its heading, or by its spreading rate."""
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
            out.how.append(("film", "its product with the spreading rate"))
            return
    out.unread = "a film, and nobody says whether wet or dry"


def _solids(rate: Finding, film: Finding) -> Fraction | None:
    assert rate.amount is not None
    assert rate.per is not None
    assert film.amount is not None
    return rate.amount.size * film.amount.size / rate.per.size if rate.per.size else None


def _long(out: Finding, site: Site) -> None:
    if any(site.can(s, "fastener length") for s in site.subjects_near()):
        out.kind = "fastener length"
    else:
        out.aside = "a length that orders nothing by itself"


def _wide(out: Finding, site: Site) -> None:
    """A width alone is of a sheet where the nearest thing comes in sheets of such a width."""
    nearest = next(site.subjects_near(), "")
    if site.can(nearest, "sheet") and out.amount is not None and site.lexicon.in_band("sheet", out.amount.size):
        out.kind = "sheet"
    else:
        out.kind, out.aside = "", "a width"


def _does(out: Finding, site: Site) -> None:
    """`a 28 oz tube does 85 ft`: one package for so much; the package is the one just named."""
    last = site.before[-1] if site.before else None
    if last is not None and last.kind == "package" and last.per is not None:
        out.kind, out.amount, out.per = "consumption", last.per, out.amount
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
    if named(site.label, "sheen") and not named(site.label, "subject"):
        out.aside = "a level of gloss"
    elif key is None and any(a.role == "row" for a in site.context.heads) and named(site.phrase.tags, "coat"):
        out.aside = "says where something else holds"


def _layers(out: Finding, site: Site) -> None:
    """Layers of a thing nobody here knows, layers that something goes through, and layers only here or there order none."""
    words, behind = site.words_before(out.fact), site.behind(out.fact)
    of = next((t for t in site.phrase.tags if t.name == "LAYER" and out.fact.place <= t.start < out.fact.over), None)
    if words and words[-1].name == "THROUGH":
        out.aside = "what something goes through"
    elif of is not None and of.value == "of" and not _names_sheets(behind, out.fact.over):
        out.aside = "layers of something that no trade here orders"
    elif out.bound == "at most":
        out.doubt = out.doubt or "an upper bound: how many is not said"
    elif any(t.name == "CONDITION" for t in site.part_tags):
        out.doubt = out.doubt or "only under a condition"


def _names_sheets(behind: Sequence[Tag], over: int) -> bool:
    """Whether what stands right behind "layers of" is a product, a type or a size."""
    near = bool(behind) and behind[0].start - over <= _WORD_BETWEEN
    return near and behind[0].name in ("subject", "type", "NUMBER", "FEET_INCHES", "note")


_NEXT = 2
"""Characters between a word and the one it belongs to."""


def _coats(out: Finding, site: Site) -> None:
    """Coats behind a rate that could not be read belong to that rate; `as second coat` takes over what stands elsewhere."""
    words = site.words_before(out.fact)
    behind = words[-1].name if words else ""
    if out.bound == "at most":
        out.doubt = out.doubt or "an upper bound: how many is not said"
    elif behind == "AS":
        out.doubt = out.doubt or "taken over from elsewhere"
    elif behind in ("FOREIGN", "VOLUME_UNIT", "THIN_UNIT", "AREA_UNIT", "MASS_UNIT"):
        out.aside = "for each coat"
    elif _unread_volume(site) and not named(site.phrase.tags, "subject"):
        out.doubt = "coats of a rate that could not be read"


def _unread_volume(site: Site) -> bool:
    return any(f.unread and f.amount is not None and f.amount.unit.dimension == VOLUME for f in site.before)


def _package_of(out: Finding, site: Site) -> None:
    """`8 ft sticks, boxes of 50`: pieces of the package just named, else of the thing itself."""
    out.kind = "package"
    last = site.before[-1] if site.before else None
    if last is None or last.kind != "package" or last.per is None or out.amount is None or out.per is None:
        return
    if last.per.unit is not out.per.unit:
        out.amount, out.subjects = evolve(out.amount, unit=last.per.unit), list(last.subjects)


def _coverage(out: Finding, site: Site) -> None:
    """A theoretical spread at a film that is named beside it is no spread of the film that is wanted."""
    near = [*site.phrase.tags, *site.label, *(t for a in site.context.heads for t in a.tags)]
    theoretical = any(t.name == "basis" and t.value == "theoretical" for t in near)
    films = [n for n, t in enumerate(near) if t.name == "THIN_UNIT" and n and near[n - 1].name == "NUMBER"]
    if theoretical and films and near[films[0] - 1].number == 1:
        out.unread = "a theoretical spread at one unit of film: the film wanted divides it"


def _pieces(out: Finding, site: Site) -> None:
    """`25 lb boxes, about 5,500 pieces`: of the package just named."""
    last = site.before[-1] if site.before else None
    if last is not None and last.kind == "package" and not last.unread:
        out.kind, out.per, out.subjects = "package", last.per, last.subjects
    elif _in_container(out, site):
        return
    else:
        out.unread = "a count of pieces, and nothing says of what package"


def _bare(out: Finding, site: Site) -> None:
    """A bare measure: the words around it say what it is, else the sort of thing that is measured."""
    assert out.amount is not None
    unit = out.amount.unit
    if unit.dimension == LENGTH:
        _bare_length(out, site, _hint(out, site))
    elif unit is UNITS["%"]:
        hint = _hint(out, site, ("waste", "solids"))
        if hint:
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

    own = [t for t in site.phrase.tags if hint_of(t)]
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
    subjects = list(site.subjects_near())
    spaced = site.lexicon.in_band("spacing", quantity.size)
    hinted = any(found.hint_of(t) for t in (*site.phrase.tags, *site.label))
    sized = bool(subjects) and site.can(subjects[0], "thickness") and quantity.size in site.lexicon.sizes("thickness")
    if last is not None and last.kind in ("spacing", "framing") and spaced and site.distinct and not hinted:
        out.kind, out.subjects = last.kind, list(last.subjects)
        out.how.append(("kind", "the fact before"))
    elif hint in ("spacing", "framing") and not sized:
        out.kind = "spacing"
        _spacing(out, site)
        if hint == "framing" and out.kind == "spacing" and not any(site.can(s, "spacing") for s in subjects):
            out.kind = "framing"
    elif hint == "long":
        _long(out, site)
    elif hint == "wide":
        out.aside = "a width"
    elif _in_container(out, site):
        return
    elif hint == "package":
        out.unread = "a length of something packed, and the package is not named"
    elif not subjects and quantity.size in site.lexicon.sizes("thickness") and _speaks_of_sheets(site):
        out.kind = "thickness"
    else:
        _by_measure(out, site, subjects)


def _own_length(out: Finding, site: Site) -> bool:
    """`40 mm nails at 200 mm`: a length just before a fastener's name is its own."""
    assert out.amount is not None
    behind = site.behind(out.fact)
    if not behind or behind[0].name != "subject":
        return False
    noun = behind[0].value
    if "stick" in site.lexicon.holds.get(noun, ()) and site.lexicon.in_band("stick", out.amount.size):
        out.kind, out.per = "package", Quantity(_ONE, UNITS["stick"])
        out.subjects = [Word(noun, "the words behind the number")]
        return True
    if "long" not in site.lexicon.measures.get(noun, {}):
        return False
    near = behind[0].start - out.fact.over <= _WORD_BETWEEN
    if near and site.lexicon.in_band("long", out.amount.size):
        out.kind, out.subjects = "fastener length", [Word(noun, "the words behind the number")]
        return True
    return False


_WORD_BETWEEN = 16
"""Characters of one word that may stand between a size and its noun: `40 mm galvanised nails`."""


def _speaks_of_sheets(site: Site) -> bool:
    return any(t.name in ("LAYER", "type") for t in site.phrase.tags)


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


def _in_container(out: Finding, site: Site) -> bool:
    """`Rolls: 500 ft`: a content whose container stands in the label, the key or the column's head."""
    for tags in (site.label, *(a.tags for a in site.context.heads if a.role != "row")):
        container = next((t for t in reversed(tags) if t.name == "CONTAINER" and t.value != "sheet"), None)
        if container is not None:
            out.kind, out.per = "package", Quantity(_ONE, UNITS[container.value])
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
            elsewhere = [t for t in named(site.phrase.tags, "where") if not t.value.endswith("layer")]
            kind = "" if elsewhere else measures["long"]
        elif kind == "spacing":
            placed = named(places, "surface") or named(places, "where") or any(t.also for t in named(places, "subject"))
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
    if _head_rate(out, site) or _in_container(out, site):
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
    unit, counted, last = _head_unit(site), _counted_by_label(site), site.last
    if counted == "finish level":
        out.kind = counted
    elif _counts_product(out, site):
        out.kind = "coats"
    elif unit is not None:
        out.amount = evolve(out.amount, unit=unit)
        out.fact = evolve(out.fact, amount=out.amount)
        if unit.name in ("mil", "um"):
            out.kind = "film"
            _film(out, site)
        else:
            _bare_length(out, site, _hint(out, site))
        out.how.append(("unit", "the head of the column"))
    elif counted:
        out.kind = counted
    elif out.amount.low.denominator in (4, 8, 16, 2) and _is_sheet_size(out, site):
        out.kind, out.amount = "thickness", evolve(out.amount, unit=UNITS["in"])
        out.how.append(("unit", "the only one it can have"))
    elif last is not None and last.kind in _SHARED and last.amount is not None and site.distinct:
        ratio = out.amount.low / last.amount.low if last.amount.low else Fraction(0)
        if not Fraction(1, 3) <= ratio <= 3:
            out.unread = "a number without a unit"
            return
        out.kind, out.amount, out.per = last.kind, evolve(out.amount, unit=last.amount.unit), last.per
        out.how.append(("unit", "the number before it"))
        if last.kind in ("spacing", "framing"):
            out.subjects = list(last.subjects)
    else:
        out.unread = "a number without a unit"


def _is_sheet_size(out: Finding, site: Site) -> bool:
    """`five-eighths on the ceilings`: a fraction that is a thickness in inches, said of a thing that has one."""
    assert out.amount is not None
    nearest = next(site.subjects_near(), "")
    size = out.amount.low * UNITS["in"].factor
    return site.can(nearest, "thickness") and out.amount.low < 1 and size in site.lexicon.sizes("thickness")


def _counts_product(out: Finding, site: Site) -> bool:
    """`one undercoat, two gloss`: a small number just before something put on in coats, where a place is named."""
    assert out.amount is not None
    behind, low = site.behind(out.fact), out.amount.low
    if not behind or behind[0].start - out.fact.over > _NEXT or out.amount.high is not None:
        return False
    noun = behind[0]
    coated = noun.name == "sheen" or (noun.name == "subject" and site.can(noun.value, "coats"))
    places = (*site.label, *(t for a in site.context.heads for t in a.tags))
    return coated and low in (1, 2, 3, 4) and any(t.name in ("surface", "room") for t in places)


_SHARED = ("spacing", "framing", "coats", "coverage")


def _counted_by_label(site: Site) -> str:
    """`coats` or `layers`, where the label, the key, the column or a heading of that one word says so."""
    heads = [a.tags for a in site.context.heads if a.role != "row"]
    over = [a.tags for a in site.context.above[:1] if not named(a.tags, "NUMBER") and not named(a.tags, "subject")]
    for tags in (site.label, *heads, *over):
        said = [found.hint_of(t) for t in tags if found.hint_of(t)]
        if said:
            return said[-1] if said[-1] in ("coats", "layers", "finish level") else ""
    return ""


def _head_unit(site: Site) -> Unit | None:
    """A unit in the head of the column or in the heading of the table, for a cell that is a number alone."""
    if not site.context.heads:
        return None
    columns = [a.tags for a in site.context.heads if a.role == "column"]
    for tags in (*columns, *(a.tags for a in site.context.above[:3])):
        unit = next((t.unit for t in tags if t.name in ("LENGTH_UNIT", "THIN_UNIT") and t.unit is not None), None)
        if unit is not None:
            return unit
    return None


_RULES: dict[str, Callable[[Finding, Site], None]] = {
    "": _bare, "spacing": _spacing, "film": _film, "long": _long, "wide": _wide, "does": _does, "ordinal": _ordinal,
    "finish level": _finish_level, "layers": _layers, "coverage": _coverage, "coats": _coats, "package of": _package_of, "pieces": _pieces,
}  # fmt: skip
