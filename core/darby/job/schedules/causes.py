"""Mistakes of a schedule by their cause: what is wrong with a whole column is said once, and not again for each of its rows."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from attrs import evolve

from darby.text.diagnostics import Diagnostic, Label
from darby.text.spans import Source

_APART = 3
"""Rows that may have the same wrong with them and still be told one by one."""
_SHOWN = 4


def by_cause(found: Iterable[Diagnostic], schedules: Collection[Source]) -> list[Diagnostic]:
    """The same, in order; of more than a few alike in one schedule the first, with how many more there are and where."""
    names = {id(source) for source in schedules}
    alike: dict[tuple[int, str, str], list[Diagnostic]] = {}
    order: list[list[Diagnostic]] = []
    for one in found:
        span = one.span
        if span is None or id(span.source) not in names:
            order.append([one])
            continue
        key = (id(span.source), one.code, one.message.partition(" of ")[0] if " of " in one.message[:_KEY] else "")
        if key not in alike:
            order.append(alike.setdefault(key, []))
        alike[key].append(one)
    return [told for group in order for told in (group if len(group) <= _APART else [_together(group)])]


_KEY = 24
"""Letters in which the key that a message is about stands."""


def _together(group: list[Diagnostic]) -> Diagnostic:
    first, *others = group
    places = [Label(one.span) for one in others[: _SHOWN - 1] if one.span is not None]
    message = f"{first.message}; so it is with {len(others):,} more rows"
    return evolve(first, message=message, labels=(*first.labels, *places))
