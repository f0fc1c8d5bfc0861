"""How work is done, where there are rates for several methods: `Lay underlay by hand.`, or `By roller.` for all work."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from darby.job.rows.sheet import shown
from darby.labor.rate_lines import RateLine, plain_name
from darby.labor.task import Operation
from darby.reading.parsing.lexicon import Lexicon
from darby.text.diagnostics import Diagnostic, problem
from darby.text.files import nearest
from darby.text.spans import Span

METHOD = "method"
_HOW = 'Write it as "Operation by spray." or, for all work, "By spray."'


def by_methods(
    rates: Sequence[RateLine], said: Iterable[tuple[str, Span]], operations: Mapping[str, Operation], lexicon: Lexicon
) -> tuple[list[RateLine], list[Diagnostic]]:
    """The rates without those of other methods than the lines say; rates that tell no method stay.

    A line that is not understood is an error, and so is a method for which there is no rate at all.
    """
    chosen: dict[str, str] = {}
    found: list[Diagnostic] = []
    for text, span in said:
        method, names, wrong = _read(text, span, rates, operations, lexicon)
        if wrong is None and (twice := [n for n in names if chosen.get(n, method) != method]):
            wrong = problem("bid-terms", f"{twice[0]} is to be done by two methods", span, help="Take one out.")
        if wrong is not None:
            found.append(wrong)
        chosen |= dict.fromkeys(names, method)
    return [rate for rate in rates if _holds(rate, chosen.get(rate.operation, ""))], found


def _holds(rate: RateLine, method: str) -> bool:
    return not method or rate.conditions.get(METHOD, method) == method


def _read(
    text: str, span: Span, rates: Sequence[RateLine], operations: Mapping[str, Operation], lexicon: Lexicon
) -> tuple[str, list[str], Diagnostic | None]:
    """The method of one line and the operations that it is said of; or what is wrong with it."""
    tags = [tag for tag in lexicon.tags(text) if tag.name == METHOD]
    if len(tags) != 1 or text[tags[0].end :].strip(" ."):
        return "", [], problem("bid-terms", f"{shown(text) or 'an empty line'} names no method", span, help=_HOW)
    method, label = tags[0].value, text[: tags[0].start].strip(" :,")
    named = {plain_name(name, lexicon): name for name in operations}
    own = named.get(plain_name(label, lexicon))
    if label and own is None:
        near = nearest(label, operations)
        help_ = (f"Did you mean {near}? " if near else "") + f"There are: {', '.join(sorted(operations))}."
        return "", [], problem("bid-terms", f"no trade has an operation {shown(label)}", span, help=help_)
    timed = {rate.operation for rate in rates if rate.conditions.get(METHOD) == method}
    names = [name for name in ([own] if own else operations) if name in timed]
    if not names:
        why = f"no production rate is one for {own or 'any work'} by {method}"
        help_ = f'Add a line to the rates: "{(own or "Operation").capitalize()}: 200 sq ft per hour by {method}."'
        return "", [], problem("bid-terms", why, span, help=help_)
    return method, names, None
