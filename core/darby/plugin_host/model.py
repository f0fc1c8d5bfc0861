"""What plugins bring, and what of them is missing."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from attrs import frozen

from darby.estimate.document_format import Document
from darby.estimate.trade import Trade
from darby.job.marks import Marks
from darby.plugin_host.word_ownership import Guest, Owned
from darby.reading.parsing.fact_parser import Reader
from darby.reading.parsing.vocabulary import Vocabulary
from darby.text.diagnostics import Diagnostic


@frozen(eq=False)
class Provided:
    """A trade and the plugin that brought it."""

    trade: Trade
    plugin: str
    version: str
    own: bool = False
    """Whether it came with Darby itself; what did not lives in a process of its own."""


@frozen
class Failed:
    """A plugin that broke, and what of it is missing: `everything`, or the things one of its hooks gives."""

    plugin: str
    missing: str

    def __str__(self) -> str:
        return self.plugin if self.missing == "everything" else f"{self.plugin} ({self.missing})"


@frozen
class Taken:
    """A plugin as it was met: what it is, where it came from, and what became of it."""

    name: str
    version: str
    origin: str
    state: str
    """`works`, `works in part`, `failed` or `left out`."""
    brings: Mapping[str, tuple[str, ...]]
    """By hook, without its `darby_`, the names of what it gave."""
    milliseconds: int
    job: tuple[str, ...] = ()
    """What it lets a job file say in tables of its own, each in a line."""


@frozen(eq=False)
class Plugins:
    """All that the plugins bring, sorted by name, and what is to be said of them."""

    trades: tuple[Provided, ...] = ()
    readers: tuple[Reader, ...] = ()
    vocabularies: tuple[Vocabulary, ...] = ()
    documents: tuple[Document, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()
    failed: tuple[Failed, ...] = ()
    names: tuple[tuple[str, str], ...] = ()
    """Name and version of every plugin that was loaded."""
    guests: tuple[Guest, ...] = ()
    """What plugins that are not Darby's own bring to the reading of text; it is among readers and vocabularies too."""
    away: tuple[str, ...] = ()
    """Plugins that were left out or failed: a line that nobody understands may be theirs."""
    words: tuple[Owned, ...] = ()
    """Darby's own vocabularies as they are, each with its plugin; in `vocabularies` some words may have changed hands."""
    taken: tuple[Taken, ...] = ()
    """Every plugin that was found, those that were left out or failed too."""
    waking: tuple[Callable[[], None], ...] = ()
    """Start each of the plugins in processes of their own anew, where its process has ended."""

    def wake(self) -> None:
        """Start anew what has ended, for another estimate: what broke in one may do its work in the next."""
        for one in self.waking:
            one()

    @property
    def marks(self) -> Marks:
        """What trades let a job say: keys of a surface, with the kinds that each holds for where a room has it, none for all; and tables."""
        reached = {mark: kinds for p in self.trades for mark, kinds in p.trade.room_marks.items()}
        words: dict[str, dict[str, str]] = {}
        for provided in self.trades:
            for mark, known in provided.trade.mark_words.items():
                words.setdefault(mark, {}).update(known)
        names = sorted({m for p in self.trades for m in p.trade.marks})
        tables = {table.name: table for p in self.trades for table in p.trade.tables}
        settings = {p.trade.name: p.trade.settings for p in self.trades if p.trade.settings}
        return Marks({mark: tuple(reached.get(mark, ())) for mark in names}, words, tables, settings=settings)
