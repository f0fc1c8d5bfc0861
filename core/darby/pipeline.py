"""From a job, its documents and the plugins to an estimate. The whole run is `estimate`, read from top to bottom.

Results never depend on the order in which plugins were loaded: trades are taken by name, items are sorted.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from attrs import evolve

from darby.estimate.confirmations import confirmations
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.open_points import answers, assumptions, conflicts, questions, quoted
from darby.estimate.trade import Caution
from darby.job.model import Job, Surface
from darby.plugin_host.guarded_reader import Careful, Text
from darby.plugin_host.model import Plugins, Provided
from darby.plugin_host.trade_runner import Run, call_all
from darby.reading.addenda.addenda import amend
from darby.reading.document.mark_spelling import names_any
from darby.reading.read import Language, Reading, read
from darby.rules.own_lines import own_lines
from darby.rules.rule import DEFAULT, HOUSE, OVERRIDE, Kind, Layer, Rule
from darby.rules.systems import join_systems, told
from darby.text.diagnostics import Diagnostic, Severity, is_error, problem
from darby.text.spans import Source, Span, View

Read = Callable[..., Reading]


def estimate(
    job: Job,
    papers: Sequence[tuple[Source, Layer]],
    plugins: Plugins,
    language: Language | None = None,
    *,
    reader: Read = read,
    asking: bool = True,
) -> Estimate:
    """Work out what to order.

    `papers` are the documents in the order they are to be taken, each with its layer: house rules are read strictly,
    the specification and its addenda are not. Defaults of the trades and the job's own lines and marks, read strictly
    too, are added here. `language` is made of the plugins where it is not given. A default that was used gives an
    assumption and a question; a house rule gives an assumption only, since the firm has answered it. Without
    `asking` the items are worked out alone, and what they rest on and leave open is not: for many estimates in a row.
    """
    plain = language or Language.of(plugins.readers, plugins.vocabularies)
    named = plain.naming(surface.room for surface in job.surfaces)
    rooms = [("the job", words) for words in named.vocabularies if words not in plain.vocabularies]
    careful = Careful(named, reader, own=(*plugins.words, *rooms), guests=plugins.guests)
    trades = sorted(plugins.trades, key=lambda p: (p.trade.name, p.plugin))
    defaults = [(p, p.trade.defaults[job.units]) for p in trades if job.units in p.trade.defaults]
    texts = [Text(source, layer, {"strict": layer in (DEFAULT, HOUSE, OVERRIDE)}) for source, layer in papers]
    marks, found = _marks(trades)
    lines = list(_job_lines(job, marks))
    diagnostics = [*plugins.diagnostics, *found]
    careful.listen(
        [*texts, *lines, *(Text(s, DEFAULT, {"strict": True}, shared=False) for p, s in defaults if not p.own)]
    )
    readings: list[Reading] = []
    unreadable: set[str] = set()
    for provided, source in defaults:
        reading = (careful.plainly if provided.own else careful)(source, DEFAULT, strict=True)
        if is_error(reading.diagnostics):  # a fault of the plugin, not of the user's input
            unreadable.add(provided.trade.name)
            reading = evolve(reading, diagnostics=tuple(map(_softer, reading.diagnostics)))
        readings.append(reading)
    diagnostics += [
        _no_defaults(p, job.units) for p in trades if p.trade.defaults and job.units not in p.trade.defaults
    ]
    documents, elsewhere = _documents(texts, careful)
    documents, amended = amend(documents, careful.language)
    stated = [*documents, *(careful(text.source, text.layer, **text.how, **elsewhere) for text in lines)]
    away = (*plugins.away, *careful.missing, *sorted(unreadable))
    readings += [_forgiving(reading, away) for reading in stated] if away else stated
    diagnostics += [*careful.told, *amended]
    diagnostics += [d for reading in readings for d in reading.diagnostics]
    said = tuple(rule for reading in readings for rule in reading.rules)
    systems = join_systems(said)
    rules = (*said, *systems.rules)
    diagnostics += told(systems)

    runs = call_all(trades, job, rules, dict(defaults), unreadable)
    good, failed = [r for r in runs if not r.failure], [r for r in runs if r.failure]
    diagnostics += [_failure(run) for run in failed]
    items, twice = _distinct(good)
    diagnostics += twice
    missing = (
        *(run.provided.trade.name for run in failed),
        *(str(f) for f in plugins.failed if not f.missing.startswith("document")),
        *careful.missing,
    )
    if asking and not missing:  # a trade that is missing might have used them
        diagnostics += _unused(rules, runs)
    heard = good if asking else []
    asked, contradictions = answers(heard), conflicts(heard)

    def again(others: Sequence[Rule], some: Sequence[Run]) -> list[Run] | None:
        made = call_all([run.provided for run in some], job, others, dict(defaults))
        return None if any(run.failure for run in made) else made

    def own(line: str) -> Sequence[Rule]:
        source = Source("own line", line)
        reading = careful(source, OVERRIDE, strict=True, within=View.of(source))
        return () if is_error(reading.diagnostics) else reading.rules

    return Estimate(
        job,
        items,
        rules,
        assumptions(asked),
        questions(heard, asked, contradictions, _kinds(careful.language, rules)),
        _cautions(good),
        tuple(conflict for conflict, _ in contradictions),
        tuple(dict.fromkeys(diagnostics)),
        tuple((r.provided.trade.name, r.provided.plugin, r.provided.version) for r in good),
        missing,
        _numbers(documents, "unread"),
        _numbers(documents, "set aside"),
        tuple(papers),
        confirmations(rules, asked, heard, again, surfaces=len(job.surfaces), lines=lambda some: own_lines(some, own)),
    )


def _documents(texts: Sequence[Text], careful: Careful) -> tuple[list[Reading], dict[str, Mapping[str, str]]]:
    """The documents of a job, read; those that use marks which only another one defines are read again with these known. With what
    the reader is told so of marks, for what is read after them.
    """
    readings = [careful(text.source, text.layer, **text.how) for text in texts]
    known = {mark: of for reading in reversed(readings) for mark, of in reading.marks.items()}
    for n, text in enumerate(texts):
        others = {mark: of for mark, of in known.items() if mark not in readings[n].marks}
        if others and not text.how["strict"] and names_any(text.source.text, others):
            readings[n] = careful(text.source, text.layer, **text.how, elsewhere=others)
    return readings, {"elsewhere": known} if known else {}


def _numbers(documents: Iterable[Reading], became: str) -> tuple[tuple[Span, str], ...]:
    return tuple((n.span, n.why) for reading in documents for n in reading.numbers if n.became == became)


def _job_lines(job: Job, marks: Mapping[str, Sequence[str]]) -> Iterator[Text]:
    """The estimator's own lines and what the job says of single surfaces, read where they stand in the job file."""
    for text, span in job.rules:
        within = _part(span.source, text, span.start, span.end)
        yield Text(span.source, OVERRIDE, {"strict": True, "within": within})
    for surface in job.surfaces:
        for key, subject in ((k, s) for k, subjects in sorted(marks.items()) for s in subjects if s):
            if key in surface.marks:
                scope = {"name": surface.name, "surface": surface.kind}
                how = {"strict": True, "subject": subject, "scope": scope, "within": _mark(surface, key)}
                yield Text(surface.span.source, OVERRIDE, how)


