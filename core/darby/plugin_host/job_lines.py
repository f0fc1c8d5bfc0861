"""What a job file says in the language of documents: own lines, systems, marks of surfaces, and the names of its rooms."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from darby.job.marks import CONDITION
from darby.job.model import Job, Surface
from darby.plugin_host.guarded_reader import Text
from darby.plugin_host.model import Provided
from darby.quantities.amounts import Amount, Origin
from darby.quantities.units import NUMBER_ONLY
from darby.rules.rule import OVERRIDE, TRIED, Kind, Rule
from darby.rules.systems import GIVEN, plain_mark
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Source, Span, View

_LAST_NUMBER = re.compile(r"\s[0-9]{1,5}[A-Za-z]?$")


def names_in(job: Job) -> Iterator[str]:
    """Every name by which documents may speak of a place of the job. A bare number is a place only where it is called one."""
    for one in job.places:
        yield from (one.name, *one.also, *(n for n in one.wider if not n.isdigit()))
        if (alike := _LAST_NUMBER.sub("", one.name)) and alike != one.name:
            yield alike  # `Bindery walls` are those of Bindery 1 and Bindery 2
        if any(map(str.isalnum, one.number)):
            yield from (f"room {one.number}", f"rm {one.number}", f"rm. {one.number}")
            if not one.number.isdigit():
                yield one.number


def job_lines(job: Job, marks: Mapping[str, Sequence[str]]) -> Iterator[Text]:
    """The estimator's own lines, the systems that the job defines, and what the job says of single surfaces, read where they stand in the job file."""
    for layer, lines in ((OVERRIDE, job.rules), (TRIED, job.tried)):
        for text, span in lines:
            within = _part(span.source, text, span.start, span.end)
            yield Text(span.source, layer, {"strict": True, "within": within})
    for one in job.types:
        for text, span in one.lines:
            how = {
                "strict": True,
                "scope": {"mark": one.mark},
                "within": _part(span.source, text, span.start, span.end),
            }
            yield Text(span.source, OVERRIDE, how)
    for surface in job.measured:
        for key, subject in ((k, s) for k, subjects in sorted(marks.items()) for s in subjects if s):
            if key in surface.marks:
                scope = {"name": surface.name, "surface": surface.kind}
                how = {"strict": True, "subject": subject, "scope": scope, "within": _mark(surface, key)}
                yield Text(surface.span.source, OVERRIDE, how)


def marks_of(trades: Iterable[Provided]) -> tuple[dict[str, list[str]], list[Diagnostic]]:
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


def given_by(job: Job, rules: Iterable[Rule], kinds: Iterable[Kind]) -> list[Rule]:
    """The systems that the job gives to its surfaces, each once, as a document would give them."""
    given: dict[str, tuple[str, Span]] = {}
    for surface in job.measured:
        for mark, span in surface.system_places.items():
            given.setdefault(plain_mark(mark), (mark, span))
    subjects: dict[str, str] = {}
    for rule in rules if given else ():
        if "mark" in rule.scope:
            subjects.setdefault(plain_mark(rule.scope["mark"]), rule.subject)
    kind = next((kind for kind in kinds if kind.assigns), _SYSTEM)
    one = Amount.of(1, "each", Origin("system", "", None, "given by the job"))
    return [
        Rule(kind, subjects.get(key, ""), {GIVEN: mark}, one, OVERRIDE, span, choice=mark)
        for key, (mark, span) in given.items()
    ]


_SYSTEM = Kind("system", frozenset({NUMBER_ONLY}), assigns=True)
"""Where no reader knows of systems."""


def undefined(rule: Rule, job: Job, rules: Iterable[Rule]) -> Diagnostic:
    """A mark that is given to a place and nowhere defined."""
    place = " ".join(rule.scope[key] for key in ("room", "surface") if key in rule.scope)
    if GIVEN in rule.scope:
        place = next((s.name for s in job.measured if rule.choice in s.system_places), "")
    marks = list(dict.fromkeys(r.scope["mark"] for r in rules if "mark" in r.scope))
    near = difflib.get_close_matches(rule.choice[:40], marks[:_MOST], 1, 0.6)
    return problem(
        "system-undefined",
        f"{rule.choice} is given to {place or 'a place'}, and no document says what {rule.choice} is.",
        rule.span,
        severity=Severity.QUESTION,
        help=(f"Did you mean {near[0]}? Else add" if near else "Add")
        + f" the legend that defines {rule.choice} to the documents, or say it yourself: “{rule.choice}: two coats.”",
    )


_MOST = 1_000
"""Marks that one which is not defined is compared with."""


def idle_conditions(job: Job, rules: Iterable[Rule]) -> Iterator[Diagnostic]:
    """Conditions of surfaces that neither the core nor any rule has a use for, each once."""
    known = {"", "new", "existing", *(r.scope[key] for r in rules for key in ("where", CONDITION) if key in r.scope)}
    told: set[str] = set()
    for surface in job.measured:
        said = surface.marks.get(CONDITION, "")
        if said not in known and said not in told:
            told.add(said)
            yield problem(
                "condition-unused",
                f"No rule has a use for the condition “{said}” of {surface.name}: it counts as new.",
                surface.mark_places.get(CONDITION, surface.span),
                severity=Severity.WARNING,
                help='Write condition = "existing" for what was there before, or leave it out.',
            )
