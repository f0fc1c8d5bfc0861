"""The work on a job, as its trades tell it: each asked alone, with the rules it may hear, its failure its own."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import islice

from attrs import evolve, frozen

from darby.estimate.model import Estimate
from darby.job.model import Job
from darby.labor.task import Operation, Task
from darby.plugin_host.isolation.bounds import quiet
from darby.plugin_host.isolation.failures import why
from darby.plugin_host.isolation.item_checks import MOST_ITEMS
from darby.plugin_host.model import Plugins, Provided
from darby.plugin_host.trade_runner import book_for
from darby.quantities.amounts import Amount
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.text.diagnostics import Diagnostic, Severity, problem


@frozen(eq=False)
class Told:
    """All work that trades told, and what is to be said of those that failed. `silent` trades order goods and tell of no work."""

    works: tuple[Task, ...]
    diagnostics: tuple[Diagnostic, ...] = ()
    silent: tuple[str, ...] = ()


def operations_of(plugins: Plugins) -> dict[str, Operation]:
    """Every operation of every trade by its name; of two alike that of the trade that comes first by name."""
    found: dict[str, Operation] = {}
    for provided in sorted(plugins.trades, key=lambda p: p.trade.name):
        for operation in provided.trade.operations:
            found.setdefault(operation.name, operation)
    return found


def tasks_of(estimate: Estimate, plugins: Plugins) -> Told:
    """The work of every trade that gave its lines, in the order of their names."""
    job, rules = estimate.job, estimate.rules
    took_part = {name for name, _, _ in estimate.trades}
    trades = sorted((p for p in plugins.trades if p.trade.name in took_part), key=lambda p: (p.trade.name, p.plugin))
    defaults = {p: p.trade.defaults[job.units] for p in trades if job.units in p.trade.defaults}
    whole = RuleBook(rules, rooms=job.places, named={item.product for item in estimate.items})
    asked = {p: book_for(p, whole, defaults) for p in trades if p.trade.labor is not None}
    works: list[Task] = []
    told: list[Diagnostic] = []
    for p, book in asked.items():
        orders = {t: tuple(i for i in estimate.items if i.trade == t) for t in p.trade.after if t in took_part}
        try:
            works += _call(p, job, Consultation(book, orders))
        except (Exception, SystemExit) as error:
            told.append(_failed(p, why(error)))
    ordering = {item.trade for item in estimate.items}
    silent = tuple(p.trade.name for p in trades if p.trade.labor is None and p.trade.name in ordering)
    return Told(tuple(works), tuple(told), silent)


def _call(provided: Provided, job: Job, book: Consultation) -> tuple[Task, ...]:
    assert provided.trade.labor is not None
    with quiet():
        given = islice(provided.trade.labor(job, book), MOST_ITEMS + 1)
        return tuple(_checked(given, provided))


def _checked(given: Iterable[object], provided: Provided) -> Iterable[Task]:
    known = {operation.name for operation in provided.trade.operations}
    for number, work in enumerate(given):
        if number >= MOST_ITEMS:
            raise ValueError(f"more than {MOST_ITEMS} pieces of work were given")
        if not isinstance(work, Task):
            raise TypeError(f"a {type(work).__name__} was given where a Task is wanted")
        if work.operation not in known:
            raise ValueError(f"work of the operation {work.operation} was given, which is not among its operations")
        if not work.amounts or not all(map(_sound, work.amounts)):
            raise ValueError(f"the work {work.operation} is no exact quantity of zero or more")
        yield evolve(work, trade=provided.trade.name)


def _sound(amount: object) -> bool:
    return isinstance(amount, Amount) and isinstance(amount.value, Fraction | int) and amount.value >= 0


def _failed(provided: Provided, why: str) -> Diagnostic:
    return problem(
        "work-failed", f"The trade {provided.trade.name} of {provided.plugin} could not tell its work: it {why}. Its hours are missing.",
        severity=Severity.WARNING, help=f"Tell the author of {provided.plugin}; its goods are in the bid, and its labor is not.",
    )  # fmt: skip
