"""From a job, its documents and the plugins to an estimate. The whole run is `estimate`, read from top to bottom.

Results never depend on the order in which plugins were loaded: trades are taken by name, items are sorted.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import islice
from typing import TypeVar

from attrs import evolve, frozen

from darby.amounts import Amount
from darby.diagnostics import Diagnostic, Severity, is_error, problem
from darby.estimate import Estimate
from darby.job import Job, Surface
from darby.line_items import LineItem
from darby.plugins import Plugins, Provided
from darby.questions import answers, assumptions, conflicts, questions, quoted
from darby.reading import Language, Reading, read
from darby.rulebook import Consultation, RuleBook
from darby.rules import DEFAULT, HOUSE, OVERRIDE, Kind, Layer, Rule
from darby.text import Source, Span, View
from darby.trades import Caution
from darby.units import NUMBER_ONLY
from darby.vetting import Careful, raised

Read = Callable[..., Reading]

MOST_ITEMS = 10_000
"""Line items that one trade may give; more are a trade that does not stop."""

_T = TypeVar("_T")


@frozen(eq=False)
class _Run:
    """What came of calling one trade."""

    provided: Provided
    items: tuple[LineItem, ...]
    consultation: Consultation
    failure: str = ""

    @property
    def who(self) -> str:
        return f"{self.provided.plugin} {self.provided.version}".rstrip()


def estimate(
    job: Job,
    papers: Sequence[tuple[Source, Layer]],
    plugins: Plugins,
    language: Language | None = None,
    *,
    reader: Read = read,
) -> Estimate:
    """Work out what to order.

    `papers` are the documents in the order they are to be taken, each with its layer: house rules are read strictly,
    the specification and its addenda are not. Defaults of the trades and the job's own lines and marks, read strictly
    too, are added here. `language` is made of the plugins where it is not given. A default that was used gives an
    assumption and a question; a house rule gives an assumption only, since the firm has answered it.
    """
    careful = Careful(language or Language.of(plugins.readers, plugins.vocabularies), reader)
    trades = sorted(plugins.trades, key=lambda p: (p.trade.name, p.plugin))
    diagnostics = list(plugins.diagnostics)
    readings: list[Reading] = []
    own: dict[str, Source] = {}
    unreadable: set[str] = set()
    for provided in trades:
        source = provided.trade.defaults.get(job.units)
        if source is not None:
            own[provided.trade.name] = source
            reading = careful(source, DEFAULT, strict=True)
            if is_error(reading.diagnostics):  # a fault of the plugin, not of the user's input
                unreadable.add(provided.trade.name)
                reading = evolve(reading, diagnostics=tuple(map(_softer, reading.diagnostics)))
            readings.append(reading)
        elif provided.trade.defaults:
            diagnostics.append(_no_defaults(provided, job.units))
    documents = [careful(source, layer, strict=layer in (DEFAULT, HOUSE, OVERRIDE)) for source, layer in papers]
    readings += documents
    readings += _job_lines(job, trades, careful)
    diagnostics += careful.told
    diagnostics += [d for reading in readings for d in reading.diagnostics]
    rules = tuple(rule for reading in readings for rule in reading.rules)

    runs = [
        _Run(p, (), Consultation(RuleBook(())), "has defaults that cannot be read")
        if p.trade.name in unreadable
        else _call(p, job, RuleBook(rules, own.get(p.trade.name)))
        for p in trades
    ]
    good, failed = [r for r in runs if not r.failure], [r for r in runs if r.failure]
    diagnostics += [_failure(run) for run in failed]
    items, twice = _distinct(good)
    diagnostics += twice
    missing = (
        *(run.provided.trade.name for run in failed),
        *(str(f) for f in plugins.failed if not f.missing.startswith("document")),
        *careful.missing,
    )
    if not missing:  # a trade that is missing might have used them
        diagnostics += _unused(rules, runs)
    asked = answers(good)
    return Estimate(
        job,
        items,
        rules,
        assumptions(asked),
        questions(good, asked, _kinds(careful.language, rules)),
        _cautions(good),
        tuple(conflict for conflict, _ in conflicts(good)),
        tuple(dict.fromkeys(diagnostics)),
        tuple((r.provided.trade.name, r.provided.plugin, r.provided.version) for r in good),
        missing,
        _numbers(documents, "unread"),
        _numbers(documents, "set aside"),
        tuple(papers),
    )


def _numbers(documents: Iterable[Reading], became: str) -> tuple[tuple[Span, str], ...]:
    return tuple((n.span, n.why) for reading in documents for n in reading.numbers if n.became == became)


def _job_lines(job: Job, trades: Iterable[Provided], careful: Careful) -> Iterator[Reading]:
    """The estimator's own lines and what the job says of single surfaces, read where they stand in the job file."""
    for text, span in job.rules:
        yield careful(span.source, OVERRIDE, strict=True, within=_part(span.source, text, span.start, span.end))
    marks = sorted({(key, subject) for p in trades for key, subject in p.trade.marks.items()})
    for surface in job.surfaces:
        for key, subject in marks:
            if key in surface.marks:
                scope = {"name": surface.name, "surface": surface.kind}
                source, within = surface.span.source, _mark(surface, key)
                yield careful(source, OVERRIDE, strict=True, subject=subject, scope=scope, within=within)


