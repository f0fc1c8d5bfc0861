"""The scope note for a bid: what is included, what is not, what was assumed, and what to take care of."""

from __future__ import annotations

from collections.abc import Iterator

from darby.documents.confirmations import read_as
from darby.documents.letters.forms import forms
from darby.documents.letters.prose import Block, Heading, Paragraph, Prose, Table, entries
from darby.documents.words import (
    documents_used,
    kind_of,
    layer_of,
    listed,
    one_line,
    order_of,
    quote,
    says,
    told_rule,
    whereabouts,
)
from darby.estimate.model import Estimate
from darby.quantities.amounts import Amount, total
from darby.rules.rule import DEFAULT, OVERRIDE

_NEVER = (
    "labor, equipment, delivery and prices",
    "work and material of other trades",
    "anything that only the drawings show",
)


def write(estimate: Estimate) -> Prose:
    """The note."""
    papers = documents_used(estimate)
    blocks: list[Block] = []
    if not estimate.complete:
        blocks.append(
            Paragraph(f"The lines of {', '.join(estimate.missing)} are missing, since that part failed.", "Incomplete")
        )
    blocks.append(Paragraph(f"{listed(papers) if papers else 'no specification'}.", "Based on"))
    blocks.append(Heading("Included"))
    if estimate.items:
        rows = tuple((one_line(i.product), kind_of(i), order_of(i)) for i in estimate.items)
        blocks.append(Table(("Product", "Kind", "Material"), rows))
    else:
        blocks.append(Paragraph("No material."))
    blocks.append(entries(_measured(estimate)))
    blocks += [Heading("Excluded"), entries(_excluded(estimate))]
    assumed = list(dict.fromkeys(_assumed(estimate)))
    blocks += [Heading("Assumed"), entries(assumed) if assumed else Paragraph("Nothing beyond the documents.")]
    if estimate.cautions:
        lines = (f"{c.topic}: {c.text}" + (f" ({c.cited})" if c.cited else "") for c in estimate.cautions)
        blocks += [Heading("Cautions"), entries(lines)]
    return Prose(f"Scope of material: {one_line(estimate.job.name) or 'unnamed job'}", blocks)


def _measured(estimate: Estimate) -> Iterator[str]:
    """What was measured, each kind of surface added up over all its faces."""
    job = estimate.job
    kinds: dict[str, list[Amount]] = {}
    for surface in job.surfaces:
        kinds.setdefault(surface.kind, []).append((surface.area * surface.faces).in_system(job.units))
    for kind, areas in kinds.items():
        yield f"Measured: {len(areas)} {kind}{'s' if len(areas) != 1 else ''}, {total(areas)} over all faces, openings left in."
    openings = [o for s in job.surfaces for o in s.openings]
    if openings:
        area = total((o.each * o.count).in_system(job.units) for o in openings)
        yield f"Openings in them: {sum(int(o.count.value) for o in openings)}, {area} over one face."
    for corner_kind in sorted({c.kind for c in job.corners}):
        count = sum(int(c.count.value) for c in job.corners if c.kind == corner_kind)
        yield f"Measured: {count} {corner_kind} corner{'s' if count != 1 else ''}."


def _excluded(estimate: Estimate) -> Iterator[str]:
    yield from (f"{one_line(name)}: its lines failed and are missing" for name in estimate.missing)
    for item in estimate.items:
        yield from (f"{one_line(item.product)}: {one_line(note)}" for note in item.notes)
    for diagnostic in estimate.diagnostics:
        if diagnostic.code == "rule-unused" and diagnostic.span is not None:
            yield f"what no line here takes up: {one_line(diagnostic.span.text)}, {whereabouts(diagnostic.span)}"
    yield from (one_line(d.message) for d in estimate.diagnostics if d.code == "left-out")
    for span, why in estimate.unread:
        yield f"what rests on {quote(span)} in {whereabouts(span)}, which could not be read: {one_line(why)}"
    yield from _NEVER


def _assumed(estimate: Estimate) -> Iterator[str]:
    for assumption in estimate.assumptions:
        rule = assumption.answer.rule
        hand = "our default" if rule.layer == DEFAULT else layer_of(rule)
        said = told_rule(rule) if rule.amount else quote(rule.span)
        yield f"{said}, which the documents do not say ({hand})"
    for rule in estimate.rules:
        if rule.layer == OVERRIDE:
            yield f"{told_rule(rule)}, our own line for this job"
    for one in estimate.confirmations:
        yield f"{read_as(one)}, as we read {whereabouts(one.place)}; to be confirmed"
    for conflict in estimate.conflicts:
        other = listed(f"{says(rule)} in {whereabouts(rule.span)}" for rule in conflict.others)
        yield f"{told_rule(conflict.used)} as in {whereabouts(conflict.used.span)}, and not {other}"


DOCUMENTS = forms("scope", "the scope note for a bid", write)
