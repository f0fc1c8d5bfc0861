"""A workbench: the plugins as they are installed, one trade under test, and jobs to try it on."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from pathlib import Path

from attrs import evolve, frozen

from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.trade import Trade
from darby.job.loader import load
from darby.job.model import Job
from darby.pipeline import estimate
from darby.plugin_host.declared.settings import in_lines, of_job, settings_of
from darby.plugin_host.discovery import Entry
from darby.plugin_host.guarded_reader import Careful
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Plugins, Provided
from darby.plugin_host.trade_runner import Run, book_for, call_all
from darby.reading.read import Language, Reading
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, SPECIFICATION, Layer, Rule
from darby.text.diagnostics import Severity
from darby.text.spans import Source, View

PLAIN = """
[[rooms]]
name = "store"
length = "12 ft 6 in"
width = "3.2 m"
height = "8 ft"

[[walls]]
name = "north wall"
length = "36'-4\\""
height = "9 ft"
faces = 2
room = "hall"

[[walls]]
name = "south wall"
area = "210 sq ft"
faces = 1

[[ceilings]]
name = "hall ceiling"
length = "36'-4\\""
width = "20'-8\\""

[[openings]]
name = "gate"
wall = "north wall"
width = "6 ft"
height = "7 ft"
count = 2

[[corners]]
kind = "inside"
count = 4
height = "9 ft"
"""
"""What is measured on an ordinary job, in both systems."""

HOSTILE = """
[[walls]]
name = "sliver"
length = "1/64 in"
height = "1/64 in"
faces = 1

[[walls]]
name = "the great wall"
length = "3000 m"
height = "7.3 m"
faces = 2

[[walls]]
name = "all opening"
length = "3 ft"
height = "7 ft"
faces = 1

[[openings]]
name = "hole"
wall = "all opening"
width = "3 ft"
height = "7 ft"
count = 1

[[ceilings]]
name = "ceiling; ‘“odd”’ \\u00e9\\u4e2d"
area = "0.000001 m2"

[[corners]]
kind = "inside"
count = 1
height = "1 mm"

[[corners]]
kind = "inside"
count = 1000000
height = "1/16 in"

