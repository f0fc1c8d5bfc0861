"""The scope note for a bid: what is included, what documents and job leave out, what was assumed, what is being asked.

Nothing of how the firm works stands in it: no rates, no wastes, no packages.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from darby.documents.letters.asked import Point, points
from darby.documents.letters.forms import forms
from darby.documents.letters.goods import described, spoken
from darby.documents.letters.heads import BLANK, documents_dated, head
from darby.documents.letters.prose import Block, Heading, Paragraph, Prose, Table, entries
from darby.documents.letters.raised import is_document
from darby.documents.letters.said import said, sentence_at, told
from darby.documents.needs import needs
from darby.documents.words import listed, one_line, quote, says, whereabouts
from darby.estimate.model import Estimate
from darby.estimate.open_points import told_apart
from darby.estimate.packing import USE
from darby.job.model import Surface
from darby.quantities.amounts import total
from darby.quantities.plurals import plural
from darby.quantities.units import EACH
from darby.reading.binding.in_place import IN_PLACE, OMITTED
from darby.rules.rule import DEFAULT, OVERRIDE, Rule
from darby.text.spans import Span

_LABELS = ("date", "number", "from", "to", "valid until")
_PENDING = "; to be confirmed"
"""What stands behind all that rests on a reading which nobody has confirmed."""
_LEFT_OUT = "left-out"
"""The code of what is said of goods that no trade works on."""


def write(estimate: Estimate) -> Prose:
    """The note."""
    sending = estimate.job.sending
    blocks: list[Block] = [head(sending.scope, _LABELS)]
    if not estimate.complete:
        missing = f"The lines of {', '.join(estimate.missing)} are missing, since that part failed."
        blocks.append(Paragraph(missing, "Incomplete"))
    blocks.append(Heading("Documents"))
    papers = documents_dated(estimate)
    if papers:
        rows = tuple(
            (name, what, date or "none given", revision or "none given") for name, what, date, revision in papers
        )
        blocks.append(Table(("Document", "What it is", "Date", "Revision"), rows))
    else:
        blocks.append(Paragraph("No specification."))
    blocks.append(Heading("Included"))
    blocks.append(entries(_included(estimate)) if estimate.items else Paragraph("No material."))
    _list(blocks, "Measured", _measured(estimate), "Nothing.")
    _list(blocks, "Excluded", _excluded(estimate), "Nothing that the documents or we have named.")
    _list(blocks, "Alternates, not included", (told(s) for s in said(estimate, "alternates")), "None in the documents.")
    _list(blocks, "Allowances", (told(s) for s in said(estimate, "allowances")), "None in the documents.")
    _list(blocks, "Assumed", dict.fromkeys(_assumed(estimate)), "Nothing beyond the documents.")
    asked = tuple(points(estimate))
    blocks.append(Heading("Clarifications asked"))
    blocks.append(entries(map(_asked, asked), numbered=True) if asked else Paragraph("None."))
    blocks += [Heading("Validity"), Paragraph(f"This scope holds until {sending.scope.get('valid until') or BLANK}.")]
    if estimate.cautions:
        topics = listed(dict.fromkeys(c.topic[:1].lower() + c.topic[1:] for c in estimate.cautions))
        blocks += [Heading("Cautions"), Paragraph(f"To be agreed before work begins: {topics}.")]
    return Prose(f"Scope of material: {one_line(estimate.job.name) or 'unnamed job'}", blocks)


def _list(blocks: list[Block], title: str, lines: Iterator[str] | dict[str, None], none: str) -> None:
    found = list(lines)
    blocks += [Heading(title), entries(found) if found else Paragraph(none)]


def _included(estimate: Estimate) -> Iterator[str]:
    """The goods by product, each with its kinds as the order list describes them; what is left with the owner."""
    kinds: dict[tuple[str, str], dict[str, None]] = {}
    for need in needs(estimate):
        use = need.first.pool.get(USE, "")
        kinds.setdefault((use, one_line(need.first.product)), {})[described(need, need.first)] = None
    for (use, product), found in sorted(kinds.items(), key=lambda one: bool(one[0][0])):  # the work first
        told_kinds = "; ".join(filter(None, found))
        yield (f"{use}, " if use else "") + (f"{product}: {told_kinds}" if told_kinds else product)


def _measured(estimate: Estimate) -> Iterator[str]:
    """What was measured, each kind of surface added up over all its faces, with rooms of which the work leaves something out."""
    job = estimate.job
    kinds: dict[str, list[Surface]] = {}
    for surface in job.measured:
        kinds.setdefault(surface.kind, []).append(surface)
    for kind, some in kinds.items():
        area = total((one.area * one.faces).in_system(job.units) for one in some)
        if all(one.measures for one in some):  # counted by the piece, or along their length
            many = total(one.measures[0].in_system(job.units) for one in some)
            said = f"{int(many.value):,}" if many.unit is EACH else str(many)
            yield f"{plural(kind)}: {said}, {area} over all faces".capitalize()
        else:
            yield f"{plural(kind)}: {area} over all faces, openings not deducted ({len(some):,} measured)".capitalize()
    openings = [o for s in job.measured for o in s.openings]
    if openings:
        area = total((o.each * o.count).in_system(job.units) for o in openings)
        yield f"Openings in them: {sum(int(o.count.value) for o in openings):,} with {area} over one face"
    for corner_kind in sorted({c.kind for c in job.corners}):
        count = sum(int(c.count.value) for c in job.corners if c.kind == corner_kind)
        yield f"{corner_kind.capitalize()} corners: {count:,}"


def _excluded(estimate: Estimate) -> Iterator[str]:
    """What the job leaves out, what the documents leave out, and what other goods take the place of."""
    yield from map(one_line, estimate.job.sending.excluded)
    yield from (f"{one_line(name)}: not worked out" for name in estimate.missing)
    left_out = list(_left_out(estimate))
    quoted = "\n".join(left_out)
    yield from (line for line in map(told, said(estimate, "excluded")) if line not in quoted)
    yield from left_out


def _left_out(estimate: Estimate) -> Iterator[str]:
    """What nothing is ordered for: each other goods once with all its rooms, which a schedule lists one by one; then what no document
    names. What is told of the firm's own lines behind the first sentence is nobody's business.
    """
    found: dict[tuple[str, str, bool], dict[tuple[str, str], dict[str, None]]] = {}
    clauses: dict[tuple[str, bool], dict[str, None]] = {}
    for rule in estimate.rules:
        if rule.kind.name != IN_PLACE or not is_document(rule.layer):
            continue
        if "room" in rule.scope and rule.choice != OMITTED:
            places = found.setdefault((rule.choice, rule.span.source.name, bool(rule.confirm)), {})
            places.setdefault((rule.scope.get("surface", ""), rule.scope["room"]), {})[rule.subject] = None
        else:  # of which ceilings "all other ceilings" are, and that nothing is done there, the clause says best
            span = sentence_at(rule.span.source, rule.span.start, rule.span.end)
            clauses.setdefault((told(span), bool(rule.confirm)), {})[rule.subject] = None
    for (said_so, doubtful), subjects in clauses.items():
        yield f"{_opened(listed(subjects))}: {said_so}{_PENDING * doubtful}"
    for (choice, paper, doubtful), places in found.items():
        goods = listed(dict.fromkeys(one for subjects in places.values() for one in subjects))
        yield one_line(f"{_opened(goods)}{_where(places)}: “{choice}” there ({paper}){_PENDING * doubtful}")
    for one in estimate.diagnostics:
        if one.code == _LEFT_OUT:
            why, _, goods = one_line(one.message).partition(". ")[0].rstrip(".").partition(": ")
            if not goods:  # `Left out, since no document speaks of oil on rails`
                yield _opened(why.partition(", since ")[2])
                continue
            yield f"{_opened(goods)}: {'no document names it' if 'document' in why else 'not in our trades'}"


def _opened(words: str) -> str:
    return words[:1].upper() + words[1:]


def _where(places: Iterable[tuple[str, str]]) -> str:
    """Surfaces and their rooms, those with the same rooms together: ` on ceilings of lobby and store`."""
    rooms: dict[str, dict[str, None]] = {}
    for surface, room in places:
        rooms.setdefault(surface, {})[room] = None
    surfaces: dict[tuple[str, ...], list[str]] = {}
    for surface, found in rooms.items():
        surfaces.setdefault(tuple(filter(None, found)), []).append(plural(surface) if surface else "")
    told = []
    for named, some in surfaces.items():
        on = f"on {listed(some)}" if all(some) else ""
        told.append(" ".join(filter(None, (on, f"in {listed(named)}" if named else ""))))
    return f" {'; '.join(told)}" if any(told) else ""


def _assumed(estimate: Estimate) -> Iterator[str]:
    """What the work is taken to be; the firm's own figures (rates, wastes, packages) are nobody's business."""
    for assumption in estimate.assumptions:
        rule = assumption.answer.rule
        if rule.kind.known_to == "specifier" and rule.layer == DEFAULT:
            yield f"{_said(rule, assumption.where)}; the documents do not say"
    own = [span for _, span in estimate.job.rules]
    for rule in estimate.rules:
        if (
            rule.layer == OVERRIDE
            and rule.kind.known_to == "specifier"
            and any(_holds(span, rule.span) for span in own)
        ):
            yield _said(rule)
    for one in estimate.confirmations:
        read = dict.fromkeys(_said(rule) for rule in one.rules if rule.kind.known_to == "specifier")
        if read:
            yield f"{'; '.join(read)}: as we read {whereabouts(one.place)}{_PENDING}"
    for conflict in estimate.conflicts:
        rules = (conflict.used, *conflict.others)
        apart = told_apart(rules)
        used, *others = [" ".join(r.scope.get(key, "") for key in apart) if apart else says(r) for r in rules]
        other = listed(f"{one} as in {whereabouts(r.span)}" for one, r in zip(others, conflict.others, strict=True))
        used = f": {used}" if apart else ","  # else what was used is said already
        yield f"{_said(conflict.used)}{used} as in {whereabouts(conflict.used.span)}, and not {other}"


def _holds(line: Span, span: Span) -> bool:
    return span.source is line.source and line.start <= span.start <= span.end <= line.end


def _said(rule: Rule, where: str = "") -> str:
    return spoken(rule, where) if rule.amount else quote(rule.span)


def _asked(point: Point) -> str:
    return point.text + (f" ({point.place})" if point.place else "")


DOCUMENTS = forms("scope", "the scope note for a bid", write)
