"""A check: something about the measures to look at before the order is trusted, and the parts of a job it is about."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import frozen

from darby.text.diagnostics import Diagnostic, Label, Severity, problem
from darby.text.spans import Span

_SHOWN = 4
"""Places that are shown of many that are alike."""


@frozen(eq=False)
class Check:
    """One thing to look at. `about` are the names, as the job has them, whose measures it doubts."""

    about: tuple[str, ...]
    said: Diagnostic


def check(code: str, about: Iterable[str], message: str, span: Span, help: str, more: Iterable[Label] = ()) -> Check:
    """A check at a place, with a way out and further places."""
    return Check(tuple(about), problem(code, message, span, severity=Severity.WARNING, help=help, more=more))


def counted(number: int, one: str, many: str = "") -> str:
    """`1 row`, `3 rows`."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def several(spans: Iterable[Span], text: str = "") -> list[Label]:
    """Further places that are told with the first, a few of them."""
    return [Label(span, text) for span in list(dict.fromkeys(spans))[: _SHOWN - 1]]
