"""What the JSON documents are put together from: amounts, places, rules, problems. Every value is an exact string."""

from __future__ import annotations

import json
from collections.abc import Callable
from io import StringIO
from json.encoder import encode_basestring
from typing import Any

from darby.documents.words import found_words
from darby.quantities.amounts import Amount
from darby.rules.rule import Rule, Scope
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Span

Json = dict[str, Any]


def dump(data: Json) -> str:
    """The document as text: UTF-8, two spaces of indent, a line end at the end."""
    out = StringIO()
    _laid(data, "\n", out.write)
    out.write("\n")
    return out.getvalue().encode("utf-8", "replace").decode()


def _laid(value: Any, line: str, put: Callable[[str], object]) -> None:
    """Text by text what `json.dumps(value, indent=2, ensure_ascii=False)` gives, in a third of its time; `line` begins a line."""
    if isinstance(value, dict) and value:
        inner, sign = line + "  ", "{"
        for key, one in value.items():
            put(f"{sign}{inner}{encode_basestring(key)}: ")
            if type(one) is str:
                put(encode_basestring(one))
            else:
                _laid(one, inner, put)
            sign = ","
        put(line + "}")
    elif isinstance(value, list | tuple) and value:
        inner, sign = line + "  ", "["
        for one in value:
            put(sign + inner)
            _laid(one, inner, put)
            sign = ","
        put(line + "]")
    else:
        put(json.dumps(value, ensure_ascii=False))


def amount_json(amount: Amount) -> Json:
    """`{"value": "1/2", "unit": "in"}`; the value is what `fractions.Fraction` accepts."""
    return {"value": str(amount.value), "unit": amount.unit.name}


def package_json(package: Amount) -> Json:
    """The content of one package: of 64 lb/pail, 64 lb."""
    over = package.unit.over_parts
    return {"value": str(package.value), "unit": "·".join(u.name for u in over) if over else "each"}


def start_json(span: Span | None, file: str = "") -> Json:
    """File, line and column where a stretch begins; without a stretch, the file alone or nothing.

    Line and column are those of the text as it was taken out of the file; its page or paragraph is told beside them.
    """
    if span is None:
        return {"file": file} if file else {}
    data: Json = {"file": span.source.name, "line": span.line, "column": span.column}
    if span.source.unit != "line":
        data[span.source.unit] = span.source.part(span.start)
    return data


def span_json(span: Span) -> Json:
    """A stretch of a document: where it begins, its last character, and its text."""
    line, column = span.last
    return {**start_json(span), "end_line": line, "end_column": column, "text": span.text}


def _scope(scope: Scope) -> dict[str, str]:
    """The scope by the contract's keys: what only describes a place stands as `where`, unless a limit stands there."""
    told = {key: value for key, value in scope.items() if key != "note"}
    return dict(sorted({"where": scope["note"], **told}.items())) if "note" in scope else told


def rule_json(rule: Rule, *, explain: bool = False) -> Json:
    """A rule as the contract has it; `explain` adds how its subject and its surface were found."""
    data: Json = {"kind": rule.kind.name, "subject": rule.subject, "scope": _scope(rule.scope)}
    if rule.choice:
        data["choice"] = rule.choice
    else:
        data["amount"] = amount_json(rule.amount)
    for name, part in (("upper", rule.upper), ("by", rule.by), ("per", rule.per)):
        if part is not None:
            data[name] = amount_json(part)
    data |= {"bound": rule.bound, "layer": rule.layer.name, "source": span_json(rule.span)}
    if rule.confirm:
        data["confirm"] = rule.confirm
    if rule.cited:
        data["cited"] = rule.cited
    if explain:
        data["bound_by"] = {what: found_words(how) for what, how in rule.bound_by}
    return data


def diagnostic_json(diagnostic: Diagnostic) -> Json:
    """A problem with its place, what helps, and the further places it speaks of."""
    data: Json = {
        "code": diagnostic.code,
        "severity": diagnostic.severity.value,
        "message": diagnostic.message,
        **start_json(diagnostic.span, diagnostic.file),
    }
    if diagnostic.help:
        data["help"] = diagnostic.help
    own, *more = diagnostic.labels or (None,)
    if own is not None and own.text:
        data["label"] = own.text
    if more:
        data["more"] = [{"text": m.text, **start_json(m.span)} for m in more if m is not None]
    return data
