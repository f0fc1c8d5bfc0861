"""Of what a fact is said: the places a subject is sought in, the nearest first. What none of them reaches stays unread."""

from __future__ import annotations

from darby.reading.binding.able import OVER, able_words, goods_over, joined_to, on_another, underneath, with_look
from darby.reading.binding.site.conditions import GOODS
from darby.reading.binding.site.finding import Above, Finding, Site, Word, joined_subjects, named
from darby.reading.parsing.phrases import COUNTED
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.whole_labels import MEASURE
from darby.rules.found_by import FoundBy, at


def find_subjects(out: Finding, site: Site) -> list[Word]:
    """The subjects of a fact whose kind is known, each with the rule that found it; none where nothing is in reach."""
    if out.subjects:
        return out.subjects
    if out.fact.subject:
        own = Word(out.fact.subject, FoundBy.FACT)
        return _coat_of(out, site) or [own] * site.can(own.value, out.kind)
    return (
        _behind_colon(out, site)
        or joined_to(out, site)
        or on_another(out, site)
        or _in_phrase(out, site)
        or _by_sheen(out, site)
        or _in_phrase_before(out, site)
        or _in_label_or_tail(out, site)
        or _by_color(out, site)
        or _by_place(out, site)
        or _by_look_of_sentence(out, site)
        or ([] if _of_some_coat(out, site) else _around(out, site))
    )


def _coat_of(out: Finding, site: Site) -> list[Word]:
    """What a coat with a name of its own is of, where it says so: `one mist coat of the finishing oil` is of the oil."""
    goods = next((t for t in site.behind(out.fact)[:2] if t.name != "FULL"), None)
    last = next((t for t in reversed(site.sentence.tags) if t.end <= out.fact.over), None)
    led = last is not None and (last.name, last.value) == ("COAT", out.fact.subject) and "coat" in dict(out.fact.scope)
    near = goods is not None and goods.name == "subject" and goods.start - out.fact.over <= OVER
    return [Word(goods.value, FoundBy.BEHIND)] if led and goods and near and site.can(goods.value, out.kind) else []


def _of_some_coat(out: Finding, site: Site) -> bool:
    """Whether a second count names nothing of its own, or a film is of `each coat` of something that is not named."""
    return (out.kind == "film" and bool(named(site.phrase.lead, "COAT") and site.done)) or _counts_again(out, site)


def _named_by_label(able: list[Tag], out: Finding, site: Site) -> list[Tag]:
    """Of the products of a phrase those that count beside its label: a mere material is of the product that the label names.

    `Varnish: oil, one coat` is of the varnish, whatever else oil may be. A lead-in or heading of one product is a label too, and so is the
    head or the key of a cell.
    """
    semicolon = any(t.name == "SEMICOLON" and t.start < site.part.start for t in site.sentence.tags)
    if site.label and (site.earlier or semicolon):
        return able  # `Varnish: one coat, then two coats oil`: the label has had its own
    over = site.context.above[0].tags if site.context.above else ()
    beside = (above.tags for above in site.context.heads if above.role in ("column", "key"))
    labels = ({t.value for t in able_words(tags, out, site) if not _weak(t)} for tags in (site.label, *beside, over))
    label = next((values for values in labels if values), set())
    return [t for t in able if not _weak(t) or t.value in label] if len(label) == 1 else able


def _weak(tag: Tag) -> bool:
    return any(key == "weak" for key, _ in tag.also)


def _behind_colon(out: Finding, site: Site) -> list[Word]:
    """`Second coat: flat varnish`: a count that is a label is of what stands behind the colon."""
    behind = site.behind(out.fact)
    if out.kind not in COUNTED or not behind or behind[0].name != "COLON":
        return []
    if any(t.start < out.fact.place for t in able_words(site.phrase.tags, out, site)):
        return []  # what is counted is named before the number
    stop = next((n for n, t in enumerate(behind) if t.name in ("SEMICOLON", "STOP")), len(behind))
    able = able_words(behind[1:stop], out, site)
    if able:
        return [Word(able[0].value, FoundBy.COLON)]
    implied = site.implied("sheen")
    if implied and site.fits(implied, out) and named(behind[1:stop], "sheen"):
        return [Word(implied, FoundBy.COLON_SHEEN)]
    return []


def _in_phrase(out: Finding, site: Site) -> list[Word]:
    """Counts take the words behind them first (`two coats of ..`), all else the words before."""
    tags = site.phrase.tags
    able = _named_by_label(able_words(tags, out, site), out, site)
    behind = [t for t in able if t.start > out.fact.place]
    ahead = [t for t in able if t.start < out.fact.place]
    sheens = [t.start for t in tags if t.name == "sheen" and t.start > out.fact.place]
    if (
        behind
        and out.kind in COUNTED
        and sheens
        and sheens[0] < behind[0].start
        and behind[0].value != site.implied("sheen")
    ):
        return []  # `one coat of flat, and bathrooms the varnish`: the nearest word is the sheen
    if behind and (out.kind in COUNTED or not ahead):
        return joined_subjects(tags, behind[0], site, out.kind, FoundBy.BEHIND)
    if out.kind in COUNTED and any(t.name == "sheen" and t.start > out.fact.place for t in tags):
        return []  # `varnish plus two coats gloss`
    if ahead:
        return with_look(joined_subjects(tags, ahead[-1], site, out.kind, FoundBy.AHEAD), tags, ahead[-1], out, site)
    return []


