"""Whether a number is a quantity of ours at all: references, prices, samples, what is forbidden, struck out or a condition."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from attrs import evolve

from darby.quantities.units import LENGTH, NUMBER_ONLY, UNITS
from darby.reading.binding.belief.offers import ON_OFFER, on_offer
from darby.reading.binding.belief.polarity import behind_no, in_condition
from darby.reading.binding.site.finding import Finding, Site, last_break, named, reason
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.sentence import Phrase
from darby.reading.parsing.tagging.tag import Tag

CONDITIONAL = "part of a condition"
_LISTED = ("NUMBER", "COMMA", "AND", "RANGE", "DASH", "CODE", "OPEN", "STOP")


_COUNTED = ("coats", "layers")
_BUILT = ("layers", "thickness", "framing", "sheet")
_OPENING = 6
_OF = len(" of ")


def worth_binding(out: Finding, site: Site) -> bool:
    """True where the fact may become a rule; else the finding says why not."""
    fact, phrase, part = out.fact, site.phrase, site.part
    reference = _reference(fact, site)
    if reference:
        return out.refuse(reference)
    own = site.part_tags
    for tags in (own, *(a.tags for a in site.context.all if a.role != "row")):
        everything = next((t.value for t in tags if t.name == "ASIDE_ALL"), "")
        if everything and not _heads_rates(tags) and not (tags is own and _of_supports(everything, tags)):
            return out.refuse(everything)
    over = (
        site.context.above[0].tags
        if site.context.above and site.context.above[0].role in ("heading", "lead-in")
        else ()
    )
    if reason(over) and not any(t.name in ("subject", "surface", "hint") for t in over):
        why = f"under a heading or lead-in about {reason(over).lstrip('?').partition(':')[0]}: is it yours?"
        beside = any(t.name == "ASIDE" and t.loose for t in over)
        if not (beside and any(t.name in ("subject", "sheen") for t in own)):
            return out.refuse(f"?{why}")
        out.confirm = why
    other = _governed_by_other(fact, site)
    if other is not None:
        between = [t for t in site.words_before(fact) if t.start > other.start and t.name in ("subject", "surface")]
        own = [t for t in phrase.tags if t.name in ("subject", "sheen") and t.start > other.start]
        if (between or own) and other not in part.label and fact.kind:
            return out.refuse(f"?it stands behind {other.value}: whose it is is not certain")
        return out.refuse(other.value)
    weak = not fact.kind and fact.per is None
    if _says_for_what(fact, site):
        return out.refuse("says where something else holds")
    if weak and fact.amount is not None and fact.amount.unit.dimension in (LENGTH, NUMBER_ONLY):
        behind = site.behind(fact)
        words = site.words_before(fact)
        if words and words[-1].name == "WITHIN":
            return out.refuse("a tolerance, or a distance from something")
        if site.before and site.before[-1].aside.startswith("a tolerance,"):
            return out.refuse(site.before[-1].aside)
        layered = [t.name for t in behind[:2]] == [
            "INTO",
            "layer",
        ]  # `25 mm into the base layer` is how long a thing is
        if behind and behind[0].name == "INTO" and behind[0].start - fact.over <= 2 and not layered:
            return out.refuse("a depth in the support")
        if behind and behind[0].name == "FROM" and fact.amount.unit.dimension == LENGTH:
            return out.refuse("a distance from something")
        if named(words[last_break(words) :], "LEAVE"):
            return out.refuse("a gap or a clearance")
    behind = [t for t in site.behind(fact)[:2] if t.name != "OF"]
    if behind and behind[0].name == "ASIDE" and fact.kind in _COUNTED and behind[0].start - fact.over <= _OF:
        return out.refuse(behind[0].value)  # `a second coat of limewash`
    if on_offer(out, site):
        return out.refuse(ON_OFFER)
    if fact.kind in _BUILT and _describes(site):
        return out.refuse("describes what is there already")
    last = site.words_before(fact)[-1:]
    if fact.kind == "spacing" and reason(last) and last[0] in phrase.lead and not named(phrase.lead, "subject"):
        return out.refuse(reason(last))  # `Rails: 10 ft long; hooks 6 in. apart`: of the hooks
    near = reason(t for t in phrase.tags if t.name == "ASIDE" and _nearest(t, phrase) is fact)
    if weak and near:
        return out.refuse(near)
    if weak and reason(part.label) and not named(part.label, "subject"):
        return out.refuse(reason(part.label))
    return _believed(out, site)


def _of_supports(why: str, tags: Sequence[Tag]) -> bool:
    """Whether words that ask whose work it is speak of supports alone: whoever puts them up, ours goes on them as they are.

    `Supports are by others and will be in place at 600 mm centres.`
    """
    goods = [t for t in tags if t.name in ("subject", "sheen", "COAT", "LAYER", "hint")]
    return why.startswith("?") and bool(goods) and all((t.name, t.value) == ("hint", "framing") for t in goods)


def _describes(site: Site) -> bool:
    """Whether a sentence says what existing work is, and orders nothing: `Existing walls are one layer thick.`"""
    names = [t.name for t in site.sentence.tags[:_OPENING]]
    holds = names.index("HOLDS") if "HOLDS" in names else 0
    before = names[:holds]
    return (
        "condition" in before
        and "surface" in before
        and site.sentence.tags[names.index("condition")].value == "existing"
    )


def reason_against(out: Finding, site: Site) -> str | None:
    """Why a choice that is made with words is none: forbidden, an old value, an alternate, under a condition; None where it stands."""
    for tags in (site.part_tags, *(a.tags for a in site.context.all if a.role != "row")):
        everything = next((t.value for t in tags if t.name == "ASIDE_ALL"), "")
        if everything:
            return everything
    words, behind = site.words_before(out.fact), site.behind(out.fact)
    before = [t for t in words if t.name != "subject"]
    if before and before[-1].name in ("INSTEAD_OF", "NO", "PLACE_BEHIND", "SMALLER_THAN"):
        return (
            "the old value, which another takes the place of"
            if before[-1].name == "INSTEAD_OF"
            else "says what is not wanted"
        )
    reads = behind[:1] and (behind[0].name, behind[0].value) == ("NEW_VALUE", "reads")
    exchanged = bool(words) and words[-1].name == "FOR" and _exchanged(words, behind)
    if reads or exchanged or _old_value(words, out.fact, site):
        return "the old value, which another takes the place of"
    if named(behind[:4], "NOT_PERMITTED"):
        return "forbidden: what is not to be used"
    if in_condition(words):
        return CONDITIONAL
    other = next((t for t in (*site.label, *words[-2:]) if t.name == "ASIDE"), None)
    return other.value.lstrip("?") if other is not None else None


def _heads_rates(tags: Sequence[Tag]) -> bool:
    """Whether words are the head of a column of rates: `Allowance (kg/m²)`."""
    names = [t.name for t in tags]
    return any(
        one.endswith("_UNIT") and per == "PER" and other == "AREA_UNIT"
        for one, per, other in zip(names, names[1:], names[2:], strict=False)
    )


def _says_for_what(fact: Fact, site: Site) -> bool:
    """Whether a length behind another fact and `for` says what that one is for: `pins of 32 mm for 10 mm panels`, `32 mm through two
    layers of 10 mm`."""
    words = site.words_before(fact)
    length = fact.amount is not None and fact.amount.unit.dimension == LENGTH and fact.per is None
    listed = _before_a_length(site.behind(fact)) and fact.amount is not None and fact.per is None
    earlier = [f for f in site.phrase.facts if f.place < fact.place]
    while words and words[-1].name in ("LAYER", "A_LAYER", "OF") and len(words) > 1:
        words = words[:-2] if words[-2].name == "NUMBER" else words[:-1]
    while len(words) > _PAIR and words[-1].name in _LISTS and words[-2].name in _SIZED:
        words = words[: -2 - (words[-2].name == "LENGTH_UNIT")]  # `for 10, 13 and 15 mm panels`
        earlier = [f for p in site.part.phrases for f in p.facts if words and f.place < words[-1].start]
    return (length or listed) and bool(earlier) and bool(words) and words[-1].name in ("FOR", "THROUGH")


_PAIR, _FEW = 2, 12
_LISTS, _SIZED = ("AND", "COMMA", "EITHER"), ("NUMBER", "LENGTH_UNIT")


def _before_a_length(behind: Sequence[Tag]) -> bool:
    """Whether a number without a unit stands in a list whose last number has one: `10 and 13 mm`."""
    names = [t.name for t in behind[:_FEW]]
    while names[:2] and names[0] in _LISTS and names[1:2] == ["NUMBER"]:
        names = names[2:]
        if names[:1] == ["LENGTH_UNIT"]:
            return True
    return False


def _believed(out: Finding, site: Site) -> bool:
    """Whether the words before the fact let it stand: no prohibition, old value, price or condition."""
    fact, words = out.fact, site.words_before(out.fact)
    item = words[last_break(words) :]
    if named(item, "NO") and not behind_no(item):
        return out.refuse("forbidden: what is not to be used")
    behind = site.behind(fact)
    semicolon = next((n for n, t in enumerate(behind) if t.name == "SEMICOLON"), len(behind))
    if named(behind[:semicolon], "NOT_PERMITTED"):
        return out.refuse("forbidden: what is not to be used")
    if any(t.name == "NEW_VALUE" and t.value == "reads" for t in behind[:2]) and not named(words, "CHANGED"):
        return out.refuse("the old value, which another takes the place of")
    if words and words[-1].name == "FOR" and _exchanged(words, behind):
        return out.refuse("the old value, which another takes the place of")
    if words and words[-1].name == "SHOWN" and any(t.name == "SHALL_BE" for t in behind):
        return out.refuse("the old value, which another takes the place of")
    if words and words[-1].name == "INSTEAD_OF":
        return out.refuse("the old value, which another takes the place of")
    chosen = bool(words) and words[-1].name == "CHOICE"
    if chosen or (behind and behind[0].name == "CHOICE" and len(behind) > 1 and behind[1].name == "NUMBER"):
        return out.refuse("?a choice in brackets that nobody has made")
    if [t.name in wanted for t, wanted in zip(words[-2:], (_MEASURED, _COMPARES), strict=False)] == [True, True]:
        return out.refuse("says where something else holds")  # `width exceeding 600 mm: two layers`
    if words and words[-1].name == "MONEY":
        return out.refuse("a price")
    changing = bool(words) and words[-1].name in ("CHANGED", "FROM") and bool(named(words, "CHANGED"))
    if changing and fact.amount is not None and fact.amount.high is not None:
        # `changes from 1/2 inch to 5/8 inch` is no range: the second is the new value
        out.amount, out.doubt = evolve(fact.amount, low=fact.amount.high, high=None), ""
    elif _old_value(words, fact, site):
        return out.refuse("the old value, which another takes the place of")
    excepted = words if site.before else words[last_break(words) :]  # a comma closes an exception that opens a sentence
    opens = next((t.start for t in reversed(excepted) if t.name == "EXCEPT"), None)
    goes_on = opens is not None and any(
        f.stands and f.fact.place > opens for f in site.before
    )  # `.. two coats, 12 m2/L`
    if opens is not None and not site.distinct and not goes_on:
        return out.refuse("part of an exception")
    if any(t.name == "EXCEPT" and next_.name == "COMMA" for t, next_ in pairwise(words[1:])):
        return out.refuse("?said of an exception in a place that no list knows")
    if in_condition(words):
        return out.refuse(CONDITIONAL)
    return True


_MEASURED = ("WIDE", "LONG", "THICK")
_COMPARES = ("LARGER_THAN", "SMALLER_THAN")


def _reference(fact: Fact, site: Site) -> str:
    """Why a bare number is a name: `Page 3`, `Rooms 102 and 103`."""
    if fact.kind or fact.per is not None or fact.amount is None or fact.amount.unit is not UNITS["each"]:
        return ""
    before = [t for t in site.sentence.tags if t.end <= fact.place]
    while before and before[-1].name in _LISTED:
        before.pop()
    return before[-1].value if before and before[-1].name == "REFERENCE" else ""


def _governed_by_other(fact: Fact, site: Site) -> Tag | None:
    """The word for something that no trade here orders, where it is the first thing named before the fact."""
    label = site.part.label
    for_ = next((n for n, t in enumerate(label) if t.name == "FOR"), len(label))
    if reason(label[for_:]) and not named(label[for_:], "subject"):
        return next(t for t in label[for_:] if t.name == "ASIDE")  # `Pins for door hardware: ..`
    lead = [*label, *(t for p in site.part.phrases for t in p.tags if t.start < fact.place)]
    words = site.words_before(fact)
    item = words[last_break(words) :]
    if (
        fact.kind == "coats"
        and not reason(label)
        and item != words
        and item
        and item[0].name == "subject"
        and site.can(item[0].value, fact.kind)
    ):
        return None  # `Wax 2 coats, varnish 1 coat`: an item of a list that names its own
    first = next((t for t in (*lead, *_key_tags(site)) if _governs(t)), None)
    high = first is not None and first.value == "a height" and named(lead, "surface")
    own = fact.kind or (first in site.headed and named(site.phrase.tags, "subject"))
    if first is None or first.name != "ASIDE" or (high and own):
        return None  # `Base, 4 in. high: two coats` is of the base
    return first


def _key_tags(site: Site) -> list[Tag]:
    """The words of the row's key, where a cell hangs on it as on a label."""
    return [t for a in site.context.heads if a.role == "key" for t in a.tags]


