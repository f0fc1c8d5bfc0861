"""Measures to check, in words: what seems wrong, where, and the way out. They stand above the order in every document."""

from __future__ import annotations

from collections.abc import Iterator

from darby.documents.words import one_line, places, sentence
from darby.estimate.model import Estimate
from darby.text.diagnostics import Diagnostic

HEAD = "Check these measures"
SETTLE = (
    "The order takes every measure as it is written. What is right in spite of this is settled by its name in the job file: "
    'checked = ["..."].'
)


def told(check: Diagnostic) -> str:
    """What seems wrong, as a sentence; a name at its head stays as the job writes it."""
    said = one_line(check.message)
    return sentence(said) if said.startswith("the ") else f"{said}."


def places_of(check: Diagnostic) -> str:
    """The places it speaks of, each file named once: `job.toml, lines 12 and 40`."""
    return places(label.span for label in check.labels)


def lines(estimate: Estimate) -> Iterator[tuple[str, str, str]]:
    """Each check: what seems wrong, what to do, and where."""
    for check in estimate.checks:
        yield told(check), one_line(check.help), places_of(check)
