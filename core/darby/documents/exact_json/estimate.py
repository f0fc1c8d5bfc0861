"""The estimate as JSON of the schema `darby.estimate/1`: canonical, so that equal estimates are equal texts."""

from __future__ import annotations

from collections.abc import Iterable

from darby.documents.exact_json.parts import (
    Json,
    amount_json,
    diagnostic_json,
    dump,
    package_json,
    rule_json,
    start_json,
)
from darby.estimate.document_format import Document
from darby.estimate.line_item import LineItem
from darby.estimate.model import Assumption, Confirmation, Estimate, Question, Shift
from darby.estimate.working import Line, rules_behind, working
from darby.job.model import Entry, Job
from darby.quantities.amounts import Amount, Origin
from darby.rules.answer import Asked, Conflict
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic

SCHEMA = "darby.estimate/1"


def estimate_json(estimate: Estimate) -> Json:
    """The estimate as plain data."""
    return {
        "schema": SCHEMA,
        "job": _job(estimate.job),
        "complete": estimate.complete,
        "missing": list(estimate.missing),
        "trades": [{"name": name, "plugin": plugin, "version": version} for name, plugin, version in estimate.trades],
        "checks": [diagnostic_json(d) for d in estimate.checks],
        "items": [item_json(item, estimate.rules) for item in estimate.items],
        "assumptions": [_assumption(a) for a in estimate.assumptions],
        "confirmations": [_confirmation(c) for c in estimate.confirmations],
        "questions": [_question(q) for q in estimate.questions],
        "cautions": [{"topic": c.topic, "text": c.text, "cited": c.cited} for c in estimate.cautions],
        "conflicts": [_conflict(c) for c in estimate.conflicts],
        "diagnostics": [diagnostic_json(d) for d in estimate.diagnostics],
        "unread": [{"text": span.text, **start_json(span), "why": why} for span, why in estimate.unread],
    }


def refused_json(problems: Iterable[Diagnostic]) -> Json:
    """The same document where the input is wrong and nothing was computed."""
    parts = ("checks", "items", "assumptions", "confirmations", "questions", "cautions", "conflicts")
    empty: Json = {name: [] for name in parts}
    return {
        "schema": SCHEMA, "job": None, "complete": False, "missing": [], "trades": [], **empty,
        "diagnostics": [diagnostic_json(d) for d in problems], "unread": [],
    }  # fmt: skip


def make(estimate: Estimate) -> str:
    """The document as text."""
    return dump(estimate_json(estimate))


DOCUMENT = Document("json", "everything, exact, for other programs", make)


def _job(job: Job) -> Json:
    openings = [(o, s) for s in job.measured for o in s.openings]
    return {
        "name": job.name,
        "units": job.units,
        "file": job.source.name,
        "surfaces": [
            {
                "name": s.name, "kind": s.kind, "room": s.room, "area": amount_json(s.area),
                "faces": amount_json(s.faces), **start_json(s.span),
            }
            for s in job.surfaces
        ],
        "openings": [
            {
                "name": o.name, "surface": s.name, "width": amount_json(o.width), "height": amount_json(o.height),
                "count": amount_json(o.count), **start_json(o.span),
            }
            for o, s in openings
        ],
        "corners": [
            {
                "kind": c.kind, "room": c.room, "count": amount_json(c.count), "height": amount_json(c.height),
                **start_json(c.span),
            }
            for c in job.corners
        ],
        **({"entries": [_entry(entry) for entry in job.own]} if job.own else {}),
    }  # fmt: skip


def _entry(entry: Entry) -> Json:
    """A row of a table that a trade brought; under `says` what stands under its keys, a measure as an amount."""
    surface = entry.surface
    shape = {} if surface is None else {
        "kind": surface.kind, "area": amount_json(surface.area), "faces": amount_json(surface.faces),
    }  # fmt: skip
    says = {key: amount_json(v) if isinstance(v, Amount) else v for key, v in entry.values.items()}
    return {
        "table": entry.table,
        "name": entry.name,
        "room": entry.room,
        **shape,
        "says": says,
        **start_json(entry.span),
    }


def item_json(item: LineItem, rules: Iterable[Rule]) -> Json:
    """One line to order, with its longhand and the rules behind it."""
    rules = tuple(rules)
    return {
        "id": item.id,
        "trade": item.trade,
        "product": item.product,
        "pool": dict(item.pool),
        "need": amount_json(item.need),
        "order": _order(item),
        "working": [line_json(line) for line in working(item, rules)],
        "rules": [rule_json(rule) for rule in rules_behind(item, rules)],
        "notes": list(item.notes),
    }


def _order(item: LineItem) -> Json | None:
    if item.package is None:
        return None
    return {"count": item.count, "package": package_json(item.package), "container": item.container}


def line_json(line: Line) -> Json:
    """One line of longhand with the places its numbers came from."""
    return {"text": str(line), **amount_json(line.amount), "from": [_origin(o, line.rule) for o in line.origins]}


def _origin(origin: Origin, rule: Rule | None) -> Json:
    data: Json = {**start_json(origin.place), "text": origin.text or (origin.place.text if origin.place else "")}
    if rule is None:
        return {**data, "by": origin.note}
    data |= {"by": rule.layer.name, "kind": rule.kind.name, "subject": rule.subject}
    return {**data, "cited": rule.cited} if rule.cited else data


def _asked(asked: Asked) -> Json:
    return {"kind": asked.kind, "subject": asked.subject, "about": dict(asked.about)}


def _assumption(assumption: Assumption) -> Json:
    answer = assumption.answer
    return {
        "text": assumption.text,
        "asked": _asked(answer.asked),
        "layer": answer.layer.name,
        "rule": rule_json(answer.rule),
    }


def _question(question: Question) -> Json:
    return {"text": question.text, "to": question.to, **start_json(question.place), "items": list(question.items)}


def _confirmation(confirmation: Confirmation) -> Json:
    """A reading to confirm; `without` is null where the order without it was not worked out."""
    shifts = confirmation.without
    return {
        "why": confirmation.why,
        **start_json(confirmation.place),
        "rules": [rule_json(rule) for rule in confirmation.rules],
        "items": list(confirmation.items),
        "without": None if shifts is None else [_shift(shift) for shift in shifts],
        "lines": list(confirmation.lines),
    }


def _shift(shift: Shift) -> Json:
    item = shift.now or shift.then
    assert item is not None
    return {"item": item.id, "now": _ordered(shift.now), "then": _ordered(shift.then)}


def _ordered(item: LineItem | None) -> Json | None:
    """What is ordered of a line; null where there is no such line."""
    return None if item is None else {"need": amount_json(item.need), "order": _order(item)}


def _conflict(conflict: Conflict) -> Json:
    return {
        "asked": _asked(conflict.asked),
        "used": rule_json(conflict.used),
        "others": [rule_json(rule) for rule in conflict.others],
    }
