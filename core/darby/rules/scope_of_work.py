"""Which trades work on a job, and which of their goods are wanted: what a document, the job, or a line of the house names as work.

A trade says what is its work (`Work`); whether that is named is looked up in what was read. Rates order nothing by themselves: a house file
that holds for every job has them for goods that this job has none of. What is left out, and what is taken on weak evidence, is told in a line.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from enum import IntEnum
from typing import Protocol

from attrs import frozen

from darby.quantities.plurals import plural
from darby.rules.found_by import FoundBy, code_of
from darby.rules.name_matching import meets
from darby.rules.rule import DEFAULT, HOUSE, Rule
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Span


@frozen
class Work:
    """Work that a trade does where somebody names its goods."""

    goods: tuple[str, ...]
    """Subjects, any of which names the work."""
    kinds: tuple[str, ...] = ()
    """The kinds of rules by which documents ask for it; none where any kind does. A waste or a deduction asks for nothing."""
    house: tuple[str, ...] = ()
    """The kinds by which a line of the firm's own asks for it: how many coats, and not how far a gallon goes."""
    where_said: tuple[str, ...] = ()
    """Kinds of surface that it leaves alone where documents ask for it on other kinds of surface alone (`unsaid_of`): they are measured for
    other trades too."""


def unsaid_of(
    work: Sequence[Work], rules: Iterable[Rule], surfaces: Iterable[tuple[str, str]]
) -> frozenset[tuple[str, str]]:
    """Of some surfaces, each by its kind and the part it is of, those that some work leaves alone: documents ask for it on other kinds alone.

    A clause that names no kind of surface is of all of them, and so is a line of the job's or the house's own.
    """
    of_goods = [(rule, one) for one in work for rule in rules if rule.subject in one.goods and "mark" not in rule.scope]
    asked = [(how, rule) for rule, one in of_goods if (how := _by_rule(rule, one)) not in (None, How.RATE)]
    if not any(how is How.SAID for how, _ in asked):
        return frozenset()
    # `no coats on ceilings` speaks of them, too
    none = (rule for rule, one in of_goods if rule.layer > HOUSE and rule.kind.name in one.kinds)
    spoken = {rule.scope.get("surface", "") for rule in (*none, *(rule for _, rule in asked))}
    kinds = {kind for one in work for kind in one.where_said if "" not in spoken}
    return frozenset(
        (kind, part)
        for kind, part in dict.fromkeys(surfaces)
        if kind in kinds and not any(meets("surface", said, one) for said in spoken for one in (kind, part) if one)
    )


class Worker(Protocol):
    """A trade, as far as it matters here."""

    @property
    def name(self) -> str:
        """As the job calls it."""
        ...

    @property
    def work(self) -> tuple[Work, ...]:
        """What is its work; it works on every job where there is none."""
        ...

    @property
    def only_named(self) -> tuple[str, ...]:
        """Those of its goods that it orders only where they are named themselves."""
        ...


class How(IntEnum):
    """How something is named, the weakest first."""

    RATE = 0
    """A house line has a rate for it: not at all."""
    HOUSE = 1
    """A line of the firm's own asks for it."""
    NAME = 2
    """A document names it, and gives no number."""
    JOB = 3
    """The job names it."""
    SAID = 4
    """A document says how much of it, or of which sort."""


@frozen(eq=False)
class Naming:
    """The best evidence that goods are wanted."""

    goods: str
    how: How
    span: Span


@frozen(eq=False)
class Scope:
    """What is in the scope of a job. Where nobody limits it (no documents, no list in the job) everything is."""

    at_work: frozenset[str] | None = None
    """Names of the trades that work; None for all."""
    named: frozenset[str] | None = None
    """Goods that are named; None where there is no document that could."""
    told: tuple[Diagnostic, ...] = ()
    """What is left out, and what is taken on weak evidence."""
    idle: tuple[Work, ...] = ()
    """The work that is left out, but for what a trade at work does too."""

    def works(self, trade: Worker) -> bool:
        """Whether a trade works on the job."""
        return self.at_work is None or trade.name in self.at_work