def _marks(trades: Iterable[Provided]) -> tuple[dict[str, list[str]], list[Diagnostic]]:
    """The subjects that each key of a surface is read under; a key of Darby's own trades stays theirs."""
    marks: dict[str, list[str]] = {}
    owners: dict[str, Provided] = {}
    told: list[Diagnostic] = []
    for provided in sorted(trades, key=lambda p: (not p.own, p.plugin, p.trade.name)):
        for key, subject in sorted(provided.trade.marks.items()):
            owner = owners.setdefault(key, provided)
            if provided.own or owner.plugin == provided.plugin:
                marks.setdefault(key, []).append(subject)
            else:
                message = f"{owner.plugin} and {provided.plugin} both read the key {key} of a surface; it stays with {owner.plugin}."
                told.append(problem("mark-twice", message, severity=Severity.WARNING))
    return {key: sorted(set(subjects)) for key, subjects in marks.items()}, told


def _mark(surface: Surface, key: str) -> View:
    """The text of a mark, placed where the job says it stands, else where its key stands in the table of the surface."""
    text, place = surface.marks[key], surface.mark_places.get(key)
    if place is not None:
        return _part(place.source, text, place.start, max(place.end, place.start + 1))
    outer = surface.span.source
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


def _distinct(runs: Iterable[Run]) -> tuple[tuple[LineItem, ...], list[Diagnostic]]:
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


def _cautions(runs: Iterable[Run]) -> tuple[Caution, ...]:
    return tuple(dict.fromkeys(c for run in runs if run.items for c in run.provided.trade.cautions))


def _unused(rules: Iterable[Rule], runs: Iterable[Run]) -> Iterator[Diagnostic]:
    """Facts of the specification, the addenda and the job's own lines that no trade had a use for, each place once.

    What is said of several rooms together may be of use in one and not in another, which the job may call otherwise.
    """

    def said(rule: Rule) -> tuple[Span, str]:
        return rule.span, rule.scope.get("room", "")

    heard = [rule for run in runs for rule in run.consultation.heard]
    told = {said(rule) for rule in heard}
    joined = {span for rule in heard if rule.assigned is not None for span in (rule.span, rule.assigned)}
    for rule in rules:
        if rule.layer in (DEFAULT, HOUSE) or said(rule) in told or rule.assigned is not None:
            continue
        if rule.span in joined and ("mark" in rule.scope or rule.kind.assigns):
            continue
        told.add(said(rule))
        surface = f" on the {rule.scope['surface']}" if "surface" in rule.scope else ""
        surface += f" in the {rule.scope['room']}" if "room" in rule.scope else ""
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


def _forgiving(reading: Reading, away: Sequence[str]) -> Reading:
    """What is not understood, as a warning: it may be meant for a plugin that is away, and costs nobody else's lines."""
    found = [
        evolve(_softer(d), help=f"It may be for what is left out: {', '.join(away)}.")
        if d.code == "line-not-understood"
        else d
        for d in reading.diagnostics
    ]
    return evolve(reading, diagnostics=tuple(found))


def _softer(diagnostic: Diagnostic) -> Diagnostic:
    return evolve(diagnostic, severity=Severity.WARNING) if diagnostic.severity is Severity.ERROR else diagnostic


def _failure(run: Run) -> Diagnostic:
    name = run.provided.trade.name
    return problem(
        "trade-failed",
        f"The trade {name} of {run.who} {run.failure}. Its lines are missing; the other trades' lines stand.",
        severity=Severity.WARNING,
        help=f"Tell the author of {run.provided.plugin}, or run without it: --without {run.provided.plugin}.",
    )
