"""A comparison as JSON of the schema `darby.comparison/1`. Every value is an exact string."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from darby.documents import changes
from darby.documents.exact_json.parts import Json, diagnostic_json, dump, rule_json, start_json
from darby.saved.comparison import Cause, Change, Comparison, Moved, RowChange, RuleChange
from darby.saved.model import Line, Measure
from darby.saved.row_mixture import Row
from darby.text.diagnostics import Diagnostic

SCHEMA = "darby.comparison/1"


def comparison_json(comparison: Comparison, causes: Mapping[str, tuple[Cause, ...]]) -> Json:
    """The comparison as plain data."""
    rows: list[Change] = [*comparison.rows, *([comparison.units] if comparison.units else [])]
    return {
        "schema": SCHEMA,
        "name": comparison.after.name,
        "same": comparison.same,
        "items": [_moved(moved, causes.get(moved.id, ())) for moved in comparison.items],
        "rules": [change_json(change) for change in comparison.rules],
        "measures": [change_json(change) for change in rows],
        "plugins": [{"name": p.name, "before": p.before, "after": p.after} for p in comparison.plugins],
        "missing": {"before": list(comparison.before.missing), "after": list(comparison.after.missing)},
    }


def refused_json(problems: Iterable[Diagnostic]) -> Json:
    """The document of a comparison that could not be made: it has only what is wrong."""
    return {
        "schema": SCHEMA, "name": "", "same": False, "items": [], "rules": [], "measures": [], "plugins": [],
        "missing": {"before": [], "after": []}, "diagnostics": [diagnostic_json(d) for d in problems],
    }  # fmt: skip


def make(comparison: Comparison, causes: Mapping[str, tuple[Cause, ...]]) -> str:
    """The document as text."""
    return dump(comparison_json(comparison, causes))


def _moved(moved: Moved, causes: tuple[Cause, ...]) -> Json:
    return {
        "id": moved.id,
        "became": "added" if moved.before is None else "gone" if moved.after is None else "changed",
        "ordered": moved.ordered,
        "before": line_json(moved.before),
        "after": line_json(moved.after),
        "packages": moved.packages,
        "causes": [
            {
                "text": changes.cause(cause, moved),
                "changes": [change_json(change) for change in cause.changes],
                "alone": None if cause.alone is None else line_json(cause.alone.after),
            }
            for cause in causes
        ],
    }  # fmt: skip


def line_json(line: Line | None) -> Json | None:
    """A line to order; null where there is none."""
    if line is None:
        return None
    order = None
    if line.package is not None:
        order = {"count": line.count, "package": measure_json(line.package), "container": line.container}
    return {
        "trade": line.trade, "product": line.product, "pool": dict(line.pool), "need": measure_json(line.need), "order": order
    }  # fmt: skip


def measure_json(measure: Measure) -> Json:
    """A measure with its exact value."""
    return {"value": str(measure.value), "unit": measure.unit}


def change_json(change: Change) -> Json:
    """A change with both sides; null where there is none."""
    text = changes.told(change)
    if isinstance(change, RuleChange):
        sides = [None if rule is None else rule_json(rule) for rule in (change.before, change.after)]
        return {"of": "rule", "text": text, "before": sides[0], "after": sides[1]}
    if isinstance(change, RowChange):
        rows = [None if row is None else _row(row) for row in (change.before, change.after)]
        return {"of": "row", "text": text, "before": rows[0], "after": rows[1]}
    return {"of": "units", "text": text, "before": change.before, "after": change.after}


def _row(row: Row) -> Json:
    return {"table": row.table, "name": row.name, "values": {k: str(v) for k, v in row.data}, **start_json(row.span)}