def scope_of(
    trades: Sequence[Worker],
    rules: Sequence[Rule],
    names: Sequence[Mapping[str, Span]],
    marks: Mapping[str, Span],
    listed: Sequence[tuple[str, Span]] | None,
    *,
    documents: bool,
    away: Collection[str] = (),
    surfaces: Collection[tuple[str, str]] = (),
) -> Scope:
    """The scope of a job.

    `names` are the goods that each document names without a number, `marks` the keys of trades that surfaces of the job carry, `listed` the trades
    that the job lists (None where it lists none: then names decide), `documents` whether it has any besides house lines. `away` are plugins that
    were left out, whose trades the job may mean. `surfaces` are the kinds that the job has, each with the part it is of.
    """
    if not documents and listed is None:
        return Scope()
    namings = {id(work): list(_namings(work, rules, names, marks)) for trade in trades for work in trade.work}
    named = frozenset(n.goods for found in namings.values() for n in found if n.how > How.RATE) if documents else None
    best = {trade.name: _best([n for work in trade.work for n in namings[id(work)]]) for trade in trades}
    if listed is not None:
        mistakes = tuple(_unknown(listed, trades, away))
        at_work = frozenset(name for name, _ in listed)
        own = [t for t in trades if t.name in at_work]
        left = [t.name for t in trades if t.name not in at_work]
        told = (*mistakes, *_left_out_by_list(left, listed), *_left_out([], own, best, rules, named))
        told = (*told, *_left_alone(own, rules, surfaces))
        return Scope(at_work, named, told, _work_of(trades, at_work))
    idle = [t for t in trades if t.work and ((found := best[t.name]) is None or found.how is How.RATE)]
    at_work = frozenset(t.name for t in trades if t not in idle)
    working = [t for t in trades if t.name in at_work]
    told = (
        *_left_out(idle, working, best, rules, named),
        *_left_alone(working, rules, surfaces),
        *_taken(working, best),
    )
    return Scope(at_work, named, told, _work_of(trades, at_work))


def _work_of(trades: Iterable[Worker], at_work: frozenset[str]) -> tuple[Work, ...]:
    """The work of those that do not work."""
    return tuple(work for t in trades if t.name not in at_work for work in t.work)


def _namings(
    work: Work, rules: Iterable[Rule], names: Iterable[Mapping[str, Span]], marks: Mapping[str, Span]
) -> Iterator[Naming]:
    for rule in rules:
        if rule.subject in work.goods and (how := _by_rule(rule, work)) is not None:
            yield Naming(rule.subject, how, rule.span)
    for found in names:
        yield from (Naming(goods, How.NAME, found[goods]) for goods in work.goods if goods in found)
    yield from (Naming(work.goods[0], How.JOB, span) for key, span in marks.items() if key in work.kinds)


def _by_rule(rule: Rule, work: Work) -> How | None:
    """How a rule names its goods as work; None where it does not."""
    nothing = not rule.choice and not rule.amount
    if rule.layer == DEFAULT or nothing or rule.kind.name == _REPLACED or rule.scope.get("room") == _ABROAD:
        return None
    if rule.layer == HOUSE:
        return How.HOUSE if rule.kind.name in work.house else How.RATE
    asks = not work.kinds or rule.kind.name in work.kinds
    if rule.layer.estimators:
        return How.JOB if asks or code_of(dict(rule.bound_by).get("subject", "")) != FoundBy.IMPLIED else None
    return How.SAID if asks else None


_REPLACED, _ABROAD = "replaced", "exterior"


def _best(found: Sequence[Naming]) -> Naming | None:
    return max(found, key=lambda one: one.how) if found else None


