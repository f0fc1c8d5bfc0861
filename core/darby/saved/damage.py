"""What is wrong with a saved estimate that cannot be used, in words and at its place.

Only where building fails is the schema asked which value it was, since that takes several times as long as all the rest.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib.resources import files
from typing import Any

from darby.saved.builder import FAILURES, OddError
from darby.saved.writer import checksums, parts_of
from darby.text.bounded_json import locate
from darby.text.diagnostics import Diagnostic, problem
from darby.text.spans import Source, Span

WAY_OUT = "Take it from a copy or from version control, or make it again: darby estimate JOB.toml --save FILE."
"""How to come by a whole file."""


def damaged(source: Source, span: Span, message: str) -> Diagnostic:
    """What is wrong with the file, told at a place in it."""
    return problem("saved-damaged", f"{source.name} {message}.", span, help=WAY_OUT)


def changed(text: str, checks: object) -> Callable[[Source], tuple[Span, str]] | None:
    """Which part is not as it was written, if any."""
    sums = checksums(text)
    if not sums:
        return lambda source: (
            source.span(0, 1),
            "is not laid out as Darby writes it, so that its checks cannot be held",
        )
    if not isinstance(checks, dict) or sums == checks:
        return None if sums == checks else lambda source: (source.span(0, 1), "has lost its checks")
    wrong = next((n for n in (*sums, *checks) if sums.get(n) != checks.get(n)), "checks")
    found = {name: (first, last) for name, first, last in parts_of(text)}.get(str(wrong))

    def told(source: Source) -> tuple[Span, str]:
        if found is None:
            return source.span(0, 1), f"has lost its part {str(wrong)[:40]}"
        start = source.line_starts[found[0] - 1]
        lines = f"line {found[0]}" if found[0] == found[1] else f"lines {found[0]} to {found[1]}"
        return source.span(start, start + 1), f"was changed after it was written: its {wrong}, {lines}"

    return told


def explained(source: Source, data: Any, error: Exception) -> Diagnostic:
    """The first value that is not what the schema says, in words, at its place."""
    from jsonschema import Draft202012Validator  # noqa: PLC0415 - dear, and wanted for damaged files only

    schema = json.loads((files("darby") / "schemas" / "saved.schema.json").read_text("utf-8"))
    try:
        wrong = next(iter(Draft202012Validator(schema).iter_errors(data)), None)
    except FAILURES:
        wrong = None
    if wrong is None:
        what = (
            error.args[0] if isinstance(error, OddError) else f"its parts do not fit together ({type(error).__name__})"
        )
        path = error.path if isinstance(error, OddError) else ()
        return damaged(source, locate(source, path), f"cannot be used: {what}")
    path = tuple(wrong.absolute_path)
    name = "".join(f"[{p}]" if isinstance(p, int) else f".{p}" for p in path).lstrip(".") or "the whole"
    return damaged(source, locate(source, path), f"has something wrong in it: {name} {_wants(wrong)}")


def _wants(wrong: Any) -> str:
    """What the schema wants of a value, in a few words."""
    rule, wanted = wrong.validator, wrong.validator_value
    if rule == "required":
        lacking = next((key for key in wanted if key not in wrong.instance), "")
        return f"has no {lacking}"
    if rule == "additionalProperties":
        extra = next((k for k in wrong.instance if k not in wrong.schema.get("properties", {})), "")
        return f"has {str(extra)[:40]!r}, which has no place there"
    if rule == "type":
        names = [wanted] if isinstance(wanted, str) else wanted
        return f"is not of the type {' or '.join(names)}"
    if rule == "pattern":
        return "is not written as such a value is"
    if rule in ("const", "enum"):
        return f"is not {wanted if rule == 'const' else ' or '.join(map(str, wanted))}"
    return "is not what it should be"
