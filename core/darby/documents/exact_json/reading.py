"""What was read of one or more documents, as JSON of the schema `darby.reading/1`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from darby.documents.exact_json.parts import Json, diagnostic_json, dump, rule_json, start_json
from darby.reading.account.ledger import Number
from darby.reading.account.statements import Statement
from darby.reading.read import Reading
from darby.text.diagnostics import Diagnostic

SCHEMA = "darby.reading/1"


def number_json(number: Number) -> Json:
    """A number of the text, its place and what became of it."""
    return {"text": number.span.text, **start_json(number.span), "became": number.became, "why": number.why}


def statement_json(statement: Statement) -> Json:
    """What was said and not read, its place and why it is listed."""
    return {"text": " ".join(statement.span.text.split()), **start_json(statement.span), "why": statement.why}


def reading_json(readings: Sequence[Reading], problems: Iterable[Diagnostic] = (), *, explain: bool = False) -> Json:
    """The document as plain data. `problems` are those met before there was anything to read."""
    found = [*problems, *(d for reading in readings for d in reading.diagnostics)]
    return {
        "schema": SCHEMA,
        "rules": [rule_json(rule, explain=explain) for reading in readings for rule in reading.rules],
        "numbers": [number_json(number) for reading in readings for number in reading.numbers],
        "statements": [statement_json(statement) for reading in readings for statement in reading.statements],
        "diagnostics": [diagnostic_json(d) for d in found],
    }


def make(readings: Sequence[Reading], problems: Iterable[Diagnostic] = (), *, explain: bool = False) -> str:
    """The document as text."""
    return dump(reading_json(readings, problems, explain=explain))
