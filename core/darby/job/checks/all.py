"""All checks of a job, one after the other, but for those that somebody has settled by saying that the measures are right."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterable, Iterator, Mapping

from darby.job.checks.check import Check, check
from darby.job.checks.names import misspelled
from darby.job.checks.ordinary import far_apart, unusual
from darby.job.checks.prices import idle_prices
from darby.job.checks.roomless import out_of_reach
from darby.job.checks.twice import counted_once, counted_twice
from darby.job.model import Job
from darby.job.openings import folded
from darby.quantities.amounts import Amount
from darby.quantities.gc_pause import in_bulk
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Span

_MOST = 1_000
"""Names that one which is nowhere is compared with."""


@in_bulk()
def checks_of(
    job: Job,
    products: Collection[str] = (),
    packages: Mapping[str, Collection[Amount]] | None = None,
    rules: Iterable[Rule] = (),
) -> tuple[Diagnostic, ...]:
    """What to look at before the order is trusted, in the order of the job. `products` and `packages` are as in `idle_prices`, `rules`
    those that trades at work may use.
    """
    settled = {folded(name) for name, _ in job.checked}
    found = [*unusual(job, settled), *far_apart(job), *counted_twice(job), *counted_once(job), *misspelled(job)]
    found += out_of_reach(job, rules)
    found += [Check(tuple(label.span.text for label in d.labels[:1]), d) for d in job.doubts]
    if products:
        found += idle_prices(job, products, packages or {})
    left = [one for one in found if settled.isdisjoint(map(folded, one.about))] if settled else found
    left += _settles_nothing(job)
    return tuple(one.said for one in sorted(left, key=lambda one: _place(one.said.span, job)))


def _settles_nothing(job: Job) -> Iterator[Check]:
    """Names that are said to be checked and that nothing in the job has."""
    if not job.checked:
        return
    names = {room.name for room in job.places} | {p.product for p in job.prices}
    names |= {text for s in job.surfaces for text in (s.name, *s.marks.values(), *(o.name for o in s.openings))}
    names |= {said for room in job.rooms for said in (room.called.floor, room.called.phase)}
    known = {folded(name) for name in names}
    for name, span in job.checked:
        if folded(name) not in known:
            near = difflib.get_close_matches(name[:60], sorted(names)[:_MOST], 1)
            yield check(
                "measure-settled", (), f"“{name}” is said to be checked, and nothing in the job is called so", span,
                (f"Did you mean {near[0]}? " if near else "") + "Take it out, or write the name as its row has it.",
            )  # fmt: skip


def _place(span: Span | None, job: Job) -> tuple[bool, str, int]:
    """The job file first, then its schedules, each from top to bottom."""
    if span is None or span.source is job.source:
        return (False, "", span.start if span else 0)
    return (True, span.source.name, span.start)