[[corners]]
kind = "outside"
count = 3
height = "900 ft"
"""
"""What nobody builds and somebody will type."""


@frozen(eq=False, slots=False)
class Bench:
    """Plugins, the name of the trade under test, and a specification that makes it order something."""

    plugins: Plugins
    name: str
    specification: str = ""
    entries: tuple[Entry, ...] | None = None
    files: tuple[Path, ...] = ()

    @classmethod
    def of(
        cls,
        name: str,
        specification: str = "",
        *,
        entries: Iterable[Entry] | None = None,
        files: Iterable[Path] = (),
    ) -> Bench:
        """The bench for a trade of an installed plugin, of a plugin file, or of entry points given. Raises LookupError."""
        given = None if entries is None else tuple(entries)
        bench = cls(load_plugins(entries=given, files=files), name, specification, given, tuple(files))
        if bench.provided is None:
            told = "; ".join(d.message for d in bench.plugins.diagnostics) or "nothing else is known of it"
            known = ", ".join(p.trade.name for p in bench.plugins.trades)
            raise LookupError(f"there is no trade {name}; the trades are {known} ({told})")
        return bench

    @property
    def provided(self) -> Provided | None:
        """The trade under test and its plugin."""
        return next((p for p in self.plugins.trades if p.trade.name == self.name), None)

    @property
    def trade(self) -> Provided:
        """The same, which `of` has seen to be there."""
        assert self.provided is not None
        return self.provided

    @cached_property
    def careful(self) -> Careful:
        """A reader with the words of all plugins."""
        careful = Careful(self.language, own=self.plugins.words, guests=self.plugins.guests)
        careful.listen(())
        return careful

    @cached_property
    def language(self) -> Language:
        """The language of all plugins."""
        return Language.of(self.plugins.readers, self.plugins.vocabularies)

    def read(self, text: str, layer: Layer = SPECIFICATION, *, strict: bool = False, name: str = "text") -> Reading:
        """What a text says."""
        return self.careful(Source(name, text), layer, strict=strict)

    def job(self, measured: str = PLAIN, units: str = "us") -> Job:
        """A job from the tables of a job file. Raises ValueError with every mistake of it."""
        text = measured if "\nunits =" in f"\n{measured}" else f'units = "{units}"\n{measured}'
        text = text if "\nname =" in f"\n{text.partition('[')[0]}" else f'name = "bench"\n{text}'
        job, found = load(Source("job.toml", text), self.plugins.marks)
        wrong = [d.message for d in found if d.severity is Severity.ERROR]
        if job is None or wrong:
            raise ValueError("; ".join(wrong))
        return job

    def estimate(self, job: Job, specification: str | None = None, *, without: bool = False) -> Estimate:
        """The estimate of a job; `without` the lines of the trade under test, all else as it was."""
        text = self.specification if specification is None else specification
        papers = [(Source("specification", text), SPECIFICATION)] if text.strip() else []
        trades = self.plugins.trades
        if without and self.trade.own:  # Darby's own trades go by each other's default lines, which stay
            trades = tuple(_silent(p) if p.trade.name == self.name else p for p in trades)
        elif without:
            trades = tuple(p for p in trades if p.trade.name != self.name)
        return estimate(job, papers, evolve(self.plugins, trades=trades), self.language)

    def claiming_nothing(self) -> Bench:
        """The same, with the trade under test claiming no surface."""
        trades = (
            evolve(p, trade=evolve(p.trade, claims=())) if p.trade.name == self.name else p for p in self.plugins.trades
        )
        return evolve(self, plugins=evolve(self.plugins, trades=tuple(trades))) if self.trade.trade.claims else self

    def call(self, job: Job) -> Run:
        """What the trade alone gives for a job, called as in an estimate, and its lines checked."""
        return call_all([self.trade], job, self._rules(job), self._defaults(job))[0]

    def line_items(self, job: Job) -> list[LineItem]:
        """The trade's own function called here and now, in this process, unchecked, with the rule book it has in an estimate."""
        book = Consultation(book_for(self.trade, RuleBook(self._rules(job)), self._defaults(job)))
        return list(self._here.line_items(job, book))

    @cached_property
    def _here(self) -> Trade:
        """The trade as its author wrote it, and not what stands for it: for debuggers and for measuring what tests run through."""
        found = load_plugins(entries=self.entries, files=self.files, here=True).trades
        return next(p.trade for p in found if p.trade.name == self.name)

    def _defaults(self, job: Job) -> dict[Provided, Source]:
        return {p: p.trade.defaults[job.units] for p in self.plugins.trades if job.units in p.trade.defaults}

    def _rules(self, job: Job) -> list[Rule]:
        """What the default lines and the specification say; read once for each system of units."""
        if job.units not in self._read:
            texts = [(source, DEFAULT) for source in self._defaults(job).values()]
            texts.append((Source("specification", self.specification), SPECIFICATION))
            readings = [self.careful(source, layer, strict=layer == DEFAULT) for source, layer in texts]
            self._read[job.units] = [rule for reading in readings for rule in reading.rules]
            self._read[job.units] += [rule for source in self._defaults(job).values() for rule in self.set_in(source)]
        return [*self._read[job.units], *of_job(job)]

    def set_in(self, source: Source) -> list[Rule]:
        """What default lines set of trades."""
        return in_lines(View.of(source), DEFAULT, settings_of(p.trade for p in self.plugins.trades))[0]

    @cached_property
    def _read(self) -> dict[str, list[Rule]]:
        return {}


def _silent(provided: Provided) -> Provided:
    return evolve(provided, trade=evolve(provided.trade, line_items=lambda job, book: ()))  # noqa: ARG005
