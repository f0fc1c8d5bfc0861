"""Whether a number without a unit counts coats: by what stands right behind it, what it is added to, or its label."""

from __future__ import annotations

from attrs import evolve

from darby.quantities.numerals import ORDINALS
from darby.reading.binding.kinds.kind_by_words import NEXT
from darby.reading.binding.site.finding import Finding, Site


def numbers_coats(out: Finding, site: Site) -> bool:
    """Whether a number stands under the head `Coat`: it says which coat, not how many."""
    assert out.amount is not None
    columns = [a.tags for a in site.context.heads if a.role == "column"]
    which = any(
        len(tags) == 1 and tags[0].name == "COAT" and tags[0].end - tags[0].start == len("coat") for tags in columns
    )
    return which and out.amount.low in range(1, len(ORDINALS) + 1) and out.amount.high is None


def counts_product(out: Finding, site: Site) -> bool:
    """`one varnish, two gloss`: a small number just before something put on in coats, where a place is named."""
    assert out.amount is not None
    behind, low = site.behind(out.fact), out.amount.low
    again = site.last is not None and site.last.kind == "coats"
    if behind and behind[0].name in ("OF", "BY_X"):  # `one coat of wax, one of gloss`, `2 x gloss`
        behind = [evolve(t, start=out.fact.over) for t in behind[1:2]]
    if _added_to_product(out, site):
        return low in (1, 2, 3, 4) and out.amount.high is None
    if not behind or behind[0].start - out.fact.over > NEXT or out.amount.high is not None:
        return False
    noun = behind[0]
    coated = noun.name == "sheen" or (noun.name == "subject" and site.can(noun.value, "coats"))
    said = (*site.phrase.tags, *site.part.tail)  # `one varnish and one gloss to all frames`
    places = (*site.headed, *said, *(t for a in site.context.heads for t in a.tags))
    return coated and low in (1, 2, 3, 4) and (again or any(t.name in ("surface", "room") for t in places))


def _added_to_product(out: Finding, site: Site) -> bool:
    """Whether a number is all that is added to something put on in coats: `varnish plus two.`"""
    words, behind = site.words_before(out.fact)[-2:], site.behind(out.fact)
    if len(words) < 2 or (behind and behind[0].name not in ("COMMA", "SEMICOLON", "STOP")):
        return False
    goods, sign = words
    added = sign.name == "PLUS" or (sign.name == "SIGN" and sign.value == "+")
    return added and goods.name == "subject" and site.can(goods.value, "coats")


def counts_label(out: Finding, site: Site) -> bool:
    """`Varnish: one`: all that a label of something put on in coats says is a small number."""
    assert out.amount is not None
    goods = [t for t in site.label if t.name == "subject" and site.can(t.value, "coats")]
    alone = all(t.name in ("NUMBER", "COMMA", "sheen", "color") for t in (*site.phrase.tags, *site.part.tail))
    small = out.amount.low in (1, 2, 3, 4) and out.amount.high is None
    return bool(goods) and alone and small and all(t.name in ("subject", "sheen") for t in site.label)
