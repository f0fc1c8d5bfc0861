"""A saved estimate worked out again under today's rules and plugins, and what moved."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence

from attrs import define, evolve, field, frozen

from darby.estimate.model import Estimate
from darby.job.loader import kept_beside, load
from darby.job.marks import Marks
from darby.pipeline import estimate
from darby.plugin_host.model import Plugins
from darby.reading.cache import Memory, mark_of
from darby.reading.read import Language, Reading
from darby.rules.rule import HOUSE, Layer
from darby.saved.model import Choices, Saved
from darby.saved.writer import outline
from darby.text.diagnostics import Diagnostic, is_error
from darby.text.spans import Source


@frozen(eq=False)
class Worked:
    """What came of one run; `estimate` and `saved` are None where the input is wrong, and `problems` say what and where.

    `saved` has no longhand yet; `saving.with_longhand` adds it.
    """

    estimate: Estimate | None
    saved: Saved | None
    problems: tuple[Diagnostic, ...] = ()


@define(eq=False)
class Office:
    """Plugins and their language, made ready once for any number of estimates."""

    plugins: Plugins
    language: Language
    mark: str
    """Names the language; see `recall.mark_of`."""
    shelf: dict[Hashable, Reading] = field(factory=dict, repr=False)

    @classmethod
    def of(cls, plugins: Plugins) -> Office:
        """The office of some plugins."""
        language = Language.of(plugins.readers, plugins.vocabularies)
        return cls(plugins, language, mark_of(language))

    @property
    def marks(self) -> Marks:
        """The keys that trades let the job carry on a surface."""
        return self.plugins.marks

    def work(
        self, job: Source, papers: Sequence[tuple[Source, Layer]], choices: Choices | None = None,
        known: Mapping[int, Reading] | None = None, *, schedules: Sequence[Source] = (), briefly: bool = False,
    ) -> Worked:  # fmt: skip
        """The estimate of a job file's text and its documents. `known` are readings that still hold, by `id` of their source.

        `briefly` leaves out what is only asked and told: questions, assumptions, conflicts.
        """
        choices = choices or Choices()
        read, found = load(job, self.marks, kept_beside(schedules))
        if read is None or is_error(found):
            return Worked(None, None, found)
        memory = Memory(known or {}, self.shelf, language=self.language)
        units = choices.units or read.units
        made = estimate(
            evolve(read, units=units), papers, self.plugins, self.language, reader=memory, asking=not briefly
        )
        if is_error(made.diagnostics):
            return Worked(None, None, made.diagnostics)
        return Worked(made, self.kept(made, memory, choices), made.diagnostics)

    def kept(self, made: Estimate, memory: Memory, choices: Choices | None = None) -> Saved:
        """All of an estimate that is kept, but for its longhand. `memory` read for it."""
        defaults = {p.trade.name: p.trade.defaults.get(made.job.units) for p in self.plugins.trades}
        return outline(
            made,
            # rules are kept as addenda left them, so what was amended has to be read again
            language="" if made.missing or any(d.code == "amended" for d in made.diagnostics) else self.mark,
            readings=memory.readings,
            defaults={name: source for name, source in defaults.items() if source is not None},
            plugins=self.plugins.names,
            choices=choices,
        )

    def again(
        self, saved: Saved, house: Sequence[Source] | None = None, *, reread: bool = False, briefly: bool = False
    ) -> Worked:
        """A saved estimate worked out under today's plugins, and today's `house` files where they are given.

        Texts are read again unless everything that reads is as it was when the estimate was saved.
        """
        papers = [(p.source, p.layer) for p in saved.papers if house is None or p.layer != HOUSE]
        papers = [*((source, HOUSE) for source in house or ()), *papers]
        holds = bool(saved.language) and saved.language == self.mark and not reread
        known = {id(p.source): p.reading for p in saved.papers} if holds else {}
        return self.work(saved.job, papers, saved.choices, known, schedules=saved.schedules, briefly=briefly)