def _left_out(
    idle: Sequence[Worker],
    working: Sequence[Worker],
    best: Mapping[str, Naming | None],
    rules: Iterable[Rule],
    named: frozenset[str] | None,
) -> Iterator[Diagnostic]:
    """One line for all that nobody names, with the ways to order it."""
    missing = [(t, goods) for t in working for goods in t.only_named if named is not None and goods not in named]
    if not idle and not missing:
        return
    left = [f"{t.name} ({_and(t.work[0].goods[:_SHOWN])})" for t in idle]
    left += [goods for _, goods in missing]
    rated = [t.name for t in idle if best[t.name] is not None]
    only = f" House lines have rates for {_and(rated)}, and rates alone order nothing." if rated else ""
    ways = []
    if idle:
        names = [t.name for t in (*working, *idle)]
        ways.append(
            f"To order {'it' if len(idle) == 1 else 'them'}, list the trades in the job: trades = {_list(names)}."
        )
    for _, goods in missing:
        line = _usual_line(goods, rules)
        ways.append(f"To order {goods}, say so under rules in the job{f': “{line}”' if line else '.'}")
    yield problem(
        "left-out",
        f"Left out, since no document names {'it' if len(left) == 1 else 'them'}: {_and(left)}.{only}",
        severity=Severity.NOTE if working else Severity.WARNING,
        help=" ".join(ways),
    )


def _left_alone(
    working: Iterable[Worker], rules: Sequence[Rule], surfaces: Collection[tuple[str, str]]
) -> Iterator[Diagnostic]:
    """One line for each work with the kinds of surface that it leaves alone, and the way to have it there."""
    for work in (one for trade in working for one in trade.work if one.where_said):
        places = [plural(kind) for kind, part in sorted(unsaid_of([work], rules, surfaces)) if not part]
        if places:
            said = f"no document speaks of {_and(work.goods[:_SHOWN])} on {_and(places)}"
            lines = (_usual_line(goods, rules, f" on {place}") for place in places for goods in work.goods)
            ways = [f"“{line}”" for line in lines if line]
            way = f"To order it, say so under rules in the job{f': {_and(ways)}' if ways else '.'}"
            yield problem("left-out", f"Left out, since {said}.", severity=Severity.NOTE, help=way)


def _usual_line(goods: str, rules: Iterable[Rule], where: str = "") -> str:
    """The first default line of some goods, as a line of one's own; nothing where there is none."""
    usual = next((rule for rule in rules if rule.layer == DEFAULT and rule.subject == goods), None)
    line = usual.span.source.line_text(usual.span.line).partition("[")[0].strip() if usual is not None else ""
    return line.replace(":", f"{where}:", 1)


_SHOWN = 2
"""Goods by which a trade is told."""


def _left_out_by_list(left: Sequence[str], listed: Sequence[tuple[str, Span]]) -> Iterator[Diagnostic]:
    if left:
        message = f"Left out, since the job lists its trades: {_and(left)}."
        way = "To order one of them, add it to trades in the job."
        yield problem("left-out", message, listed[0][1] if listed else None, severity=Severity.NOTE, help=way)


def _taken(working: Sequence[Worker], best: Mapping[str, Naming | None]) -> Iterator[Diagnostic]:
    """What is ordered on a name alone, or on a line of the firm's own alone."""
    names = [t.name for t in working]
    for trade in working:
        found = best[trade.name]
        if found is None or found.how not in (How.NAME, How.HOUSE):
            continue
        why = (
            "a house line asks for it and no document does"
            if found.how is How.HOUSE
            else "it is named there, and no number is given"
        )
        rest = _list([name for name in names if name != trade.name])
        yield problem(
            "taken-in",
            f"The trade {trade.name} works for {found.goods}: {why}.",
            found.span,
            severity=Severity.NOTE,
            help=f"To leave it out, list the trades that work in the job: trades = {rest}.",
        )


def _unknown(
    listed: Iterable[tuple[str, Span]], trades: Sequence[Worker], away: Collection[str]
) -> Iterator[Diagnostic]:
    known = [t.name for t in trades]
    for name, span in listed:
        if name not in known:
            severity = Severity.WARNING if away else Severity.ERROR
            way = f"It may be of what is left out: {', '.join(away)}." if away else f"The trades are {_and(known)}."
            yield problem("trade-unknown", f"There is no trade “{name}” here.", span, severity=severity, help=way)


def _and(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _list(names: Sequence[str]) -> str:
    return "[" + ", ".join(f'"{name}"' for name in names) + "]"
