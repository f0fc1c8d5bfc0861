"""From a job file to its estimate: the file, the plugins, the documents it names, then one call."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from attrs import evolve, frozen

from darby.cli.shared.options import chosen
from darby.cli.shared.showing import open_named

if TYPE_CHECKING:
    from darby.cli.shared.again import Again
    from darby.estimate.model import Estimate
    from darby.job.model import Job
    from darby.plugin_host.model import Plugins
    from darby.reading.cache import Memory
    from darby.rules.rule import Layer
    from darby.text.diagnostics import Diagnostic, Label
    from darby.text.files import Opened
    from darby.text.spans import Source, Span

DEMO = "demo"
_UNKNOWN = ("job-unknown-key", "job-unknown-table")


@frozen(eq=False)
class Wanted:
    """What a command was asked for: the job as it was named, and the choices made beside it."""

    job: str
    without: tuple[str, ...] = ()
    only: tuple[str, ...] = ()
    units: str | None = None
    run_plugins: bool = False
    anywhere: bool = False
    """Whether the job may name files outside of its folder."""
    memory: Memory | None = None
    """Reads the documents and remembers what is in them, for an estimate that is to be kept."""
    short: bool = False
    """Whether the job is called by the name of its file alone, as a page beside it does."""
    again: Again | None = None
    """What is known of it from the time before, where it is worked out again and again."""


@frozen(eq=False)
class Outcome:
    """An estimate, or None where the input is wrong; then `problems` say what and where."""

    estimate: Estimate | None
    problems: tuple[Diagnostic, ...]
    plugins: Plugins


def estimate_of(wanted: Wanted) -> Outcome:
    """Open all that the job needs and work it out. Every mistake of the input that can be found is told in one run."""
    from darby.cli.shared.again import Again
    from darby.job.loader import load
    from darby.job.marks import Marks
    from darby.pipeline import estimate
    from darby.plugin_host.model import Plugins
    from darby.text.beside import open_beside, outside
    from darby.text.diagnostics import Severity, is_error
    from darby.text.toml_places import source_of

    again = wanted.again or Again()
    again.begin()

    def opened_beside(name: str, at: Span, *, table: bool = True) -> Opened:
        return open_beside(folder, name, at, anywhere=wanted.anywhere, table=table, decoded=again.decoded)

    with _opened(wanted.job) as (folder, (source, opened)):
        if source is None:
            return Outcome(None, opened, Plugins())
        files = _plugin_files(source)
        stray = () if wanted.anywhere else tuple(filter(None, (outside(folder, name) for name in files)))
        run = tuple(folder / name for name in files) if wanted.run_plugins and not stray else ()
        plugins = again.plugins(wanted.without, chosen(wanted.only, (f.stem for f in run)), run)
        marks = plugins.marks
        short = source_of(Path(source.name).name, source.text)  # what is kept names no folder of this machine
        named = short if wanted.short or wanted.memory is not None else source
        job, found = load(named, marks, opened_beside)
        if job is None and (keys := _keys_of_others(found, plugins)):
            more = Marks.of(marks, sorted(keys))
            job, found = load(named, Marks(more, more.words, more.tables, keys, more.settings), opened_beside)
            found = (*keys.values(), *found)
        if files and not wanted.run_plugins:
            found = (_not_run(files, job), *found)
        found = (*(evolve(d, labels=_labels(d.file, job)) for d in stray), *found)
        if job is None or is_error(found):
            broken = (
                d for d in plugins.diagnostics if d.severity is Severity.WARNING
            )  # it may be why a word is not known
            return Outcome(None, (*opened, *found, *broken), plugins)
        papers, of_papers = _papers(job, partial(opened_beside, table=False))
        told = (*opened, *found, *of_papers)
        if is_error(told):
            return Outcome(None, told, plugins)
        reader = wanted.memory or again
        made = estimate(evolve(job, units=wanted.units or job.units), papers, plugins, reader=reader)
    silent = tuple(_silent(source) for source, layer in papers if _says_nothing(source, layer, made))
    made = evolve(made, diagnostics=(*told, *silent, *made.diagnostics))
    if is_error(made.diagnostics):
        return Outcome(None, made.diagnostics, plugins)
    return Outcome(made, (), plugins)


def _keys_of_others(found: tuple[Diagnostic, ...], plugins: Plugins) -> dict[str, Diagnostic]:
    """Unknown keys and tables of a job that may be read by plugins that are away, each with a warning instead of the error."""
    from darby.text.diagnostics import Severity

    help = f"It may be for what is left out: {', '.join(plugins.away)}."
    unknown = [d for d in found if d.code in _UNKNOWN and d.span is not None] if plugins.away else []
    return {
        _name_in(d.span.text): evolve(d, severity=Severity.WARNING, help=help) for d in unknown if d.span is not None
    }


def _name_in(key: str) -> str:
    """The name of a key or a table as it is written: of `[[decks]]` and `[settings.decks]` both `decks`."""
    return key.strip("[] \t").rpartition(".")[2].strip(" \t\"'")


@contextmanager
def demo_folder() -> Iterator[Path]:
    """The folder of the demo that comes with the program."""
    from importlib.resources import as_file, files

    with as_file(files("darby") / "demo") as folder:
        yield folder


@contextmanager
def _opened(name: str) -> Iterator[tuple[Path, tuple[Source | None, tuple[Diagnostic, ...]]]]:
    """The job file and the folder in which the files it names are looked up."""
    from darby.text.files import open_file

    if name == DEMO and not Path(name).exists():
        with demo_folder() as folder:
            yield folder, open_file(folder / "job.toml", "job.toml")
    elif Path(name).is_dir() and (Path(name) / "job.toml").is_file():
        yield Path(name), open_named(str(Path(name) / "job.toml"))
    else:
        yield Path() if name == "-" else Path(name).parent, open_named(name)


def _plugin_files(source: Source) -> tuple[str, ...]:
    """The plugin files a job names, which have to be loaded before the job can be read; mistakes are told later."""
    from darby.text.toml_places import loaded

    try:
        plugins = loaded(source.text).get("plugins")
    except (tomllib.TOMLDecodeError, RecursionError):
        return ()
    files = plugins.get("files", ()) if isinstance(plugins, dict) else ()
    files = [files] if isinstance(files, str) else files if isinstance(files, list) else []
    return tuple(f for f in files if isinstance(f, str) and "\0" not in f)


def _not_run(files: tuple[str, ...], job: Job | None) -> Diagnostic:
    from darby.text.diagnostics import problem

    place = job.plugin_files[0][1] if job is not None and job.plugin_files else None
    return problem(
        "job-plugins-not-run",
        f"the job wants to run {', '.join(files)}, and was not allowed to",
        place,
        help="A plugin file is a program. If you trust it, add --run-plugins.",
    )


def _labels(name: str, job: Job | None) -> tuple[Label, ...]:
    """The place where a job names a plugin file."""
    from darby.text.diagnostics import Label

    return tuple(Label(span) for said, span in (job.plugin_files if job is not None else ()) if said == name)[:1]


def _papers(job: Job, opened: Callable[[str, Span], Opened]) -> tuple[list[tuple[Source, Layer]], list[Diagnostic]]:
    """The documents a job names, each with its layer, and what is wrong with them."""
    from darby.job.schedules.answers import answers_in
    from darby.reading.addenda.addenda import addenda_numbers
    from darby.rules.rule import CLARIFICATION, HOUSE, SPECIFICATION, addendum

    named = job.documents
    wanted = [(HOUSE, *one) for one in named.house] + [(SPECIFICATION, *one) for one in named.specification]
    papers: list[tuple[Source, Layer]] = []
    told: list[Diagnostic] = []

    def beside(name: str, span: Span) -> Source | None:
        source, found = opened(name, span)
        told.extend(found)
        return source

    papers += [(source, layer) for layer, name, span in wanted if (source := beside(name, span)) is not None]
    addenda = [beside(*one) for one in named.addenda]
    numbers = addenda_numbers([source.text if source is not None else "" for source in addenda])
    papers += [(source, addendum(n)) for source, n in zip(addenda, numbers, strict=True) if source is not None]
    papers += [(answers_in(source), CLARIFICATION) for one in named.answers if (source := beside(*one)) is not None]
    return papers, told


def _says_nothing(source: Source, layer: Layer, made: Estimate) -> bool:
    from darby.rules.rule import CLARIFICATION, SPECIFICATION

    if layer == CLARIFICATION and not source.text.strip():
        return False  # nobody has answered yet
    spoke = any(d.code.startswith("amend") and d.span is not None and d.span.source is source for d in made.diagnostics)
    return layer >= SPECIFICATION and not spoke and not any(rule.span.source is source for rule in made.rules)


def _silent(source: Source) -> Diagnostic:
    from darby.text.diagnostics import Severity, problem

    return problem(
        "nothing-read",
        f"{source.name} says nothing that these trades could use",
        severity=Severity.WARNING,
        help=f"If it should, `darby read {source.name} --explain` shows what became of each of its numbers.",
        file=source.name,
    )