def _by_sheen(out: Finding, site: Site) -> list[Word]:
    """A sheen says that the finish is meant, unless the label names a product."""
    implied = site.implied("sheen")
    said = any(not t.loose for t in named(site.phrase.tags, "sheen")) or dict(out.fact.scope).get("sheen")
    others = {t.value for t in able_words(site.label, out, site)} - {implied}
    if implied and said and site.can(implied, out.kind) and not others:
        return [Word(implied, FoundBy.SHEEN)]
    return []


def _by_color(out: Finding, site: Site) -> list[Word]:
    """A color in the sentence says that the finish is meant, where no product is named: `accent wall in Ember Red, three coats`."""
    implied, tags = site.implied("sheen"), site.sentence.tags
    named_goods = any(t.name in ("subject", "COAT") and t.value for t in tags)
    if out.kind != "coats" or named_goods or site.before or not named(tags, "color") or not site.can(implied, out.kind):
        return []
    return [Word(implied, FoundBy.SENTENCE)]


def _by_look_of_sentence(out: Finding, site: Site) -> list[Word]:
    """`matt: one mist coat and two full coats`: behind coats of another product those without a name are of what has the look."""
    sheen, last = site.implied("sheen"), site.last
    earlier = [t for t in site.sentence.tags if t.start < out.fact.place]
    looks = any(t.name == "sheen" or (t.value == sheen and "sheen" in dict(t.also)) for t in earlier)
    full = bool(named(site.phrase.tags, "FULL")) or site.distinct
    if (
        out.kind != "coats"
        or last is None
        or last.kind != "coats"
        or not looks
        or not full
        or not site.fits(sheen, out)
    ):
        return []
    return [Word(sheen, FoundBy.SHEEN)] if all(w.value != sheen for w in last.subjects) else []


def _in_phrase_before(out: Finding, site: Site) -> list[Word]:
    """`Bolts: 12 in. on ceilings, 16 in. on walls`: a list goes on about its subject; a second count does not."""
    if out.kind in COUNTED and any(f.kind == out.kind and not f.unread for f in site.before):
        return []
    for finding in reversed(site.before):
        mine = any(finding.fact in p.facts for p in site.part.phrases)
        if mine and finding.subjects and site.fits(finding.subjects[0].value, out):
            return [Word(w.value, FoundBy.PHRASE_BEFORE) for w in finding.subjects]
    earlier = [t for p in site.earlier for t in able_words(p.tags, out, site)]
    return [Word(earlier[-1].value, FoundBy.PHRASE_BEFORE)] if earlier else []


def _in_label_or_tail(out: Finding, site: Site) -> list[Word]:
    label = _named_by_label(able_words(site.label, out, site), out, site)
    if label:
        return with_look(
            joined_subjects(site.label, label[0], site, out.kind, FoundBy.LABEL), site.label, label[0], out, site
        )
    for tag in site.label:
        if tag.name == "COAT" and tag.value and site.can(tag.value, out.kind):
            return [Word(tag.value, FoundBy.LABEL)]
    sheen = site.implied("sheen")
    if sheen and named(site.label, "sheen") and not named(site.label, "subject") and site.fits(sheen, out):
        return [Word(sheen, FoundBy.LABEL_SHEEN)]
    tail = able_words(site.part.tail, out, site)
    if tail:
        return joined_subjects(site.part.tail, tail[0], site, out.kind, FoundBy.TAIL)
    return []


def _by_place(out: Finding, site: Site) -> list[Word]:
    """Coats on joints, angles and heads can be of one product only."""
    if out.kind != "coats":
        return []
    implied = site.lexicon.implied_where
    for tag in named((*site.phrase.tags, *site.part.tail, *site.label), "where"):
        if tag.value in implied and site.can(implied[tag.value], out.kind):
            return [Word(implied[tag.value], FoundBy.PLACE)]
    return []


def _counts_again(out: Finding, site: Site) -> bool:
    """Whether a second count in a sentence names nothing of its own: whose it is cannot be known."""
    again = any(f.kind == out.kind and not f.unread and not f.aside for f in site.before)
    return out.kind in COUNTED and again and not site.distinct