def _mark(surface: Surface, key: str) -> View:
    """The text of a mark, placed where its key stands in the table of the surface."""
    outer, text = surface.span.source, surface.marks[key]
    start = max(outer.text.rfind("\n[", 0, surface.span.start + 1), 0)
    end = outer.text.find("\n[", surface.span.start + 1)
    end = len(outer.text) if end < 0 else end
    at = re.compile(rf"(?:^|[,{{\s]){re.escape(key)}\s*=", re.MULTILINE).search(outer.text, start, end)
    return _part(outer, text, at.end() if at else surface.span.start, end)


def _part(source: Source, text: str, start: int, end: int) -> View:
    """What a source says as `text` between two offsets. Where it is spelled otherwise there, as with a mark escaped, all
    of the text stands for all of that stretch, up to the end of its line.
    """
    found = source.text.find(text, start, end)
    if found >= 0:
        return View.of(source).cut(found, found + len(text))
    stretch = View.of(source).cut(start, min(end, max(source.text.find("\n", start), start + 1)))
    return stretch.replace([(0, len(stretch), text)])


def _call(provided: Provided, job: Job, book: RuleBook) -> _Run:
    """Call one trade, alone. Whatever it does wrong is its failure, and costs its own lines only.

    This is the one place where a trade's code runs, and so where an allowance of time belongs.
    """
    consultation = Consultation(book)
    try:
        given = provided.trade.line_items(job, consultation)
        items = [_checked(item, provided.trade.name) for item in islice(given, MOST_ITEMS + 1)]
        if len(items) > MOST_ITEMS:
            raise _NonsenseError(f"gave more than {MOST_ITEMS} line items")
        ids = [item.id for item in items]
        again = next((i for i in ids if ids.count(i) > 1), None) if len(set(ids)) < len(ids) else None
        if again is not None:
            raise _NonsenseError(f"gave two line items called {again}: their pools have to tell them apart")
    except _NonsenseError as nonsense:
        return _Run(provided, (), consultation, str(nonsense))
    except (Exception, SystemExit) as error:
        return _Run(provided, (), consultation, f"raised {raised(error)}")
    return _Run(provided, tuple(items), consultation)


class _NonsenseError(Exception):
    """What a trade returned cannot stand in an estimate; the text says why."""


