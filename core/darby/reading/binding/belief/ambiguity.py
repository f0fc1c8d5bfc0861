"""What is read but cannot be believed: open quantities, choices nobody has made, numbers that contradict each other."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from attrs import evolve

from darby.quantities.units import AREA, EACH, VOLUME
from darby.reading.binding.belief.counts import held, over_different, part_of_count
from darby.reading.binding.site.finding import LIMITS, Finding, Site, named
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.phrases import LOOKS
from darby.reading.parsing.sentence import Sentence
from darby.rules.found_by import FoundBy

_FILMS = 8
"""Films of one clause or row that a rate is held against."""

_MAY_BE_NOUGHT = ("coats", "layers", "finish level", "waste", "deduct openings over")
_WHOLE = ("coats", "layers", "finish level")


def plausible(out: Finding, site: Site) -> bool:
    """Whether a number is one that its kind can have, which a choice in words has none of; else the finding says why not."""
    quantity = out.amount
    if quantity is None:
        return bool(out.choice)
    size = quantity.low if out.kind in _WHOLE else quantity.size
    lexicon: Lexicon = site.lexicon
    if _is_negative(out, site):
        out.unread = "less than nothing"
    elif out.per is not None and not out.per.low:
        out.unread = "a rate per nothing"
    elif out.kind == "sheet":
        by = out.fact.by
        if by is not None and by.size < size and lexicon.in_band("sheet", by.size):
            # `2400 x 1200 mm`: the longer side is the length, whichever is said first
            out.amount, out.fact = by, evolve(out.fact, by=quantity)
            quantity, by, size = out.amount, out.fact.by, out.amount.size
        fits = lexicon.in_band("sheet", size) and (
            by is None or (size <= by.size and lexicon.in_band("sheet length", by.size))
        )
        fits = fits and (by is None or by.size * 5 >= size * 7)
        layered = by is not None and quantity.low in (1, 2, 3, 4) and by.size in lexicon.sizes("thickness")
        if not fits and layered:
            out.doubt = "layers of a thickness, or a size? Say “2 layers of 5/8 in.”"
        elif not fits and named(site.label, "subject"):
            out.unread = "a size, and not of a sheet"
        elif not fits:
            out.aside = "a size, and not of a sheet"
    elif out.kind == "coverage" and size and out.per is not None and not lexicon.in_band("spread", out.per.size / size):
        out.unread = "outside what a coverage can be"
    elif not size and out.kind not in _MAY_BE_NOUGHT:
        out.unread = "nought"
    elif not lexicon.in_band(out.kind, size):
        out.unread = f"outside what {out.kind} can be"
    elif out.kind in _WHOLE and quantity.low.denominator != 1:
        out.unread = f"{out.kind} are counted in whole numbers"
    elif out.kind == "thickness" and lexicon.sizes("thickness") and quantity.size not in lexicon.sizes("thickness"):
        out.unread = "not a size that it comes in"
    elif (
        out.kind == "coverage"
        and out.per is not None
        and quantity.unit.system == "metric"
        and out.per.unit.name == "gal"
    ):
        out.doubt = out.doubt or "square metres to a gallon: which gallon is meant?"
    return not out.unread and not out.aside


def _is_negative(out: Finding, site: Site) -> bool:
    """Whether a minus stands at the number: behind a colon, or before a share. Elsewhere a dash there parts words from it."""
    tags = site.sentence.tags
    first = next((n for n, t in enumerate(tags) if t.name == "NUMBER" and out.fact.place <= t.start < out.fact.over), 0)
    dash, before = tags[first - 1] if first else None, tags[first - 2] if first > 1 else None
    if dash is None or dash.name != "DASH" or dash.end != tags[first].start:
        return False
    if before is None or before.name == "COLON":
        return True
    share = out.amount is not None and out.amount.unit.name == "%"
    return share and before.name != "NUMBER" and before.end < dash.start


def doubt_sentence(sentence: Sentence, findings: Sequence[Finding]) -> None:
    """Ask about everything in a sentence that leaves its numbers open, or that offers more than one."""
    _between_bounds(sentence, findings)
    part_of_count(sentence, findings)
    _open(sentence, findings)
    _choices(sentence, findings)
    _offers(sentence, findings)
    _two_values(sentence, findings)
    over_different(sentence, findings)
    _packages_on_offer(sentence, findings)
    _one_rate_for_two(findings)
    for first, second, third in zip(findings, findings[1:], findings[2:], strict=False):
        # `7 in. apart; 5/8-inch panels, 6 in.`: among spacings a thickness says where, it orders nothing
        if first.kind == "spacing" and second.kind == "thickness" and not third.kind and third.unread:
            second.aside = "says where something else holds"


_JOINING = ("AND", "COMMA", "AT_MOST", "AT_LEAST", "SPACED", "OPEN", "CLOSE")


def _between_bounds(sentence: Sentence, findings: Sequence[Finding]) -> None:
    """`not less than 8 and not more than 12 in. on center` is one range said with two bounds."""
    for first, second in pairwise(findings):
        lower, upper = _bound(sentence, first), _bound(sentence, second)
        one, other = first.amount, second.amount
        if {lower, upper} != {"at most", "at least"} or one is None or other is None or first.aside:
            continue
        between = [t for t in sentence.tags if first.fact.over <= t.start < second.fact.place]
        same = one.unit is other.unit or EACH in (one.unit, other.unit)
        if second.aside and same and all(t.name in _JOINING for t in between):
            first.aside = second.aside  # `not less than 1 cm nor more than 2 cm from edges`
        if (
            second.aside
            or not same
            or any(t.name not in _JOINING for t in between)
            or one.high is not None
            or other.high is not None
        ):
            continue
        kept, spare = (second, first) if second.stands else (first, second)
        assert kept.amount is not None
        low, high = sorted((one.low, other.low))
        falls = (one.low if lower == "at least" else other.low) != low
        kept.amount, kept.bound = evolve(kept.amount, low=low, high=high), "exact"
        kept.doubt = kept.doubt or ("the two bounds exclude each other" if falls else "")
        spare.aside = "the other end of a range"


def _bound(sentence: Sentence, finding: Finding) -> str:
    """What the words at a fact, or just before it, make of it."""
    before = [t.name for t in sentence.tags if t.end <= finding.fact.place][-1:]
    said = LIMITS.get(before[0], "") if before else ""
    return finding.fact.bound if finding.fact.bound != "exact" else said


def _open(sentence: Sentence, findings: Sequence[Finding]) -> None:
    """Open quantities, relative changes and what is struck out make counts and rates a question."""
    names = {t.name for t in sentence.tags}
    why = ""
    if sentence.asks:
        why = "a question: look for its answer"
    elif "RELATIVE" in names:
        why = "relative to something said elsewhere"
    elif "OPEN_ENDED" in names and "CHOICE" not in names:  # beside brackets it speaks of their choice
        why = "the text leaves it open"
    elif any(t.name == "CHANGED" and t.value for t in sentence.tags) and "NEW_VALUE" not in names:
        why = "something is taken away, and what is left is not said"
    for finding in findings:
        if why and finding.aside == "says where something else holds":
            finding.aside = ""
        if finding.aside:
            continue
        if why:
            finding.doubt = finding.doubt or why
        elif "OPEN_LENGTH" in names and finding.kind == "sheet" and finding.fact.by is None:
            finding.doubt = finding.doubt or "how long they are is left open"
        elif "IN_ALL" in names and finding.kind in ("film", "coverage", "consumption"):
            finding.doubt = finding.doubt or "of all coats together: of one coat is not said"


_CHOSEN = (*LOOKS, "type")


def _choices(sentence: Sentence, findings: Sequence[Finding]) -> None:
    """Two facts of one kind with an `or` between them, and no place to tell them apart, are a choice nobody has made."""
    ors = [t.start for t in sentence.tags if t.name == "EITHER"]
    if not ors:
        return
    for one, join, other in zip(sentence.tags, sentence.tags[1:], sentence.tags[2:], strict=False):
        if join.name == "EITHER" and one.name == other.name and one.name in _CHOSEN and one.value != other.value:
            for finding in findings:  # `Eggshell or flat: two coats`
                if finding.scope.get(one.name) in (one.value, other.value) and not finding.aside:
                    finding.doubt = finding.doubt or "a choice that nobody has made"
    for first, second in pairwise(findings):
        if first.aside or second.aside or not any(first.fact.place < o < second.fact.place for o in ors):
            continue
        same = first.kind == second.kind or (not first.kind and first.amount is not None and second.amount is not None)
        apart = held(first) != held(second)
        apart = apart or [w.value for w in first.subjects] != [w.value for w in second.subjects]
        if same and not (apart and first.kind and all(held(f) != (("", ""),) for f in (first, second))):
            for finding in (first, second):
                finding.doubt = finding.doubt or "a choice that nobody has made"


def _offers(sentence: Sentence, findings: Sequence[Finding]) -> None:
    """Several sheet sizes of one thing in one sentence are what it comes in, not what is ordered."""
    sizes = [f for f in findings if f.kind == "thickness" and f.stands]
    told = {(held(f), *(f.scope.get(k, "") for k in ("type", "where", "layer", "condition")), *f.marks) for f in sizes}
    if len({f.amount for f in sizes}) > 1 and len(told) == 1:
        for finding in sizes:
            finding.doubt = finding.doubt or "several sizes of one thing: where each goes is not said"
    sheets = [f for f in findings if f.kind == "sheet" and f.fact.by is not None and not f.aside]
    places = {tuple(w.value for w in f.surfaces) for f in sheets}
    if len(sheets) > 1 and len(places) == 1 and any(t.name == "EITHER" for t in sentence.tags):
        for finding in sheets:
            finding.doubt = "sizes on offer: none is chosen"


_ONE_VALUE = ("finish level", "framing", "spacing", "fastener length", "layers")
_TELLING_APART = ("type", "where", "layer", "layers", "thick", "condition", "coat", "method", "sheen", "facing")


def _two_values(sentence: Sentence, findings: Sequence[Finding]) -> None:
    """Two different values of one thing for one place in a sentence: what tells them apart was not understood."""
    if any(t.name == "ELSEWHERE" for t in sentence.tags):
        return
    limits = [f for f in findings if f.aside == "says where something else holds"]
    lengths = all(
        f.fact.kind == "layers" for f in limits
    )  # `one long for one layer, another for two`: of each length alone
    told: dict[tuple[object, ...], list[Finding]] = {}
    for finding in findings:
        vague = any(v in ("behind something", "under a condition") for v in finding.scope.values())
        if limits and not (lengths and finding.kind == "fastener length"):
            continue
        if finding.kind in _ONE_VALUE and finding.stands and not finding.doubt and not vague:
            scope = tuple(finding.scope.get(key, "") for key in _TELLING_APART)
            subjects = tuple(w.value for w in finding.subjects)
            told.setdefault((finding.kind, subjects, held(finding), scope, *finding.marks), []).append(finding)
    for alike in told.values():
        if len({f.amount for f in alike}) > 1:
            for finding in alike:
                finding.doubt = "two values for one place: what tells them apart is not understood"


def _packages_on_offer(sentence: Sentence, findings: Sequence[Finding]) -> None:
    """`8 ft and 10 ft sticks`, `rolls of 23 m and 75 m`: bare sizes joined to a package are others on offer."""
    for package in findings:
        if package.kind == "package" and package.stands and _shares_its_unit(sentence, package):
            package.doubt = package.doubt or "sizes on offer: none is chosen"
    for first, second in pairwise(findings):
        package, other = (second, first) if second.kind == "package" else (first, second)
        if (
            package.kind != "package"
            or other.kind
            or not other.unread
            or package.amount is None
            or other.amount is None
        ):
            continue
        between = [t.name for t in sentence.tags if first.fact.over <= t.start < second.fact.place]
        joined = bool(between) and set(between) <= {"AND", "COMMA", "EITHER"}
        if joined and package.amount.unit.dimension == other.amount.unit.dimension:
            package.doubt = package.doubt or "sizes on offer: none is chosen"


def _shares_its_unit(sentence: Sentence, package: Finding) -> bool:
    """Whether a bare number is joined to a package: `8 and 10 ft lengths`, `8- and 10-foot lengths`."""
    before = [t.name for t in sentence.tags if t.end <= package.fact.place and t.name != "DASH"][-2:]
    return len(before) == 2 and before[0] == "NUMBER" and before[1] in ("AND", "COMMA", "EITHER")


def _one_rate_for_two(findings: Sequence[Finding]) -> None:
    """A rate behind two products is nobody's."""
    products: set[str] = set()
    for finding in findings:
        if finding.kind == "coats" and not finding.aside:
            products.update(w.value for w in finding.subjects)
        if finding.kind != "coverage" or not finding.stands:
            continue
        borrowed = finding.subjects[0].how in (FoundBy.PHRASE_BEFORE, FoundBy.SENTENCE) if finding.subjects else False
        several, products = len(products) > 1, set()
        if borrowed and several:
            finding.doubt = finding.doubt or "one rate behind two products: whose it is is not said"


def doubt_rates(findings: Sequence[Finding]) -> None:
    """A rate times a film cannot be more than the volume holds: 1604 sq ft mil a gallon, 1000 m2 um a litre."""
    films = [f.amount for f in findings if f.kind == "film" and f.stands and f.amount is not None]
    for rate in findings:
        if rate.kind != "coverage" or not rate.stands or rate.amount is None or rate.per is None:
            continue
        fits = rate.amount.unit.dimension == AREA and rate.per.unit.dimension == VOLUME
        if fits and any(rate.amount.size * film.size * 100 > rate.per.size * 105 for film in films[:_FILMS]):
            rate.doubt = rate.doubt or "more than a volume can cover at that film"