def _around(out: Finding, site: Site) -> list[Word]:
    """What the clause stands under and beside, the nearest first; last of all what every fact of the kind is of.

    A label that nobody knows names something else: nothing around it may take its place.
    """
    kind, context = out.kind, site.context
    if site.part.strange or out.fact.taker:
        return []
    if context.subject and site.can(context.subject, kind):
        return [Word(context.subject, FoundBy.UNDER)]
    if any(t.value == MEASURE for t in named(site.label, "NEUTRAL")):
        return _measured(out, site)
    under: set[str] = set()
    if kind == "coats":
        same = next((f for f in reversed(site.before) if f.kind == kind and f.subjects and not f.unread), None)
        under = {t.value for t in underneath((*site.phrase.tags, *site.part.tail))}
        if same is not None and same.subjects[0].value not in under:
            return [Word(w.value, FoundBy.FACT_BEFORE) for w in same.subjects]
    found = _above(out, site, context.heads)
    if found:
        return found
    if under and site.implied("sheen") not in under:  # `two coats over wax`: of what goes over it
        return [Word(goods_over(under, site), FoundBy.SENTENCE)]
    if kind == "coverage" and (several := _spread_before(out, site)):
        return several
    for earlier, how in ((site.before, FoundBy.SENTENCE), (site.done, FoundBy.SENTENCE_BEFORE)):
        for finding in reversed(earlier):
            if finding.subjects and site.fits(finding.subjects[0].value, out) and not named(site.label, "subject"):
                return [Word(w.value, how) for w in finding.subjects]
    if site.previous is not None:
        able = able_words(site.previous.tags, out, site)
        if able and not named(site.label, "subject"):
            return [Word(able[-1].value, FoundBy.SENTENCE_BEFORE)]
    if kind == "spacing":
        for finding in reversed(context.sibling):
            if finding.kind == kind and finding.stands and finding.subjects:
                return [Word(w.value, FoundBy.CLAUSE_BEFORE) for w in finding.subjects]
    over = () if kind == "deduct openings over" else context.above
    over = (*over, context.sheet) if context.sheet is not None and kind in GOODS else over
    if found := _above(out, site, over) or _above(out, site, (*context.heads, *over), loose=True):
        return found
    if kind == "spacing" and any(_fastens(t, site) for t in _hints(site)):
        kind = "fastening"
    implied = site.implied(kind)
    return [Word(implied, at(FoundBy.IMPLIED, kind))] if implied else []


def _fastens(hint: Tag, site: Site) -> bool:
    """Whether a word speaks of fastening: `fasten` does by itself, `fix` beside something that is laid in layers."""
    if hint.value == "fastening sheets":
        return any(site.can(t.value, "layers") for t in named(site.part_tags, "subject"))
    return "fastening" in (hint.value, dict(hint.also).get("means"))


def _spread_before(out: Finding, site: Site) -> list[Word]:
    """Of which products of the sentence before a rate is that stands alone: of each where it says so; else nobody knows."""
    first = site.previous.tags[0].start if site.previous is not None and site.previous.tags else None
    coats = [f for f in site.done if first is not None and f.kind == "coats" and f.stands and f.fact.place >= first]
    goods = dict.fromkeys(w.value for f in coats for w in f.subjects if site.fits(w.value, out))
    if len(goods) < _SEVERAL or site.before:
        return []
    said = [t.name for t in site.sentence.tags if t.name != "STOP"]
    if not {"EACH", "BOTH"} & {*said} and said[-1:] != ["PER"]:  # `300 sq ft/gal for each.`
        out.doubt = out.doubt or "one rate behind two products: whose it is is not said"
    return [Word(product, FoundBy.SENTENCE_BEFORE) for product in goods]


_SEVERAL = 2


def _measured(out: Finding, site: Site) -> list[Word]:
    """`Sizes: ..` is of what the sentence before names, or of the one thing that it stands under; goods that nobody orders here have sizes too."""
    if site.previous is not None:
        able = able_words(site.previous.tags, out, site)
        return joined_subjects(site.previous.tags, able[-1], site, out.kind, FoundBy.SENTENCE_BEFORE) if able else []
    return _above(out, site, site.context.all[:1])


def _hints(site: Site) -> list[Tag]:
    """Words that say what is spoken of, in the fact's phrase, its label and what it stands under."""
    near = (*site.phrase.tags, *site.label, *(t for a in site.context.all for t in a.tags))
    return [t for t in near if t.name == "hint"]


def _above(out: Finding, site: Site, places: tuple[Above, ...], *, loose: bool = False) -> list[Word]:
    """What headings and heads name, or a look there stands for; a `loose` one is of goods that stand farther up, where any do."""
    sheen = site.implied("sheen")
    for above in places:
        able = able_words(above.tags, out, site)
        if able:
            return joined_subjects(above.tags, able[-1], site, out.kind, above.name)
        packed = out.kind == "package" and above.role not in ("heading", "lead-in")
        looks = any(t.loose is loose for t in named(above.tags, "sheen"))
        if sheen and site.can(sheen, out.kind) and looks and not packed:
            return [Word(sheen, above.name)]
    return []