def _checked(item: object, trade: str) -> LineItem:
    """The item with its trade filled in. Raises _NonsenseError, or whatever looking at it raises."""
    if not isinstance(item, LineItem):
        raise _NonsenseError(f"gave a {type(item).__name__} where a LineItem is wanted")
    if not isinstance(item.product, str) or not item.product.strip():
        raise _NonsenseError("gave a line item without a product")
    named = f"the line item {item.product}"
    if not all(isinstance(part, str) for pair in item.pool.items() for part in pair):
        raise _NonsenseError(f"gave {named}, whose pool holds something other than text")
    if not all(isinstance(rule, Rule) for rule in item.rules) or not all(isinstance(n, str) for n in item.notes):
        raise _NonsenseError(f"gave {named}, whose rules or notes are none")
    if not _exact(item.need) or item.need.value < 0:
        raise _NonsenseError(f"gave {named}, whose need is no exact quantity of zero or more")
    if item.package is not None:
        if not _exact(item.package) or item.package.value <= 0:
            raise _NonsenseError(f"gave {named}, whose package holds no exact quantity above zero")
        order = item.order
        singly = item.need.unit.dimension == NUMBER_ONLY and not item.package.unit.dimension
        if order is None or not (singly or (item.container and order.unit.name == item.container)):
            raise _NonsenseError(f"gave {named}, whose need {item.need} does not go into packages of {item.package}")
    return evolve(item, trade=trade)


def _exact(amount: object) -> bool:
    return isinstance(amount, Amount) and isinstance(amount.value, Fraction | int)


def _distinct(runs: Iterable[_Run]) -> tuple[tuple[LineItem, ...], list[Diagnostic]]:
    """All items, sorted by trade, product and pool; of two with one id the first, and a warning."""
    found: dict[str, LineItem] = {}
    twice: list[Diagnostic] = []
    for run in runs:
        for item in run.items:
            if item.id in found:
                message = f"The trades {found[item.id].trade} and {item.trade} both order {item.id}; the first does."
                twice.append(problem("item-twice", message, severity=Severity.WARNING))
            else:
                found[item.id] = item
    return tuple(sorted(found.values(), key=lambda i: (i.trade, i.product, tuple(i.pool.items())))), twice


def _kinds(language: Language, rules: Iterable[Rule]) -> dict[str, Kind]:
    kinds = {rule.kind.name: rule.kind for rule in rules}
    return {kind.name: kind for reader in language.readers for kind in reader.kinds} | kinds


def _cautions(runs: Iterable[_Run]) -> tuple[Caution, ...]:
    return tuple(dict.fromkeys(c for run in runs if run.items for c in run.provided.trade.cautions))


def _unused(rules: Iterable[Rule], runs: Iterable[_Run]) -> Iterator[Diagnostic]:
    """Facts of the specification, the addenda and the job's own lines that no trade had a use for, each place once."""
    heard = {rule.span for run in runs for rule in run.consultation.heard}
    told = set(heard)
    for rule in rules:
        if rule.layer in (DEFAULT, HOUSE) or rule.span in told:
            continue
        told.add(rule.span)
        surface = f" on the {rule.scope['surface']}" if "surface" in rule.scope else ""
        yield problem(
            "rule-unused",
            f"No trade used {quoted(rule)}, which was read as {rule.kind.name} of {rule.subject}{surface}: {rule.says()}.",
            rule.span,
            severity=Severity.NOTE,
            help="Nothing to do if this job has none of it; else check how it is worded, or which trades are loaded.",
        )


def _no_defaults(provided: Provided, units: str) -> Diagnostic:
    name = provided.trade.name
    return problem(
        "no-defaults",
        f"The trade {name} of {provided.plugin} has no defaults for {units} units; what the documents leave open stays open.",
        severity=Severity.NOTE,
        help="State what it needs in a house file.",
    )


def _softer(diagnostic: Diagnostic) -> Diagnostic:
    return evolve(diagnostic, severity=Severity.WARNING) if diagnostic.severity is Severity.ERROR else diagnostic


def _failure(run: _Run) -> Diagnostic:
    name = run.provided.trade.name
    return problem(
        "trade-failed",
        f"The trade {name} of {run.who} {run.failure}. Its lines are missing; the other trades' lines stand.",
        severity=Severity.WARNING,
        help=f"Tell the author of {run.provided.plugin}, or run without it: --without {run.provided.plugin}.",
    )
