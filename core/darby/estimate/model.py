"""The estimate: what all trades order together, what it rests on, and what is still open."""

from __future__ import annotations

from attrs import frozen

from darby.estimate.line_item import LineItem
from darby.estimate.trade import Caution, ShownColumn
from darby.job.model import Job
from darby.rules.answer import Answer, Conflict
from darby.rules.rule import Layer, Rule
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source, Span


@frozen(eq=False)
class Assumption:
    """Something no document of the job says and a default or house line supplied."""

    text: str
    answer: Answer
    where: str = ""
    """Where it was used: ` on the walls in Store`; nothing where that is everywhere that it is asked about."""


@frozen(eq=False)
class Question:
    """A sentence that can be sent to whoever can answer it: `specifier` or `supplier`; `estimator` asks oneself."""

    text: str
    to: str
    place: Span | None = None
    items: tuple[str, ...] = ()
    """Ids of the line items that the answer can move."""

    @property
    def ask(self) -> str:
        """What is asked, without what the documents say and what was assumed."""
        return self.text.partition(" The documents ")[0]


@frozen(eq=False)
class Shift:
    """One line to order, and what becomes of it where a reading does not hold; None where there is no such line."""

    now: LineItem | None
    then: LineItem | None


@frozen(eq=False)
class Confirmation:
    """A reading on weak evidence that the order rests on: somebody should look at it."""

    why: str
    """What speaks against it, in a sentence."""
    place: Span
    """The clause to look at."""
    rules: tuple[Rule, ...]
    """What was read there and used."""
    items: tuple[str, ...] = ()
    """Ids of the line items that hang on it."""
    without: tuple[Shift, ...] | None = None
    """The lines that an estimate without it orders otherwise; None where that was not worked out."""
    lines: tuple[str, ...] = ()
    """Plain lines that say the same: written under `rules` in the job file they hold, and nothing is to confirm."""


@frozen(eq=False)
class Estimate:
    """Everything one run produced. `complete` is False when a trade failed and its lines are missing."""

    job: Job
    """What was measured."""
    items: tuple[LineItem, ...]
    """What to order, trade by trade."""
    rules: tuple[Rule, ...] = ()
    """Every rule read for the job, whatever its layer, used or not."""
    assumptions: tuple[Assumption, ...] = ()
    """What no document says and a default or house line supplied."""
    questions: tuple[Question, ...] = ()
    """Sentences that can be sent to whoever can answer them."""
    cautions: tuple[Caution, ...] = ()
    """The dangers of the work, each once."""
    conflicts: tuple[Conflict, ...] = ()
    """Where documents of equal rank say different things, and what was used."""
    diagnostics: tuple[Diagnostic, ...] = ()
    """What is to be said of the input and of the plugins."""
    trades: tuple[tuple[str, str, str], ...] = ()
    """Trade name, plugin and version, for each trade that took part."""
    missing: tuple[str, ...] = ()
    """Trades whose lines are missing because they failed, and plugins that failed before they gave any."""
    unread: tuple[tuple[Span, str], ...] = ()
    """Numbers of the documents that could not be read, each with the reason, in the order of the documents."""
    set_aside: tuple[tuple[Span, str], ...] = ()
    """Numbers of the documents that order nothing, each with the reason, in the order of the documents."""
    papers: tuple[tuple[Source, Layer], ...] = ()
    """The documents in the order they were taken: house rules, specification, addenda; not the trades' own lines."""
    confirmations: tuple[Confirmation, ...] = ()
    """Readings on weak evidence that the order rests on, in the order of the documents."""

    columns: tuple[ShownColumn, ...] = ()
    """What the trades show of each room in the table of rooms."""
    checks: tuple[Diagnostic, ...] = ()
    """Measures that cannot be right, or seldom are, in the order of the job: to be looked at before the order is trusted."""

    @property
    def complete(self) -> bool:
        """Whether every trade gave its lines."""
        return not self.missing

    def item(self, name: str) -> LineItem | None:
        """The line item of an id, or None."""
        return next((i for i in self.items if i.id == name), None)
