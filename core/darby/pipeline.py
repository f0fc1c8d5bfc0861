"""From a job, its documents and the plugins to an estimate. The whole run is `estimate`, read from top to bottom.

Results never depend on the order in which plugins were loaded: trades are taken by name, items are sorted.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence

from attrs import evolve

from darby.documents.letters.own_questions import adrift
from darby.estimate.confirmations import confirmations
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.open_points import answers, assumptions, conflicts, questions
from darby.estimate.trade import Caution, ShownColumn
from darby.job.checks.all import checks_of
from darby.job.checks.roomless import said_alike
from darby.job.model import Job
from darby.plugin_host.declared.claims import claimed, kept
from darby.plugin_host.declared.settings import SETTING, settings
from darby.plugin_host.guarded_reader import Careful, Text, forgiving, softer
from darby.plugin_host.job_lines import given_by, idle_conditions, job_lines, marks_of, names_in, undefined
from darby.plugin_host.model import Plugins, Provided
from darby.plugin_host.shared_goods import shared, with_partners
from darby.plugin_host.trade_runner import Run, call_all
from darby.plugin_host.unused import unused
from darby.quantities.amounts import Amount
from darby.reading.addenda.addenda import amend
from darby.reading.addenda.alternates import silent, taken
from darby.reading.addenda.omissions import with_omissions
from darby.reading.addenda.wording.titles import parted, told_parts
from darby.reading.cache import read_once
from darby.reading.document.marks.mark_spelling import names_any
from darby.reading.read import Language, Reading
from darby.rules.own_lines import own_lines
from darby.rules.room_names import said_of_all, said_of_faces
from darby.rules.rule import DEFAULT, HOUSE, OVERRIDE, Kind, Layer, Rule
from darby.rules.scope_of_work import Scope, scope_of
from darby.rules.systems import join_systems, told
from darby.text.diagnostics import Diagnostic, Severity, is_error, problem
from darby.text.spans import Source, Span, View

Read = Callable[..., Reading]

STRICT = (DEFAULT, HOUSE, OVERRIDE)
"""Whose lines must be understood whole."""


def estimate(
    job: Job,
    papers: Sequence[tuple[Source, Layer]],
    plugins: Plugins,
    language: Language | None = None,
    *,
    reader: Read = read_once,
    asking: bool = True,
) -> Estimate:
    """Work out what to order.

    `papers` are the documents in the order they are to be taken, each with its layer: house rules are read strictly,
    the specification and its addenda are not. Defaults of the trades and the job's own lines and marks, read strictly
    too, are added here. `language` is made of the plugins where it is not given. A default that was used gives an
    assumption and a question; a house rule gives an assumption only, since the firm has answered it. Without
    `asking` the items are worked out alone, and what they rest on and leave open is not: for many estimates in a row.
    """
    plugins.wake()
    plain = language or Language.of(plugins.readers, plugins.vocabularies)
    named = plain.naming(names_in(job), (mark for surface in job.measured for mark in surface.system_places))
    rooms = [("the job", words) for words in named.vocabularies if words not in plain.vocabularies]
    careful = Careful(named, reader, own=(*plugins.words, *rooms), guests=plugins.guests)
    trades = sorted(plugins.trades, key=lambda p: (p.trade.name, p.plugin))
    defaults = [(p, p.trade.defaults[job.units]) for p in trades if job.units in p.trade.defaults]
    texts, parts = _texts(papers, named)
    marks, found = marks_of(trades)
    lines = list(job_lines(job, marks))
    put_in, unknown = taken(job.take, (source for source, layer in papers if layer not in STRICT), named)
    lines += [Text(one.view.source, one.layer, {"strict": False, "within": one.view}) for one in put_in]
    diagnostics = [*plugins.diagnostics, *found, *unknown, *parts]
    careful.listen(
        [*texts, *lines, *(Text(s, DEFAULT, {"strict": True}, shared=False) for p, s in defaults if not p.own)]
    )
    readings: list[Reading] = []
    unreadable: set[str] = set()
    for provided, source in defaults:
        reading = (careful.plainly if provided.own else careful)(source, DEFAULT, strict=True)
        if is_error(reading.diagnostics):  # a fault of the plugin, not of the user's input
            unreadable.add(provided.trade.name)
            reading = evolve(reading, diagnostics=tuple(map(softer, reading.diagnostics)))
        readings.append(reading)
    diagnostics += [
        _no_defaults(p, job.units) for p in trades if p.trade.defaults and job.units not in p.trade.defaults
    ]
    documents, elsewhere = _documents(texts, careful)
    documents, amended = amend(
        documents,
        careful.language,
        lambda reading, view: careful(reading.source, reading.layer, strict=False, within=view, **elsewhere),
    )
    stated = [*documents, *(careful(text.source, text.layer, **text.how, **elsewhere) for text in lines)]
    alternates = with_omissions(put_in, stated[len(stated) - len(put_in) :], careful.language) if put_in else []
    stated[len(stated) - len(put_in) :] = alternates
    diagnostics += silent(put_in, alternates)
    away = (*plugins.away, *careful.missing, *sorted(unreadable))
    readings += [forgiving(reading, away) for reading in stated] if away else stated
    diagnostics += [*careful.told, *amended, *adrift(job, papers), *(d for one in readings for d in one.diagnostics)]
    said = [rule for reading in readings for rule in reading.rules]
    said += given_by(job, said, careful.language.kinds.values())
    chosen, wrong = settings(job, trades, [(source, DEFAULT) for _, source in defaults], texts, lines)
    said, diagnostics = [*said, *chosen], [*diagnostics, *wrong]
    said = said_of_all(said, job.name, job.places)
    said = said_of_faces(said, job.places, {surface.room for surface in job.surfaces if surface.faced})
    for_all, alike = said_alike(job, said)
    said += for_all
    systems = join_systems(said)
    stated_rules = (*said, *systems.rules)
    diagnostics += [undefined(rule, job, said) for rule in systems.undefined]
    diagnostics += idle_conditions(job, said)
    diagnostics += told(systems)

    scope = _scope(trades, job, stated_rules, stated, papers, plugins)
    diagnostics += scope.told
    trades = [p for p in trades if scope.works(p.trade)]
    claims, runs = kept(
        claimed(stated_rules, trades, plugins, careful.language),
        lambda more: call_all(trades, job, (*stated_rules, *more), dict(defaults), unreadable, scope.named),
    )
    rules = (*stated_rules, *claims.rules)
    diagnostics += claims.told(runs)
    good, failed = [r for r in runs if not r.failure], [r for r in runs if r.failure]
    diagnostics += [_failure(run, plugins.away if run.provided.trade.name in unreadable else ()) for run in failed]
    good, refused = shared(good)
    items, twice = _distinct(good)
    diagnostics += [*(told for told, _ in refused), *twice]
    missing = (
        *(line for _, line in refused),
        *(run.provided.trade.name for run in failed),
        *(str(f) for f in plugins.failed if not f.missing.startswith("document")),
        *careful.missing,
    )
    left_out = {goods for work in scope.idle for goods in work.goods}
    if asking and not missing:  # a trade that is missing might have used them
        used = {id(rule) for rule in alike}
        diagnostics += unused([rule for rule in rules if id(rule) not in used], runs, left_out, job)
    heard = good if asking else []
    asked, contradictions = answers(heard), conflicts(heard)

    def again(others: Sequence[Rule], some: Sequence[Run]) -> list[Run] | None:
        made = call_all([run.provided for run in some], job, others, dict(defaults), named=scope.named)
        return None if any(run.failure for run in made) else shared(made)[0]

    def own(line: str) -> Sequence[Rule]:
        source = Source("own line", line)
        reading = careful(source, OVERRIDE, strict=True, within=View.of(source))
        return () if is_error(reading.diagnostics) else reading.rules

    return Estimate(
        job,
        items,
        rules,
        assumptions(asked, heard),
        questions(heard, asked, contradictions, _kinds(careful.language, rules)),
        _cautions(good),
        tuple(conflict for conflict, _ in contradictions),
        tuple(dict.fromkeys(diagnostics)),
        tuple((r.provided.trade.name, r.provided.plugin, r.provided.version) for r in good),
        missing,
        _numbers((*documents, *alternates), "unread"),
        _numbers(documents, "set aside"),
        tuple(papers),
        confirmations(
            rules,
            asked,
            heard,
            again,
            surfaces=len(job.surfaces),
            lines=lambda some: own_lines(some, own),
            together=lambda some: with_partners(some, good),
        ),
        _columns(trades, dict(defaults)),
        _checks(job, items, rules, left_out) if asking else (),
    )


def _texts(papers: Sequence[tuple[Source, Layer]], language: Language) -> tuple[list[Text], list[Diagnostic]]:
    """The documents, each to be read whole; of one of the specification that holds addenda the specification and each of these alone."""
    texts: list[Text] = []
    told: list[Diagnostic] = []
    for source, layer in papers:
        parts = parted(source, layer, language.known)
        told += told_parts(parts, source, layer)
        for of, view in parts:
            how = {"strict": layer in STRICT} | ({"within": view} if view is not None else {})
            texts.append(Text(source, of, how))
    return texts, told


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


def _scope(
    trades: Iterable[Provided], job: Job, rules: Sequence[Rule], stated: Iterable[Reading],
    papers: Iterable[tuple[Source, Layer]], plugins: Plugins,
) -> Scope:  # fmt: skip
    """What is in the scope of the job, by its documents and by what it says itself."""
    marks: dict[str, Span] = {}
    for surface in job.measured:
        for key in surface.marks:
            marks.setdefault(key, surface.mark_places.get(key, surface.span))
    names = [reading.named for reading in stated if reading.layer not in (DEFAULT, HOUSE)]
    documents = any(layer not in (DEFAULT, HOUSE) and source.text.strip() for source, layer in papers)
    own = [provided.trade for provided in trades]
    surfaces = dict.fromkeys((surface.kind, surface.part) for surface in job.surfaces)
    return scope_of(
        own, rules, names, marks, job.trades, documents=documents, away=plugins.away, surfaces=surfaces.keys()
    )


def _numbers(documents: Iterable[Reading], became: str) -> tuple[tuple[Span, str], ...]:
    return tuple((n.span, n.why) for reading in documents for n in reading.numbers if n.became == became)


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


def _checks(
    job: Job, items: Iterable[LineItem], rules: Iterable[Rule], left_out: Collection[str]
) -> tuple[Diagnostic, ...]:
    """What to look at in the measures; prices are held against all products that are ordered or spoken of."""
    rules = tuple(rules)
    packages: dict[str, list[Amount]] = {}
    for rule in rules:
        if rule.kind.name == "package":
            packages.setdefault(rule.subject, []).append(rule.amount)
    used = [rule for rule in rules if rule.subject not in left_out]
    return checks_of(job, {*(item.product for item in items), *(rule.subject for rule in rules)}, packages, used)


def _columns(trades: Iterable[Provided], defaults: Mapping[Provided, Source]) -> tuple[ShownColumn, ...]:
    """What trades show of each room, in the order that they ask for."""
    shown = [ShownColumn(p.trade.name, column, defaults.get(p)) for p in trades for column in p.trade.columns]
    return tuple(sorted(shown, key=lambda one: one.column.order))


def _kinds(language: Language, rules: Iterable[Rule]) -> dict[str, Kind]:
    kinds = {rule.kind.name: rule.kind for rule in rules}
    return {SETTING.name: SETTING, **language.kinds, **kinds}


def _cautions(runs: Iterable[Run]) -> tuple[Caution, ...]:
    return tuple(dict.fromkeys(c for run in runs if run.items for c in run.provided.trade.cautions))


def _no_defaults(provided: Provided, units: str) -> Diagnostic:
    name = provided.trade.name
    return problem(
        "no-defaults",
        f"The trade {name} of {provided.plugin} has no defaults for {units} units; what the documents leave open stays open.",
        severity=Severity.NOTE,
        help="State what it needs in a house file.",
    )


def _failure(run: Run, away: Sequence[str]) -> Diagnostic:
    """What is to be said of a trade that failed; `away` are the plugins without which its default lines may mean nothing."""
    name, plugin = run.provided.trade.name, run.provided.plugin
    if away:
        help = f"Its default lines may speak of what is left out: {', '.join(away)}. Take that in again, or add --without {plugin}."
    else:
        help = f"Tell the author of {plugin}, or run without it: --without {plugin}."
    return problem(
        "trade-failed",
        f"The trade {name} of {run.who} {run.failure}. Its lines are missing; the other trades' lines stand.",
        severity=Severity.WARNING,
        help=help,
    )
