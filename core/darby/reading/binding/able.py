"""Which of the words around a fact name what it can be of, and what coats that name nothing go over."""

from __future__ import annotations

from collections.abc import Sequence, Set
from itertools import pairwise

from darby.reading.binding.site.finding import Finding, Site, Word
from darby.reading.parsing.phrases import COUNTED
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy


def able_words(tags: Sequence[Tag], out: Finding, site: Site) -> list[Tag]:
    """Those of some words that name what a finding can be of."""
    named_coat = [t for t in tags if t.name == "COAT" and t.value and out.kind not in COUNTED]
    # `two coats topcoat`: what is counted is a coat by a name of its own
    named_coat += [t for one, t in pairwise(tags) if (one.name, one.value, t.name) == ("COAT", "", "COAT") and t.value]
    refused = {id(tag) for no, tag in pairwise(tags) if no.name == "NO" and tag.start - no.end <= 1}
    if out.kind == "coats":
        refused |= {id(tag) for tag in underneath(tags)}
    return [
        t for t in tags if (t.name == "subject" or t in named_coat) and id(t) not in refused and site.fits(t.value, out)
    ]


def underneath(tags: Sequence[Tag]) -> list[Tag]:
    """What coats go over, and are not of: `coats over wax`, `two coats over factory wax`."""
    plain = (t for t in tags if t.name != "condition")
    return [tag for over, tag in pairwise(plain) if over.name == "LARGER_THAN" and tag.start - over.end <= OVER]


OVER = 24
"""Letters between `over` and what lies underneath: a word or two say in what state it is."""


def goods_over(under: Set[str], site: Site) -> str:
    """What coats over some goods are of: the only goods of the same trade that have any, where those have none; else the finish."""
    for vocabulary in site.lexicon.vocabularies:
        own = vocabulary.tables.get("kinds", {})
        coated = [goods for goods in own if site.can(goods, "coats")]
        if under <= own.keys() and not any(goods in under for goods in coated) and len(coated) == 1:
            return coated[0]
    return site.implied("sheen")


def with_look(found: list[Word], tags: Sequence[Tag], last: Tag, out: Finding, site: Site) -> list[Word]:
    """Goods that a fact is of, and those that a look stands for where it is joined to them: `wax and gloss 16 m2/litre`."""
    behind = [t for t in tags if last.end <= t.start < out.fact.place or (t.start >= last.end and tags is site.label)][
        :2
    ]
    joined = len(behind) > 1 and behind[0].name == "AND"
    implied = site.implied(behind[1].name) if joined else ""
    if out.kind in COUNTED or not joined or not site.fits(implied, out) or any(w.value == implied for w in found):
        return found
    out.confirm = out.confirm or f"it may be said of {behind[1].value} alone, or of all that has a look"
    return [*found, *(Word(implied, w.how) for w in found[-1:])]


def joined_to(out: Finding, site: Site) -> list[Word]:
    """`oil + 2 coats`, `wax and two coats`: what a bare count is added to is not counted by it; the finish is."""
    implied, tags = site.implied("sheen"), site.phrase.tags
    before = [t for t in tags if t.end <= out.fact.place][-2:]
    if out.kind != "coats" or len(before) < 2 or not implied or not site.can(implied, out.kind):
        return []
    (goods, sign), behind = before, [t for t in tags if t.start > out.fact.place]
    added = sign.name in ("PLUS", "AND") or (sign.name == "SIGN" and sign.value == "+")
    apart = sign.start - goods.end > 1 or out.fact.place - sign.end > 1
    own = any(t.name in ("subject", "sheen") or (t.name == "COAT" and t.value) for t in behind)
    if (
        not added
        or apart
        or own
        or goods.name != "subject"
        or goods.value == implied
        or goods not in able_words(tags, out, site)
    ):
        return []
    return [Word(implied, FoundBy.SENTENCE)]


def on_another(out: Finding, site: Site) -> list[Word]:
    """`2 coats on 1 of wax`: coats that name nothing, right before a count of what lies under them, are of the finish."""
    implied, tags = site.implied("sheen"), site.sentence.tags
    behind = [t for t in site.behind(out.fact) if t.name != "LARGER_THAN"][:4]
    counted = [t.name in ("NUMBER", "A_COAT") for t in behind[:1]] == [True] and behind[0].start - out.fact.over <= OVER
    goods = next((t for t in behind if t.name in ("subject", "sheen", "COMMA", "AND", "STOP")), None)
    named_before = able_words([t for t in tags if t.start < out.fact.place], out, site)
    if out.kind != "coats" or not counted or goods is None or named_before or not site.can(implied, out.kind):
        return []
    another = goods.name == "subject" and goods.value != implied and site.can(goods.value, out.kind)
    return [Word(implied, FoundBy.SENTENCE)] if another else []
