"""A line of the estimator's own, looked at before it is written into the job: what it would be read as."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from functools import lru_cache

from attrs import field, frozen

from darby.documents.words import one_line, told_rule
from darby.estimate.model import Estimate
from darby.job.model import Job
from darby.plugin_host.guarded_reader import Careful
from darby.plugin_host.job_lines import names_in
from darby.plugin_host.model import Plugins
from darby.quantities.plurals import plural
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.read import Language
from darby.rules.own_lines import own_lines
from darby.rules.rule import OVERRIDE, Rule
from darby.text.diagnostics import is_error
from darby.text.spans import Source, View

_LONGEST = 400
_PLAIN = re.compile(r"[^\W\d_][\w -]{2,40}")
"""A spelling that one types: a word or some, and no sign for something else."""

Looked = Callable[[str, Job | None], "Heard"]
"""Looks at a line, with the job for which it is meant."""


@frozen
class Heard:
    """What became of a line: what it says, in a phrase a rule, or why it is not understood."""

    says: tuple[str, ...] = ()
    wrong: str = ""
    rules: tuple[Rule, ...] = field(default=(), eq=False)


def listener(given: Callable[[], Plugins]) -> Looked:
    """How lines are looked at, with the words of the plugins that are given at the time: a job may bring some of its own."""
    known: list[tuple[Plugins, Language]] = []

    def heard(line: str, job: Job | None) -> Heard:
        text = one_line(line)
        if not text:
            return Heard(wrong="Nothing was typed.")
        if len(text) > _LONGEST:
            return Heard(wrong=f"A line has at most {_LONGEST} letters; this has {len(text)}.")
        plugins = given()
        if not known or known[0][0] is not plugins:
            known[:] = [(plugins, Language.of(plugins.readers, plugins.vocabularies))]
        language = known[0][1]
        if job is not None:
            language = language.naming(names_in(job), (m for s in job.surfaces for m in s.system_places))
        source = Source("your line", text)
        reading = Careful(language, own=plugins.words)(source, OVERRIDE, strict=True, within=View.of(source))
        if is_error(reading.diagnostics):
            first = next(d for d in reading.diagnostics if d.severity.value == "error")
            return Heard(wrong=one_line(f"{first.message} {first.help}"))
        if not reading.rules:
            return Heard(wrong="Nothing in it says what to order. Say it as a house line, as in “Walls: two coats.”")
        return Heard(tuple(dict.fromkeys(told_rule(rule) for rule in reading.rules)), rules=reading.rules)

    return heard


@lru_cache(2)
def words_for(plugins: Plugins) -> tuple[str, ...]:
    """The words by which a line of her own is completed: goods, surfaces, and what goods are chosen by, each as it is usually spelled."""
    chosen = {key for key, _ in Lexicon.of(plugins.vocabularies).choices}
    found: dict[str, None] = {}
    for vocabulary in plugins.vocabularies:
        for table in ("surface", "subject", *sorted(chosen)):
            for value, spellings in vocabulary.tables.get(table, {}).items():
                plain = (
                    [one for one in spellings if isinstance(one, str) and _PLAIN.fullmatch(one)]
                    if isinstance(spellings, list)
                    else []
                )
                if plain:
                    usual = value if value in plain else plain[0]
                    many = plural(usual)
                    found[many if table == "surface" and many in plain else usual] = None
    return tuple(found)


@lru_cache(2)
def choices(now: Estimate, look: Looked) -> tuple[tuple[str, ...], ...]:
    """For each conflict of an estimate the lines of her own that say what each clause says; nothing for one that no line says."""

    def made(line: str) -> tuple[Rule, ...]:
        return look(line, now.job).rules

    return tuple(tuple(" ".join(own_lines((rule,), made)) for rule in (c.used, *c.others)) for c in now.conflicts)


def today() -> str:
    """The date as a source gives it: `Nov 28, 2026`."""
    return f"{date.today():%b} {date.today().day}, {date.today().year}"