def _governs(tag: Tag) -> bool:
    return tag.name in ("subject", "ASIDE") or (tag.name in ("hint", "COAT", "LAYER") and tag.value != "film")


def _nearest(tag: Tag, phrase: Phrase) -> Fact:
    """The fact of a phrase that a word speaks of: the one just before it, else the one behind."""
    before = [f for f in phrase.facts if f.place <= tag.start]
    return before[-1] if before else phrase.facts[0]


def _exchanged(words: list[Tag], behind: list[Tag]) -> bool:
    """Whether `for` leads to what another takes the place of: `for E2 read E1`, `read E1 for E2`."""
    new = next((n for n in range(len(words) - 1, -1, -1) if words[n].name == "NEW_VALUE"), None)
    before = new is not None and len(words) - new <= _EXCHANGED and not words[new].value
    return before or (bool(behind) and behind[0].name == "NEW_VALUE" and not behind[0].value)


_EXCHANGED = 5
"""Tags from the word that brings the new value to the one behind `for`."""


def _old_value(words: list[Tag], fact: Fact, site: Site) -> bool:
    """Whether the fact stands behind `strike` or `change`, and the new value is still to come."""
    changed = [n for n, t in enumerate(words) if t.name == "CHANGED"]
    if not changed or named(words[changed[-1] :], "NEW_VALUE"):
        return False
    return any(t.start > fact.place and t.name in ("NEW_VALUE", "RANGE") for t in site.sentence.tags)
