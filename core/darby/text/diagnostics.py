"""Problems as values: a stable code, a headline, places, a way out."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from attrs import frozen

from darby.text.spans import Span


class Severity(StrEnum):
    """How much a diagnostic weighs. Only an error makes the user's input wrong."""

    ERROR = "error"
    WARNING = "warning"
    QUESTION = "question"
    NOTE = "note"


@frozen
class Label:
    """A place a diagnostic speaks of, and what is to be said of it there."""

    span: Span
    text: str = ""


@frozen
class Diagnostic:
    """One thing the user should know. `code` is a key of `darby.text.explanation.PAGES`; the first label is the place itself."""

    code: str
    severity: Severity
    message: str
    labels: tuple[Label, ...] = ()
    help: str = ""
    file: str = ""
    """File name where there is no place in a text, as with a file that could not be opened."""

    @property
    def span(self) -> Span | None:
        """The place, or None where the problem has none."""
        return self.labels[0].span if self.labels else None


def problem(
    code: str,
    message: str,
    span: Span | None = None,
    *,
    severity: Severity = Severity.ERROR,
    help: str = "",
    more: Iterable[Label] = (),
    file: str = "",
) -> Diagnostic:
    """A diagnostic with at most one place of its own and further labelled places."""
    first = (Label(span),) if span is not None else ()
    return Diagnostic(code, severity, message, (*first, *more), help, file)


def is_error(diagnostics: Iterable[Diagnostic]) -> bool:
    """Whether any of them makes the user's input wrong."""
    return any(d.severity is Severity.ERROR for d in diagnostics)
